/// steadyfire: answers before pipe is cut.

#include <iostream>
#include <new>
#include <system_error>

#include "tools/cli/command.hpp"
#include "tools/cli/command_line.hpp"

using namespace steadyfire;

int main(int argc, char** argv) try {
  int const code = cli::run_command_line(argc, argv);
  cli::flush_whole(std::cout, "standard output");
  return code;
} catch (BadInput const& e) {
  std::cerr << e.what();
  return cli::bad_input;
} catch (Stopped const& e) {
  std::cerr << e.what() << '\n';
  return cli::stopped;
} catch (std::system_error const& e) {
  std::cerr << "error: cannot write " << e.what() << '\n';
  return cli::machine_fault;
} catch (InternalError const& e) {
  std::cerr << "error: program fault, not your file: " << e.what() << '\n';
  return cli::machine_fault;
} catch (std::bad_alloc const&) {
  std::cerr << "error: not enough memory\n";
  return cli::machine_fault;
}

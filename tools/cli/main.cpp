/// steadyfire: answers before pipe is cut.

#include <cerrno>
#include <csignal>
#include <iostream>
#include <new>
#include <system_error>

#include "tools/cli/command.hpp"
#include "tools/cli/command_line.hpp"
#include "tools/cli/printable.hpp"

using namespace steadyfire;

namespace {

/// The exit code of a command, with its errors told.
int run(int argc, char** argv) try {
  int const code = cli::run_command_line(argc, argv);
  flush_whole(std::cout, "standard output");
  return code;
} catch (BadInput const& e) {
  std::cerr << e.what();
  return cli::bad_input;
} catch (Stopped const& e) {
  std::cerr << e.what() << '\n';
  return cli::stopped;
} catch (std::system_error const& e) {
  if (e.code() == std::errc::broken_pipe) {  // whoever read it has gone, as `head` does: no fault to tell
    std::signal(SIGPIPE, SIG_DFL);
    std::raise(SIGPIPE);
  }
  std::cerr << "error: cannot write " << e.what() << '\n';
  return cli::machine_fault;
} catch (InternalError const& e) {
  std::cerr << "error: program fault, not your file: " << e.what() << '\n';
  return cli::machine_fault;
} catch (std::bad_alloc const&) {
  std::cerr << "error: not enough memory\n";
  return cli::machine_fault;
}

}  // namespace

int main(int argc, char** argv) {
  // A limit on file sizes is then told as a full disk is, and who stops reading costs no file that is still to be written.
  std::signal(SIGXFSZ, SIG_IGN), std::signal(SIGPIPE, SIG_IGN);
  cli::PrintableOnly const said{std::cout}, told{std::cerr};
  return run(argc, argv);
}

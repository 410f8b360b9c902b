#include <fmt/format.h>

#include <csignal>
#include <iostream>
#include <thread>

#include "tools/cli/running.hpp"
#include "tools/web/server.hpp"

namespace steadyfire::cli {

int serve(std::string const& what, ServeOptions const& options) {
  web::Folder folder{what};
  // Blocked before any thread begins: one of them alone waits for the end.
  sigset_t ends;
  sigemptyset(&ends);
  for (int signal : {SIGINT, SIGTERM, SIGHUP})
    if (signal != SIGHUP || is_heard(signal)) sigaddset(&ends, signal);
  pthread_sigmask(SIG_BLOCK, &ends, nullptr);

  web::ServerOptions o;
  o.address = options.address, o.port = options.port, o.runs = options.jobs;
  web::Server server{folder, o};
  if (!server.is_loopback())
    std::cerr << fmt::format("warning: anyone who can reach {} can read and change the scenarios in {}; there is no password\n",
                             server.address(), folder.root().string());
  std::cout << fmt::format("{} is open at {}  Ctrl-C stops it.", folder.opened().empty() ? folder.root().string() : what, server.address())
            << std::endl;

  std::thread until_asked{[&] {
    int signal;
    sigwait(&ends, &signal);
    server.stop();
  }};
  server.serve();
  pthread_kill(until_asked.native_handle(), SIGTERM);  // where it ended by itself
  until_asked.join();
  return done;
}

}  // namespace steadyfire::cli

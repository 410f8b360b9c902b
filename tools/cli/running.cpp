#include "tools/cli/running.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <csignal>

namespace steadyfire::cli {

namespace {
volatile std::sig_atomic_t asked_to_stop = 0;  // the signal
}

Progress::Progress() : shown_{bool(isatty(STDERR_FILENO))} {}

Progress::~Progress() {
  if (wrote_) fmt::print(stderr, "\r{:30}\r", "");
}

void Progress::operator()(double share) {
  double const spent = std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
  if (!shown_ || spent < 1 || share <= 0) return;
  fmt::print(stderr, "\r{:3.0f}%, {:.0f} s left ", 100 * share, spent / share - spent);
  std::fflush(stderr);
  wrote_ = true;
}

BadInput as_usage(BadAddress const& e, std::string const& option) {
  auto words = fmt::format("error: {}: {}\n", option, e.what());
  if (!e.expected.empty()) words += "  expected  " + e.expected + "\n";
  if (!e.hint.empty()) words += "  hint      " + e.hint + "\n";
  return BadInput(words);
}

void listen_for_interrupt() {
  for (int const signal : {SIGINT, SIGTERM, SIGHUP})
    if (signal != SIGHUP || is_heard(signal)) std::signal(signal, [](int number) { asked_to_stop = number; });
}
bool is_heard(int signal) {
  struct sigaction now{};
  return ::sigaction(signal, nullptr, &now) == 0 && now.sa_handler != SIG_IGN;
}
bool was_interrupted() { return asked_to_stop != 0; }
int exit_by_signal() { return 128 + int(asked_to_stop); }

JobWatch watch_of_terminal() {
  return [] {
    auto const bar = std::make_shared<Progress>();
    return RunWatch{[bar](double share) { (*bar)(share); }, was_interrupted};
  };
}

}  // namespace steadyfire::cli

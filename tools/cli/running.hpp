#pragma once
/// What commands share that run a house through time.

#include <chrono>

#include "tools/cli/command.hpp"
#include "tools/job/job_at_hand.hpp"
#include "tools/study/turn.hpp"

namespace steadyfire::cli {

/// A bar with the time left on stderr, once a run takes over a second; none where stderr is no terminal.
class Progress {
 public:
  Progress();
  ~Progress();
  void operator()(double share);

 private:
  bool const shown_;
  bool wrote_ = false;
  std::chrono::steady_clock::time_point const began_ = std::chrono::steady_clock::now();
};

/// An address that an option names wrongly.
BadInput as_usage(BadAddress const&, std::string const& option);

/// From then on Ctrl-C, SIGTERM and SIGHUP are remembered, and end nothing by themselves; a SIGHUP that whoever started the program
/// does not want to be heard (nohup) stays unheard.
void listen_for_interrupt();
bool was_interrupted();
/// Whether whoever started the program wants a signal to be heard.
bool is_heard(int signal);
/// As a shell tells it: 128 and the signal, so 130 after Ctrl-C.
int exit_by_signal();

/// Runs are watched by a bar of their own, and ended by what `listen_for_interrupt` hears.
JobWatch watch_of_terminal();

}  // namespace steadyfire::cli

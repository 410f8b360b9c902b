#pragma once
/// Long asks: some are answered at once, a short line waits, and more are refused.

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "tools/web/engine.hpp"

namespace steadyfire::web {

/// JSON text of an answer; bytes that are no UTF-8 become replacement characters.
std::string to_text(Json const&);

/// The words of an exception of an ask, and the status that HTTP has for it: {"error", "hint", "status"}.
/// To be called in its catch block.
Json explain_failure();

/// One long answer while it is made: a worker tells, whoever asked hears.
class LongAnswer {
 public:
  struct News {
    std::string event;  ///< part, answer, failed
    std::string data;   ///< JSON
    bool is_last() const { return event != "part"; }
  };

  /// The next news; none after `patience`. A part nobody fetched gives way to the next, as each holds all so far.
  std::optional<News> wait(std::chrono::milliseconds patience);

  /// Nobody hears any more: the work ends soon, or is not begun.
  void stop() { stopped_ = true; }
  bool is_stopped() const { return stopped_; }

 private:
  friend class RunQueue;
  void tell(News);

  std::mutex mutex_;
  std::condition_variable told_;
  std::optional<News> part_, last_;
  std::atomic<bool> stopped_ = false;
  std::function<Json(Listener const&)> work_;
};

class RunQueue {
 public:
  /// `limit` is how long one answer may take: then it fails.
  RunQueue(unsigned at_once, unsigned waiting, std::chrono::milliseconds limit);
  /// Stops all, and waits until they have ended.
  ~RunQueue();
  RunQueue(RunQueue const&) = delete;

  /// Null where the line is full. `work` may throw what an Ask throws.
  std::shared_ptr<LongAnswer> start(std::function<Json(Listener const&)> work);

 private:
  void serve();
  void make(LongAnswer&) const;

  unsigned const waiting_;
  std::chrono::milliseconds const limit_;
  std::atomic<bool> closing_ = false;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<std::shared_ptr<LongAnswer>> line_;
  unsigned idle_ = 0;
  std::vector<std::thread> workers_;
};

}  // namespace steadyfire::web

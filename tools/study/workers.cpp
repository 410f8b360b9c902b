#include "tools/study/workers.hpp"

#include <chrono>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>

#include "tools/study/spread.hpp"

namespace steadyfire {

void ThreadWorkers::run(std::span<std::size_t const> points, std::function<Outcome(std::size_t)> const& work,
                        std::function<void(Worked&&)> const& keep, std::function<bool()> const& stop) {
  std::mutex mutex;
  std::condition_variable told;
  std::deque<Worked> ended;
  std::exception_ptr failure;
  bool all_ended = false, give_up = false;
  auto const stops = [&] {
    std::scoped_lock const lock{mutex};
    return give_up || (stop && stop());
  };
  std::jthread const crew{[&] {
    std::exception_ptr theirs;
    try {
      spread(
          points.size(), jobs_,
          [&](std::size_t i) {
            auto const began = std::chrono::steady_clock::now();
            Worked one{points[i], work(points[i])};
            if (stops()) return;  // it may have been ended midway
            one.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
            std::scoped_lock const lock{mutex};
            ended.push_back(std::move(one));
            told.notify_one();
          },
          stops);
    } catch (...) { theirs = std::current_exception(); }
    std::scoped_lock const lock{mutex};
    failure = theirs, all_ended = true;
    told.notify_one();
  }};
  for (std::unique_lock lock{mutex};;) {
    told.wait(lock, [&] { return !ended.empty() || all_ended; });
    if (ended.empty()) break;
    auto one = std::move(ended.front());
    ended.pop_front();
    lock.unlock();
    try {
      keep(std::move(one));
    } catch (...) {
      lock.lock();
      give_up = true, told.wait(lock, [&] { return all_ended; });
      throw;
    }
    lock.lock();
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace steadyfire

#include "tools/study/spread.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace steadyfire {

void spread(std::size_t count, unsigned jobs, std::function<void(std::size_t)> const& work, std::function<bool()> const& stop) {
  if (jobs == 0) jobs = std::max(1U, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next{0};
  std::mutex first_only;
  std::exception_ptr failure;
  auto const go = [&] {
    try {
      for (std::size_t i; !(stop && stop()) && (i = next++) < count;) work(i);
    } catch (...) {
      std::scoped_lock const lock{first_only};
      if (!failure) failure = std::current_exception();
      next = count;
    }
  };
  std::vector<std::jthread> others;
  for (std::size_t k = 1; k < std::min<std::size_t>(jobs, count); ++k) others.emplace_back(go);
  go();
  others.clear();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace steadyfire

#pragma once
/// Work shared out among threads.

#include <cstddef>
#include <functional>

namespace steadyfire {

/// Does work(0) … work(count − 1), each once, the next free one by whichever of `jobs` threads is free; 0 is one for each processor.
///
/// Shape   which thread does what must change nothing in the results: keep them by number.
/// Errors  the first exception is thrown again when all threads have ended their present work; `stop` ends it early.
void spread(std::size_t count, unsigned jobs, std::function<void(std::size_t)> const& work, std::function<bool()> const& stop = {});

}  // namespace steadyfire

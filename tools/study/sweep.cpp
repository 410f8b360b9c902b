#include "tools/study/sweep.hpp"

namespace steadyfire {

std::function<Outcome(std::size_t)> work_of(Study const& study, Points const& points, std::function<bool()> const& stop) {
  return [&study, &points, stop](std::size_t number) {
    return study.base->run(study.parameters, points.at(number), study.figures, study.precision, stop);
  };
}

void sweep(Study const& study, Points const& points, Store& store, Workers& workers, std::function<void(double)> const& progress,
           std::function<bool()> const& stop) {
  auto const missing = store.missing();
  std::size_t ended = 0;
  workers.run(
      missing, work_of(study, points, stop),
      [&](Worked&& one) {
        store.keep(one, points.at(one.number));
        if (progress) progress(double(++ended) / double(missing.size()));
      },
      stop);
  store.commit();
}

}  // namespace steadyfire

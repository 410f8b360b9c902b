#include <fmt/format.h>

#include <csignal>
#include <filesystem>
#include <iostream>
#include <optional>

#include "plots/study_report.hpp"
#include "sim/record/json_parts.hpp"
#include "sim/record/study_json.hpp"
#include "tools/cli/running.hpp"
#include "tools/study/ranks.hpp"
#include "tools/study/study_result.hpp"
#include "tools/study/sweep.hpp"

namespace steadyfire::cli {
namespace {

/// What `make` gives; where it throws on one rank, all of them end.
/// Errors  what it throws; BadInput on the ranks on which it went well.
template <class F>
auto agreed(Ranks const* ranks, F const& make, std::function<std::string(decltype(make()) const&)> const& as_text) {
  if (!ranks) return make();
  std::optional<decltype(make())> made;
  std::exception_ptr failure;
  std::string what, why_not;
  try {
    made.emplace(make());
    what = as_text(*made);
  } catch (std::exception const& e) {
    failure = std::current_exception();
    why_not = *e.what() ? e.what() : "error";
  }
  try {
    ranks->agree(what, why_not);
  } catch (BadInput const&) {
    if (!failure) throw;
  }
  if (failure) std::rethrow_exception(failure);
  return std::move(*made);
}

}  // namespace

int sweep(Outputs& outputs, SweepOptions const& options) {
  auto const units = options.units == "si" ? UnitSystem::si : UnitSystem::us;
  std::optional<Ranks> ranks;
  if (Ranks::was_started_by_mpi()) ranks.emplace(options.patience);
  auto const* all = ranks ? &*ranks : nullptr;
  auto const study = agreed(all, [&] { return read_study(options.study, units); }, [](Study const&) { return STEADYFIRE_VERSION; });
  auto const points = agreed(all, [&] { return study.points(); }, [&](Points const& p) { return fingerprint_of(study, p); });
  std::filesystem::path const file{options.store};
  bool const keeps = !ranks || ranks->rank() == 0;
  auto const kept = agreed(all,
                           [&] {
                             if (keeps) outputs.begin();
                             return keeps ? std::make_unique<Store>(file, study, points, options.afresh) : nullptr;
                           },
                           [](auto const&) { return "ready"; });
  if (!keeps) {
    ranks->serve(work_of(study, points));
    return done;
  }
  auto& store = *kept;
  if (!store.put_aside().empty()) std::cerr << "the old store " << file.string() << " is now " << store.put_aside() << '\n';

  listen_for_interrupt();
  {
    Progress progress;
    ThreadWorkers threads{options.jobs};
    steadyfire::sweep(study, points, store, ranks ? static_cast<Workers&>(*ranks) : threads, std::ref(progress), was_interrupted);
    ranks.reset();
  }
  bool const is_silent = options.quiet || outputs.to_standard_output();
  if (was_interrupted()) {
    if (!is_silent)
      std::cout << fmt::format("{} of {} points done, kept in {}. Run the same command to continue.\n", store.count(), points.size(),
                               file.string());
    return exit_by_signal();
  }
  bool const is_told = !is_silent || !options.json.empty() || !options.report.empty();
  auto const record = is_told ? std::optional{result_of(study, points, store, units)} : std::nullopt;
  if (!is_silent) std::cout << words_of(*record, units) << "\npoints: " << file.string() << "\n\n" << record->cautions.at(0) << '\n';
  if (!options.csv.empty()) write_points(outputs.stream(options.csv), study, points, store, units);
  outputs.write(options.json, [&] { return json_text(study_to_json(*record)); });
  outputs.write(options.report, [&] { return make_study_report(*record, units); });
  outputs.commit();
  return done;
}

}  // namespace steadyfire::cli

#include <fmt/format.h>

#include <filesystem>
#include <iostream>

#include "plots/front_report.hpp"
#include "sim/core/files.hpp"
#include "sim/record/json_parts.hpp"
#include "tools/cli/running.hpp"
#include "tools/cli/tune_words.hpp"

namespace steadyfire::cli {
namespace {

std::string long_words(double seconds) {
  return seconds < 90     ? fmt::format("{:.0f} s", seconds)
         : seconds < 5400 ? fmt::format("{:.0f} min", seconds / 60)
                          : fmt::format("{:.1f} h", seconds / 3600);
}

}  // namespace

int tune(Outputs& outputs, Common const& common, TuneAsked const& asked) {
  Case const own{common.scenario, read_text(common.scenario), {}, common.system()};
  std::vector<Dial> dials;
  for (auto const& words : asked.turn.empty() ? usual_dials(own) : asked.turn) try {
      dials.push_back(read_dial(own, words));
    } catch (BadAddress const& e) { throw as_usage(e, "--turn"); }
  for (std::size_t i = 0; i < dials.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (dials[i].parameter.turn.address == dials[k].parameter.turn.address)
        throw BadInput(fmt::format("error: --turn: {} appears twice\n  expected  each address once\n", dials[i].parameter.turn.address));
  TuneOptions options;
  options.aims = asked.aims, options.runs = asked.runs, options.seed = asked.seed, options.jobs = asked.jobs,
  options.flat = asked.flat / 100;
  listen_for_interrupt();
  options.interrupted = was_interrupted;
  std::vector<Spell> spells;
  try {
    spells = spells_of(own, asked.days, asked.length, asked.year);
  } catch (BadAddress const& e) { throw as_usage(e, asked.year ? "--year" : "--day"); }
  outputs.begin();
  Tuned found;
  try {
    Progress progress;
    options.progress = std::ref(progress);
    options.foretell = [&](double seconds) {
      if (seconds > 5 && !common.silent())
        std::cerr << fmt::format("about {} for {} runs; set the number with --runs\n", long_words(seconds), options.runs);
    };
    found = tune(spells, dials, options);
  } catch (BadAddress const& e) { throw as_usage(e, "--for"); } catch (SearchStopped const&) {
    return exit_by_signal();
  }
  auto const& title = own.project().installation.title;
  auto const tuned = found.is_better() ? with_dials(own, dials, found.trials[found.chosen].at) : own.text();
  if (!common.silent()) {
    std::cout << title << "\n\n" << tuning_words(found, changed_lines(own.text(), tuned), common.system());
    if (!asked.write.empty())
      std::cout << (found.is_better() ? "\nscenario with these settings: " + asked.write
                                      : "\nno better settings: " + asked.write + " is not written")
                << '\n';
    if (!asked.report.empty()) std::cout << "\nreport: " << asked.report << '\n';
    std::cout << '\n' << caution << '\n';
  }
  if (found.is_better()) outputs.write(asked.write, [&] { return tuned; });
  outputs.write(common.json, [&] { return json_text(tuning_json(found, common.scenario)); });
  outputs.write(asked.report, [&] {
    return make_front_report(front_record(found, common.scenario, title, common.system()), common.system());
  });
  outputs.commit();
  return done;
}

}  // namespace steadyfire::cli

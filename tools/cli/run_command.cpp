#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>

#include "plots/network_drawing.hpp"
#include "plots/report.hpp"
#include "sim/record/json_parts.hpp"
#include "sim/record/record_csv.hpp"
#include "sim/record/reasons.hpp"
#include "sim/record/record_json.hpp"
#include "sim/study/flows_study.hpp"
#include "sim/study/network_picture.hpp"
#include "sim/study/run_study.hpp"
#include "models/house/hot_water_answer.hpp"
#include "tools/cli/band_words.hpp"
#include "tools/cli/hot_water_words.hpp"
#include "tools/cli/running.hpp"

namespace steadyfire::cli {
namespace {

std::string duration_words(double s) {
  return s < 90 ? fmt::format("{:.0f} s", s) : s < 5400 ? fmt::format("{:.1f} min", s / 60) : fmt::format("{:.1f} h", s / 3600);
}

/// "31", or "31 (29 to 62)" where the stop point was moved and that can be seen; `tell` shows one of them.
template <class T, class Tell>
std::string with_scatter(T middle, std::optional<Band> const& moved, T BandEnd::*of, Tell const& tell) {
  if (!moved || !moved->low.incomplete.empty() || !moved->high.incomplete.empty()) return tell(middle);
  auto const [least, most] = std::minmax({middle, moved->low.*of, moved->high.*of});
  auto const low = tell(least), high = tell(most);
  return low == high ? tell(middle) : fmt::format("{} ({} to {})", tell(middle), low, high);
}
std::string whole(long n) { return std::to_string(n); }

std::string burner_words(std::string const& title, BurnerRecord const& b, double duration, std::optional<Band> const& moved) {
  auto text = fmt::format("{:<9}{} {} in {}, {} in the worst hour", title, with_scatter(b.starts, moved, &BandEnd::starts, whole),
                          b.starts == 1 ? "start" : "starts", duration_words(duration),
                          with_scatter(b.starts_per_hour_worst, moved, &BandEnd::starts_per_hour_worst, whole));
  if (!b.burns.empty())
    text += fmt::format("; burns {} to {}, median {}", duration_words(b.burn_shortest), duration_words(b.burn_longest),
                        duration_words(b.burn_median));
  return text + fmt::format("\n         condensing {:.0f}% of firing time\n",
                            b.time_firing > 0 ? 100 * b.time_condensing / b.time_firing : 0);
}

/// The next power of ten above what is not accounted for, as a share of what came in: "0.001%".
std::string closure_words(double closure) {
  double bound = 1e-5;
  while (bound < std::abs(closure) && bound < 1) bound *= 10;
  return fmt::format("{:g}%", 100 * bound);
}

std::string summary(Record const& r, UnitSystem system) {
  auto const tell = [&](double si, Measure const& m) { return show(si, m, system); };
  std::string text = r.title + "\n\n";
  if (!r.incomplete.empty()) text += "RUN STOPPED EARLY: " + r.incomplete + "\n\n";
  for (auto const& reason : reasons(r.why)) text += "  " + reason.in(system) + "\n";
  text += "\n" + to_words(r.findings, system) + "\n";
  text += burner_words("burner", r.burner, r.duration, r.stop_point);
  if (r.stop_point)
    text += fmt::format("         (from to: off temperature {} lower and higher, as sensors differ)\n",
                        tell(sensor_error, measure::temperature_change));
  for (auto const& other : r.other_burners) text += burner_words(other.name, other, r.duration, {});
  text += fmt::format("water    while firing: supply {} to {}, return {} to {}\n", tell(r.supply_min, measure::temperature),
                      tell(r.supply_max, measure::temperature), tell(r.return_min, measure::temperature),
                      tell(r.return_max, measure::temperature));
  text += fmt::format("outdoor  {} to {}, average {} ({})\n\n", tell(r.weather.min, measure::temperature),
                      tell(r.weather.max, measure::temperature), tell(r.weather.mean, measure::temperature), r.weather.source);
  text += fmt::format("  {:<14}{:>12}{:>12}{:>12}{:>14}{:>14}{:>14}\n", "zone", "lowest", "average", "highest", "too warm", "too cold",
                      "longest call");
  for (auto const& z : r.zones)
    text +=
        fmt::format("  {:<14}{:>12}{:>12}{:>12}{:>14}{:>14}{:>14}\n", z.name, tell(z.room_min, measure::fine_temperature),
                    tell(z.room_mean, measure::fine_temperature), tell(z.room_max, measure::fine_temperature),
                    tell(z.overshoot, measure::degree_hours), tell(z.undershoot, measure::degree_hours), duration_words(z.longest_call));
  if (r.hot_water) text += "\n" + hot_water_words(*r.hot_water, system);
  text += fmt::format("\nfuel {}, heat from the boiler {} (efficiency {}), to rooms and taps {}",
                      with_scatter(r.energy.fuel, r.stop_point, &BandEnd::fuel, [&](double J) { return tell(J, measure::fuel); }),
                      tell(r.energy.from_boiler, measure::energy),
                      r.energy.fuel > 0 ? tell(r.energy.efficiency(), measure::fine_share) : "-", tell(r.energy.to_rooms, measure::energy));
  text += "\nlosses";
  for (auto const& [kind, joules] : r.energy.losses)
    text += fmt::format("{} {} {}", kind == r.energy.losses.begin()->first ? ":" : ",", loss_name(kind), tell(joules, measure::energy));
  text += fmt::format("\nelectricity {}", tell(r.energy.electricity, measure::electricity));
  if (r.energy.cost) text += fmt::format(", cost {:.2f}", *r.energy.cost);
  if (r.energy.carbon) text += fmt::format(", CO2 {}", tell(*r.energy.carbon, measure::mass));
  text += fmt::format("\nEnergy check: heat in and heat out agree within {}.\n", closure_words(r.energy.closure));
  if (!r.band.empty()) return text + "\n" + band_words(r, system);
  if (!r.assumptions.empty())
    text += fmt::format("{} values are assumed (middle of the usual range). The report and --json list them; --band shows how much they "
                        "matter.\n",
                        r.assumptions.size());
  return text;
}

}  // namespace

int run(Outputs& outputs, Common const& common, RunFiles const& files, bool band) {
  Document document;
  Project const project = load(common.scenario, document);
  if (!project.is_house)
    throw BadInput(fmt::format("{}: error[{}]: a piping network without boiler and zones cannot run\n"
                               "  expected  [boiler] and [[zone]]\n  hint      use 'steadyfire flows'\n",
                               common.scenario, "E241"));
  auto options = options_of(project);
  listen_for_interrupt();
  outputs.begin();
  if (!files.plan.empty()) options.plan = &outputs.stream(files.plan);
  auto const result = [&] {
    Progress progress;
    return run_house(project, options, {std::ref(progress), was_interrupted});
  }();
  auto record = result.record;
  if (band && record.incomplete.empty()) {
    Progress progress;
    record.band =
        study_band(record, supposing(project, document, common.system()), RunWeather{project}, std::ref(progress), was_interrupted);
  }
  add_stop_point(record, project, options, was_interrupted);
  add_flow_findings(record, project);
  if (!common.silent()) {
    std::cout << summary(record, common.system());
    if (!files.report.empty()) std::cout << "report: " << files.report << '\n';
    std::cout << '\n' << caution << '\n';
    if (record.hot_water)
      for (auto const& c : hot_water_cautions(*record.hot_water)) std::cout << c.in(common.system()) << '\n';
  }
  outputs.write(common.json, [&] { return json_text(run_to_json(record, common.system())); });
  outputs.write(files.report, [&] { return make_report(record, common.system()); });
  if (!files.csv.empty())
    write_csv(record, common.system(),
              [&](std::string const& name) -> std::ostream& { return outputs.stream((std::filesystem::path{files.csv} / name).string()); });
  outputs.commit();
  if (result.stopped) {
    std::cerr << result.stopped->what() << '\n';
    return stopped;
  }
  return was_interrupted() ? exit_by_signal() : int(done);
}

int draw(Outputs& outputs, Common const& common, std::string const& out) {
  Project const project = load(common.scenario);
  outputs.begin();
  outputs.write(out, [&] { return draw_network(drawing_of(lay_out(project.installation)), nullptr, common.system()); });
  outputs.commit();
  if (!common.silent()) std::cout << "schematic: " << out << '\n';
  return done;
}

}  // namespace steadyfire::cli

// What is handed over: report, review, materials, schematic, the scenario itself.

#include "tools/review/materials.hpp"
#include "plots/network_drawing.hpp"
#include "plots/report.hpp"
#include "plots/review_page.hpp"
#include "sim/record/record_csv.hpp"
#include "sim/study/network_picture.hpp"
#include "tools/job/job_at_hand.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/watched_run.hpp"

namespace steadyfire::web {
namespace {

/// "house" of "below/house.toml", else the title in letters that files like.
std::string stem(Scenario const& scenario, std::string const& title) {
  auto file = scenario.file.substr(scenario.file.find_last_of("/\\") + 1);
  if (file.ends_with(".toml")) file.resize(file.size() - 5);
  if (!file.empty()) return file;
  std::string name;
  for (char const c : title)
    if (std::isalnum(static_cast<unsigned char>(c))) name += char(std::tolower(static_cast<unsigned char>(c)));
    else if (!name.empty() && name.back() != '-') name += '-';
  std::size_t constexpr longest = 40;
  name.resize(std::min(name.size(), longest));
  while (name.ends_with('-')) name.pop_back();
  return name.empty() ? "scenario" : name;
}

}  // namespace

Json document(Json const& request, Listener const& listener) {
  auto const scenario = scenario_of(request);
  auto const what = text_under(request, "what");
  auto const r = read(scenario);
  Json answer{{"faults", r.faults_json()}};
  auto const give = [&](std::string const& ending, char const* type, std::string text) {
    answer["name"] = stem(scenario, r.project.installation.title) + ending, answer["type"] = type, answer["text"] = std::move(text);
    return answer;
  };
  if (what == "scenario") return give(".toml", "application/toml", scenario.text);
  bool const of_run = what == "report" || what == "review" || what == "materials";
  if (!of_run && what != "schematic")
    throw BadRequest("unknown document '" + what + "'", "one of: report, review, materials, schematic, scenario");
  if (of_run && r.is_good() && !r.project.is_house) answer["faults"].push_back(not_a_house());
  if (!answer["faults"].empty()) return answer;
  auto const units = scenario.units;
  if (what == "schematic")
    return give("-schematic.svg", "image/svg+xml", draw_network(drawing_of(lay_out(r.project.installation)), nullptr, units));
  if (what == "report") {
    Shares shares{listener};
    return give("-report.html", "text/html", make_report(watched_run(r.project, options_of(r.project), units, listener, shares), units));
  }
  Shares shares{listener, 0, 0.5};
  try {
    JobAtHand const job{r.document, r.project, [&] { return RunWatch{std::ref(shares), listener.stop}; }};
    if (listener.stop && listener.stop()) throw Halted{};
    if (what == "materials") return give("-materials.csv", "text/csv", to_csv(materials_list(job.job()), units));
    auto const review = job.review();
    if (!review) throw Halted{};
    return give("-review.html", "text/html", make_review_page(*review, units));
  } catch (Stopped const& s) {
    answer["faults"].push_back(fault_of(s));
  }
  return answer;
}

}  // namespace steadyfire::web

// Variants of one scenario beside each other.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "plots/charts.hpp"
#include "plots/page_text.hpp"
#include "plots/run_parts.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/watched_run.hpp"
#include "tools/web/written.hpp"

namespace steadyfire::web {
namespace {

constexpr std::size_t most_to_compare = 40'000, most_variants = 24;
constexpr double scatter = 0.02;  // of starts and burns on a day of short cycling: no less can be told apart (sim/README.md)

struct Variant {
  std::string name;
  Scenario scenario;
  std::vector<KeyFigure> figures;
};

KeyFigure const* find(std::vector<KeyFigure> const& all, std::string_view key) {
  auto const at = std::find_if(all.begin(), all.end(), [&](auto const& f) { return f.key == key; });
  return at == all.end() ? nullptr : &*at;
}

/// The measure of a difference: of temperatures that of a change.
Measure const& difference_measure(Measure const& m) {
  return m.us.dimension == Temperature::dimension ? measure::fine_temperature_change : m;
}
std::string difference(KeyFigure const& from, KeyFigure const& to, UnitSystem units) {
  double const d = to.value - from.value;
  if (std::isnan(d)) return "";
  auto const words = printed(std::abs(d), difference_measure(from.measure), units);
  return words == printed(0, difference_measure(from.measure), units) ? "same" : (d > 0 ? "+" : "−") + words;
}

/// One figure before and after: "low fire: fuel 25.0 → 24.6 therm (−0.4 therm)", or "" where it is the same.
std::string sentence(Variant const& first, Variant const& other, std::string_view key, UnitSystem units) {
  auto const *a = find(first.figures, key), *b = find(other.figures, key);
  if (!a || !b) return "";
  auto const by = difference(*a, *b, units);
  if (by.empty() || by == "same") return "";
  return fmt::format("{}: {} {} → {} ({})", other.name, b->name, printed(a->value, a->measure, units), printed(b->value, b->measure, units),
                     by);
}

bool is_scatter(double a, double b) { return std::abs(a - b) <= scatter * std::max(a, b); }

/// Which variant is best in one figure: "fewest starts: low fire (18)"; "" where none stands out of what can be told apart.
std::string best_in(std::vector<Variant> const& all, std::string_view key, char const* words, bool most, UnitSystem units) {
  Variant const* best = nullptr;
  double of_best = 0, next = std::nan("");
  for (auto const& v : all) {
    auto const* f = find(v.figures, key);
    if (!f || std::isnan(f->value)) return "";
    double const value = most ? -f->value : f->value;
    if (!best || value < of_best) next = best ? of_best : next, of_best = value, best = &v;
    else if (std::isnan(next) || value < next) next = value;
  }
  auto const& f = *find(best->figures, key);
  bool const is_of_cycling = key == "starts" || key == "middle_burn";
  auto const told = [&](double v) { return printed(std::abs(v), f.measure, units); };
  if (std::isnan(next) || told(next) == told(of_best) || (is_of_cycling && is_scatter(std::abs(of_best), std::abs(next)))) return "";
  return fmt::format("{}: {} ({})", words, best->name, told(of_best));
}

std::vector<std::string> words_for(std::vector<Variant> const& all, UnitSystem units) {
  std::vector<std::string> words;
  auto const& first = all[0];
  for (std::size_t i = 1; i < all.size(); ++i) {
    auto const before = words.size();
    auto const say = [&](std::string s) {
      if (!s.empty()) words.push_back(std::move(s));
    };
    auto const *a = find(first.figures, "starts"), *b = find(all[i].figures, "starts");
    if (a && b && a->value != b->value && is_scatter(a->value, b->value))
      say(fmt::format("{}: {:.0f} and {:.0f} starts: no real difference (within 2%)", all[i].name, b->value, a->value));
    else say(sentence(first, all[i], "starts", units));
    auto const *c = find(first.figures, "middle_burn"), *d = find(all[i].figures, "middle_burn");
    if (c && d && !is_scatter(c->value, d->value)) say(sentence(first, all[i], "middle_burn", units));
    for (auto const* key : {"coldest_room", "too_warm", "condensing", "fuel"}) say(sentence(first, all[i], key, units));
    if (words.size() == before) words.push_back(fmt::format("{}: no difference from {}", all[i].name, first.name));
  }
  if (all.size() < 3) return words;  // of two, the sentences above say it
  struct Contest {
    char const *key, *words;
    bool most;
  };
  for (auto const& c : {Contest{"starts", "fewest starts", false}, {"middle_burn", "longest median burn", true},
                        {"too_cold", "least too cold", false}, {"too_warm", "least too warm", false},
                        {"condensing", "most condensing", true}, {"fuel", "least fuel", false}})
    if (auto s = best_in(all, c.key, c.words, c.most, units); !s.empty()) words.push_back(std::move(s));
  return words;
}

/// Key by key what the texts say differently, in the order in which the first to say it has it.
Json changes_json(std::vector<Variant> const& all) {
  std::vector<std::string> order;
  std::vector<std::map<std::string, std::string>> said;
  for (auto const& v : all) {
    auto& mine = said.emplace_back();
    for (auto const& [what, value] : written_values(v.scenario.text)) {
      mine[what] = value;
      if (std::find(order.begin(), order.end(), what) == order.end()) order.push_back(what);
    }
  }
  Json changes = Json::array();
  for (auto const& what : order) {
    std::vector<std::string> values;
    for (auto const& mine : said) {
      auto const at = mine.find(what);
      values.push_back(at == mine.end() ? "" : at->second);
    }
    if (std::adjacent_find(values.begin(), values.end(), std::not_equal_to<>{}) != values.end())
      changes.push_back({{"what", what}, {"values", values}});
  }
  return changes;
}

/// Tracks as charts on one time axis and of one step.
Json over_times_json(std::vector<Track> tracks, UnitSystem units) {
  double step = 0;
  for (auto const& t : tracks) step = std::max(step, t.step);
  auto const by = [&](Track const& t) { return std::size_t(std::max(1L, std::lround(step / t.step))); };  // steps are doubles of each other
  std::size_t fullest = 1;
  for (auto const& t : tracks)
    if (!t.channels.empty()) fullest = std::max(fullest, t.channels[0].mean.size() / by(t) * t.channels.size() * 3);
  std::size_t const thinner = (fullest + most_to_compare - 1) / most_to_compare;
  Json all = Json::array();
  for (auto const& t : tracks)
    all.push_back(chart::over_time(chart::thinned(t, by(t) * thinner), units, std::numeric_limits<std::size_t>::max()));
  return all;
}

std::vector<Variant> variants_of(Json const& request) {
  std::vector<Variant> all;
  auto const units = units_of(request);
  for (auto const& v : list_under(request, "variants"))
    all.push_back({text_under(v, "name"), {text_under(v, "text"), text_under(v, "file", ""), units}, {}});
  if (all.empty() || all.size() > most_variants) throw BadRequest(fmt::format("{} variants", all.size()), "compare 1 to 24");
  return all;
}

}  // namespace

Json compare(Json const& request, Listener const& listener) {
  auto all = variants_of(request);
  auto const units = all[0].scenario.units;
  Json answer{{"faults", Json::array()}};
  std::vector<ReadScenario> read_all;
  for (auto const& v : all) {
    read_all.push_back(read(v.scenario));
    auto faults = read_all.back().faults_json();
    if (faults.empty() && !read_all.back().project.is_house) faults.push_back(not_a_house());
    for (auto& f : faults) {
      f["message"] = v.name + ": " + f["message"].get<std::string>();
      f.erase("at");
      answer["faults"].push_back(f);
    }
  }
  if (!answer["faults"].empty()) return answer;
  std::vector<Track> tracks;
  for (std::size_t i = 0; i < all.size(); ++i) {
    Shares shares{listener, double(i) / double(all.size()), 1 / double(all.size())};
    auto const record = watched_run(read_all[i].project, options_of(read_all[i].project), units, listener, shares);
    all[i].figures = key_figures(record);
    tracks.push_back(finest_whole(record));
  }
  answer["over_time"] = over_times_json(std::move(tracks), units);
  answer["changes"] = changes_json(all), answer["words"] = words_for(all, units);
  answer["rows"] = Json::array();
  std::vector<std::string> names;
  for (auto const& v : all) names.push_back(v.name);
  auto table = fmt::format("\t{}\n", fmt::join(names, "\t"));
  for (auto const& f : all[0].figures) {
    std::vector<std::string> values, differences;
    for (auto const& v : all) {
      auto const* mine = find(v.figures, f.key);
      values.push_back(mine ? printed(mine->value, mine->measure, units) : "-");
      differences.push_back(&v == &all[0] || !mine ? "" : difference(f, *mine, units));
    }
    table += fmt::format("{}\t{}\n", f.name, fmt::join(values, "\t"));
    answer["rows"].push_back({{"what", f.name}, {"values", values}, {"differences", differences}});
  }
  answer["table"] = table;
  return answer;
}

}  // namespace steadyfire::web

#include "sim/core/count_up.hpp"
#include "models/hot_water/draw_kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "models/hot_water/draws_file.hpp"
#include "models/hot_water/family_days.hpp"
#include "sim/core/files.hpp"

namespace steadyfire {
namespace {

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = char(c - 'A' + 'a');
  return text;
}

/// The fixture that a tap's name speaks of. "bathroom basin" is a basin.
std::optional<Fixture> fixture_of(std::string const& tap) {
  auto const name = lower(tap);
  auto const holds = [&](std::string_view word) { return name.find(word) != std::string::npos; };
  if (holds("shower")) return Fixture::shower;
  if (holds("kitchen")) return Fixture::kitchen;
  if (holds("basin") || holds("lavatory") || holds("sink")) return Fixture::basin;
  if (holds("bath") || holds("tub")) return Fixture::bath;
  return {};
}

/// The number of the tap that a profile names, the first without a name.
std::size_t tap_named(Value const& named, std::string const& who, std::vector<std::string> const& taps, Diagnostics& faults) {
  if (named.text.empty()) return 0;
  auto const at = std::find(taps.begin(), taps.end(), named.text);
  if (at != taps.end()) return std::size_t(at - taps.begin());
  auto const near = nearest(named.text, taps);
  faults.add({"E320", named.at, fmt::format("{}: no tap is named '{}'", who, named.text), "the name of a [[tap]] of the scenario",
              near.empty() ? fmt::format("the taps are '{}'", fmt::join(taps, "', '")) : fmt::format("did you mean '{}'?", near)});
  return 0;
}

/// A value of the table, by its usual range where nobody stated it.
template <auto M>
double taken(Entry const& e, Measure const& m, std::function<double(Assumption)> const& assume) {
  auto const& stated = value_of<M>(e);
  double const value = *get<M>(e);
  if (stated.given && !stated.unknown) return value;
  auto const& f = field_of<M>(*e.kind);
  return assume({"hot_water/draws", f.key, value, f.unit.to_si(f.low), f.unit.to_si(f.high), m, f.typical_source});
}

std::vector<DrawList> days_of(Entry const& stated, std::vector<std::string> const& taps, double clock, double duration,
                              std::function<double(Assumption)> const& assume) {
  using F = FamilyDraws;
  auto const f = fill<F>(stated.values);
  Family family{f.people, taken<&F::water>(stated, measure::volume, assume), {}, std::uint64_t(f.seed)};
  family.flow = {taken<&F::shower>(stated, measure::flow, assume), taken<&F::bath>(stated, measure::flow, assume),
                 taken<&F::kitchen>(stated, measure::flow, assume), taken<&F::basin>(stated, measure::flow, assume)};
  std::array<std::vector<std::size_t>, fixtures> having;
  for (std::size_t t = 0; t < taps.size(); ++t)
    if (auto const fixture = fixture_of(taps[t])) having[int(*fixture)].push_back(t);
  std::array<std::size_t, fixtures> turn{};
  std::vector<DrawList> lists(taps.size(), DrawList{{}, true});
  for (auto [fixture, draw] : family_days(family, int(count_up((clock + duration) / 86400)))) {
    draw.start -= clock;
    if (draw.start < 0 || draw.start >= duration) continue;
    auto const& fitting = having[int(fixture)];
    auto const tap = fitting.empty() ? 0 : fitting[turn[int(fixture)]++ % fitting.size()];
    lists[tap].draws.push_back(draw);
  }
  return lists;
}

}  // namespace

DealtDraws deal_draws(Entry const& stated, std::vector<std::string> const& taps, std::string const& scenario_file, double clock,
                      double duration, std::function<double(Assumption)> const& assume, Diagnostics& faults) {
  if (taps.empty()) throw InternalError{"draws are of taps: there is none"};
  auto const& kind = stated.kind->name;
  DealtDraws dealt{std::vector<DrawList>(taps.size()), {}};
  auto const at_one_tap = [&](Value const& tap, std::vector<Draw> draws) {
    dealt.by_tap[tap_named(tap, stated.who, taps, faults)].draws = std::move(draws);
  };
  if (kind == ProfileDraws::kind)
    at_one_tap(value_of<&ProfileDraws::tap>(stated), draws_of(TappingProfile(get<&ProfileDraws::profile>(stated))));
  if (kind == PatternDraws::kind) at_one_tap(value_of<&PatternDraws::tap>(stated), draws_of(DrawPattern(get<&PatternDraws::use>(stated))));
  if (kind == FamilyDraws::kind) dealt.by_tap = days_of(stated, taps, clock, duration, assume);
  if (kind != ListedDraws::kind) return dealt;
  auto const& file = value_of<&ListedDraws::file>(stated);
  auto const path = std::filesystem::path(scenario_file).parent_path() / file.text;
  if (auto const why = refusal_of(path); !why.empty()) {
    faults.add({"E301", file.at, stated.who + ": " + why + " \"" + file.text + "\"", "a path relative to the scenario's folder",
        "check the file name and folder"});
    return dealt;
  }
  try {
    dealt.by_tap = read_draws(path, taps, clock);
  } catch (BadInput const& e) {  // told with the scenario's own faults
    dealt.file_faults.add(e);
  }
  return dealt;
}

}  // namespace steadyfire

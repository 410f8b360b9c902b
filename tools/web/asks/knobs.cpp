// What trainers argue about, as sliders in the scenario's own terms.

#include <algorithm>
#include <array>
#include <cmath>

#include "models/boiler_data.hpp"
#include "models/controls.hpp"
#include "models/house/piping_sections.hpp"
#include "models/tank.hpp"
#include "tools/job/catalog.hpp"
#include "sim/core/units.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/request.hpp"

namespace steadyfire::web {
namespace {

/// A value that a slider can change, SI. The range is cut to what its field allows.
struct Turn {
  std::string id, label;
  Place at;
  Field const* field;
  double value, least, most;
};

Field const& field_under(Kind const& kind, std::string_view key) {
  for (auto const& f : kind.fields)
    if (f.key == key) return f;
  throw InternalError("kind '" + kind.name + "' has no key '" + std::string(key) + "'");
}
Field const& field_under(std::string_view kind, std::string_view key) { return field_under(*find_kind(catalog(), kind), key); }

double number_of(Piece const& piece, std::string_view key) {
  auto const& v = value_under(*piece.kind, std::span<Value const>{piece.values}, key).numbers;
  return v.empty() ? NAN : v[0];
}

bool is_whole(double x) { return std::abs(x - std::round(x)) < 1e-6; }

/// A step of 1, 2 or 5 that makes about a hundred of the range; finer where only then the value lies on it.
double step_of(double range, double value) {
  double const rough = range / 100, power = std::pow(10, std::floor(std::log10(rough)));
  double const step = power * (rough < 1.5 * power ? 1 : rough < 3.5 * power ? 2 : rough < 7.5 * power ? 5 : 10);
  for (double part : {1, 2, 5, 10, 20})
    if (is_whole(value / (step / part))) return step / part;
  return step;
}

Json knob_json(Turn const& t, UnitSystem units) {
  auto const shown = unit_for(*t.field, units);
  auto const& declared = t.field->unit;
  double const lowest = shown.from_si(declared.to_si(t.field->least)), highest = shown.from_si(declared.to_si(t.field->most));
  double value = shown.from_si(t.value), least = std::clamp(shown.from_si(t.least), lowest, highest),
         most = std::clamp(shown.from_si(t.most), lowest, highest);
  double const step = step_of(std::max(most - least, 1e-9), value);
  value = step * std::round(value / step), least = step * std::ceil(least / step - 1e-6), most = step * std::floor(most / step + 1e-6);
  auto const exact = [](double x) { return std::round(x * 1e9) / 1e9; };
  return {{"id", t.id},
          {"label", t.label},
          {"at", to_json(t.at)},
          {"unit", shown.symbol},
          {"step", exact(step)},
          {"barred", ""},
          {"value", exact(value)},
          {"least", exact(std::min(least, value))},
          {"most", exact(std::max(most, value))}};
}

Json barred_json(std::string id, std::string label, Place const& at, Field const& f, UnitSystem units, std::string why) {
  return {{"id", std::move(id)},
          {"label", std::move(label)},
          {"at", to_json(at)},
          {"unit", unit_for(f, units).symbol},
          {"step", 1},
          {"barred", std::move(why)},
          {"value", 0},
          {"least", 0},
          {"most", 1}};
}

class Panel {
 public:
  Panel(ReadScenario const& r, UnitSystem units) : document_{r.document}, project_{r.project}, in_{r.project.installation}, units_{units} {}

  Json answer() {
    if (in_.boiler < 0) return {{"faults", Json::array()}, {"knobs", Json::array()}};
    burner(), smallest_zone(), differential(), tank();
    auto const* curve = curve_piece();
    reset(curve), outdoors();
    Json all{{"faults", Json::array()}, {"knobs", knobs_}};
    if (curve) all["curve"] = curve_json(*curve);
    return all;
  }

 private:
  void add(Turn const& t) { knobs_.push_back(knob_json(t, units_)); }
  void bar(std::string id, std::string label, Place const& at, Field const& f, std::string why) {
    knobs_.push_back(barred_json(std::move(id), std::move(label), at, f, units_, std::move(why)));
  }

  void burner() {
    auto const& boiler = in_.pieces[in_.boiler];
    double const most = *get<&BoilerData::heating_input>(boiler), least = *get<&BoilerData::minimum_input>(boiler);
    auto const at = [](char const* key) { return Place{"boiler", 0, {key}}; };
    add({"burner", "burner size (maximum heating input)", at("heating_input"), &field_under(*boiler.kind, "heating_input"), most,
         std::max(least, most / 4), 2 * most});
    add({"minimum_fire", "minimum fire", at("minimum_input"), &field_under(*boiler.kind, "minimum_input"), least, least / 4, most});
  }

  void smallest_zone() {
    ZoneParts const* smallest = nullptr;
    for (auto const& z : in_.zones)
      if (z.room >= 0 && (!smallest || z.design_load < smallest->design_load)) smallest = &z;
    if (!smallest) return;
    auto const at = zone_place(smallest->name, {"design_load"});
    double const load = smallest->design_load;
    add({"smallest_zone", "design load of " + smallest->name + (in_.zones.size() > 1 ? ", the smallest zone" : ""), at,
         &field_under("zone", "design_load"), load, load / 4, 4 * load});
  }

  void differential() {
    auto const& boiler = in_.pieces[in_.boiler];
    for (auto const& [key, label] :
         {std::pair{"off_differential", "off differential (above target)"}, {"on_differential", "on differential (below target)"}}) {
      double const value = number_of(boiler, key);
      add({key,
           label,
           {"boiler", 0, {key}},
           &field_under(*boiler.kind, key),
           value,
           degF_change.to_si(1),
           std::max(2 * value, degF_change.to_si(30))});
    }
  }

  void tank() {
    auto const& f = field_under("near boiler", "tank_volume");
    Place const at{"near_boiler", 0, {"tank_volume"}};
    int const piece = in_.part(Part::coupling);
    auto const* near = document_.find("near boiler");
    using N = NearBoilerSection;
    auto const& words = field_of<&N::arrangement>(*near->kind).choices.at(std::size_t(get<&N::arrangement>(*near)));
    if (piece < 0) return bar("tank", "buffer tank", at, f, "no tank: boiler and zones are connected by '" + words + "'");
    double const volume = *get<&Tank::volume>(in_.pieces[piece]);
    add({"tank", words == "buffer tank" ? words : "volume of the " + words, at, &f, volume, volume / 5, 5 * volume});
  }

  /// Whose curve is shown: that of [controls] where a zone follows it, else the hottest of the zones' own.
  Piece const* curve_piece() {
    auto const* controls = document_.find("controls");
    bool const is_common = controls && value_of<&ControlsSection::reset>(*controls).entry;
    Piece const* own = nullptr;
    for (auto const& t : document_.tables) {
      auto const* zone = t.kind->name == ZoneSection::kind ? in_.zone(t.name) : nullptr;
      if (!zone) continue;
      auto const* made = &in_.pieces[zone->reset];
      if (value_of<&ZoneSection::reset>(t).entry) {
        if (!own || *get<&OutdoorReset::cold_supply>(*made) > *get<&OutdoorReset::cold_supply>(*own)) own = made, zone_of_own_ = t.name;
      } else if (is_common && !common_ && made->at == value_of<&ControlsSection::reset>(*controls).entry->at) {
        common_ = made;
      }
    }
    return common_ ? common_ : own;
  }
  Place curve_place() const { return common_ ? Place{"controls", 0, {"reset"}} : zone_place(zone_of_own_, {"reset"}); }

  void reset(Piece const* curve) {
    auto const whose = common_ ? std::string() : ", " + zone_of_own_;
    for (auto const& [key, label] :
         {std::pair{"cold_supply", "supply at the cold point"}, {"mild_supply", "supply at the mild point"}}) {
      auto const& f = field_under("outdoor reset", key);
      if (!curve) {
        bar(key, label, {"controls", 0, {"reset", key}}, f, "no zone uses a reset curve");
        continue;
      }
      auto at = curve_place();
      at.path.emplace_back(key);
      double const cold = *get<&OutdoorReset::cold_supply>(*curve), mild = *get<&OutdoorReset::mild_supply>(*curve);
      bool const is_cold = std::string_view(key) == "cold_supply";
      add({key, label + whose, at, &f, is_cold ? cold : mild, is_cold ? mild : degF.to_si(60), is_cold ? degF.to_si(200) : cold});
    }
  }

  void outdoors() {
    std::string const label = "outdoor temperature";
    auto const* site = document_.find("site");
    auto const* weather = site ? value_of<&SiteSection::weather>(*site).entry.get() : nullptr;
    std::string const kind = weather ? weather->kind->name : "constant";
    std::string const key = kind == "daily wave" ? "mean" : "outdoors";
    Place const at{"site", 0, {"weather", key}};
    auto const& f = field_under(kind == "daily wave" ? kind : "constant", key);
    if (kind != "daily wave" && kind != "constant")
      return bar("outdoors", label, at, f, "the weather is a file; only a constant or a daily wave can be changed here");
    double const value = weather ? value_under(*weather, key).numbers.at(0) : project_.weather.dry_bulb.at(0);
    add({"outdoors", kind == "daily wave" ? label + ", daily average" : label, at, &f, value, std::min(degF.to_si(-20), value),
         std::max(degF.to_si(70), value)});
  }

  Json curve_json(Piece const& curve) const {
    auto const shown = unit_for(field_under(*curve.kind, "cold_supply"), units_);
    auto const at = [&](char const* key) { return std::round(shown.from_si(number_of(curve, key)) * 10) / 10; };
    return {{"at", to_json(curve_place())},
            {"outdoors_key", {"cold_outdoors", "mild_outdoors"}},
            {"supply_key", {"cold_supply", "mild_supply"}},
            {"outdoors", {at("cold_outdoors"), at("mild_outdoors")}},
            {"supply", {at("cold_supply"), at("mild_supply")}},
            {"unit", shown.symbol}};
  }

  Place zone_place(std::string const& name, std::vector<std::string> path) const {
    for (std::size_t i = 0; i < places_.size(); ++i)
      if (places_[i].table == "zone" && document_.tables[i].name == name) return {"zone", places_[i].index, std::move(path)};
    throw InternalError("no zone '" + name + "' in its own scenario");
  }

  static constexpr auto degF = unit::degF;
  static constexpr auto degF_change = unit::degF_change;
  Document const& document_;
  std::vector<Place> const places_ = tables_of(document_);
  Project const& project_;
  Installation const& in_;
  UnitSystem units_;
  Json knobs_ = Json::array();
  Piece const* common_ = nullptr;
  std::string zone_of_own_;
};

}  // namespace

Json knobs(Json const& request, Listener const&) {
  auto const scenario = scenario_of(request);
  auto const r = read(scenario);
  if (!r.is_good()) return {{"faults", r.faults_json()}, {"knobs", Json::array()}};
  return Panel{r, scenario.units}.answer();
}

}  // namespace steadyfire::web

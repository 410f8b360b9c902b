#include "tools/counter/answers.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "models/hot_water/deliverable.hpp"
#include "models/house/load_estimate.hpp"
#include "models/house/section_of.hpp"
#include "models/house/sections.hpp"
#include "models/venting/vent_materials.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/scenario/edit.hpp"

namespace steadyfire {
namespace {

using namespace unit;

std::vector<std::string> const arrangements{"direct", "closely spaced tees", "hydraulic separator", "buffer tank"};

struct HouseAnswer {
  Area floor_area;
  int construction;
  Energy winter_fuel;
  DegreeTime winter_degree_days;
  Temperature outdoor_design;
  int arrangement;
  static constexpr std::string_view kind = "house", family = "house", summary = "The house";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using A = HouseAnswer;
    return {
        field<&A::floor_area>("floor_area", square_foot, 50, 1e5, "heated floor area"),
        choice<&A::construction>("construction", {"old and leaky", "average", "new and tight"}, "how tight the house is")
            .estimated("usual value"),
        field<&A::winter_fuel>("winter_fuel", therm, 1, 1e6,
                               say("heating fuel used in a known winter: \"{}\"",
                                   InEach{"900 therm\", \"700 gal propane", "26400 kWh"}))
            .estimated("usual value"),
        field<&A::winter_degree_days>("winter_degree_days", degF_day, 100, 20000,
                                      say("degree-days of that winter, base {}", Amount{degF.to_si(65), measure::temperature}))
            .estimated("usual value"),
        field<&A::outdoor_design>("outdoor_design", degF, -70, 65, "outdoor design temperature").estimated("usual value"),
        choice<&A::arrangement>("arrangement", arrangements, "how the boiler loop joins the zones").estimated("closely spaced tees")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &fuel = value_of<&HouseAnswer::winter_fuel>(e), &days = value_of<&HouseAnswer::winter_degree_days>(e);
    if (fuel.given && !fuel.unknown && (!days.given || days.unknown))
      faults.add({"E205", fuel.at, e.who + ": winter_fuel needs 'winter_degree_days'", "winter_degree_days = \"6000 °F·d\"",
                  "add the degree-days of that winter"});
  }
};
struct ZoneAnswer {
  int emitter;
  Fraction share;
  static constexpr std::string_view kind = "zone", family = "zone", summary = "A zone and what heats it";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using A = ZoneAnswer;
    return {choice<&A::emitter>("emitter", {"fin-tube baseboard", "panel radiator", "column radiator", "radiant slab"},
        "emitter of the zone")
                .estimated("usual value"),
            field<&A::share>("share", percent, 1, 100, "share of the floor area").estimated("usual value")};
  }
};
struct FixturesAnswer {
  int showers, tubs, sinks;
  static constexpr std::string_view kind = "fixtures", family = "fixtures", summary = "What may run at once";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using A = FixturesAnswer;
    return {count<&A::showers>("showers", 0, 20, "showers at the same time").estimated("usual value"),
            count<&A::tubs>("tubs", 0, 10, "tubs filling at the same time").estimated("usual value"),
            count<&A::sinks>("sinks", 0, 20, "lavatory and kitchen taps at the same time").estimated("usual value")};
  }
};
struct ColdWaterAnswer {
  Temperature coldest;
  static constexpr std::string_view kind = "cold water", family = "cold water", summary = "The cold water";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {field<&ColdWaterAnswer::coldest>("coldest", degF, 32, 90, "incoming water temperature in winter").estimated("usual value")};
  }
};
struct GasRunAnswer {
  Length length;
  std::string size;
  int elbows;
  static constexpr std::string_view kind = "gas run", family = "gas run", summary = "The gas pipe from the meter to the boiler";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using A = GasRunAnswer;
    return {field<&A::length>("length", foot, 0.5, 2000, "pipe length from the meter to the boiler").estimated("usual value"),
            text<&A::size>("size", "\"3/4 in steel 40\", \"1 in copper L\"").estimated("usual value"),
            count<&A::elbows>("elbows", 0, 100, "elbows in that pipe").estimated("usual value")};
  }
};

struct VentRunAnswer {
  Length length, diameter;
  int elbows, material;
  static constexpr std::string_view kind = "vent run", family = "vent run", summary = "The flue gas pipe from the boiler to outdoors";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using A = VentRunAnswer;
    std::vector<std::string> materials;
    for (auto const& m : vent_materials) materials.emplace_back(m.name);
    return {field<&A::length>("length", foot, 0.5, 500, "straight length").estimated("usual value"),
            count<&A::elbows>("elbows", 0, 60, "90° elbows").estimated("usual value"),
            field<&A::diameter>("diameter", inch, 1, 16, "nominal diameter").estimated("usual value"),
            choice<&A::material>("material", materials, "vent material").estimated("usual value")};
  }
};

bool is_answered(Value const& v) { return v.given && !v.unknown; }
template <auto M>
bool has_answer(Document const& answers) {
  auto const* e = answers.find(detail::Owner<M>::kind);
  return e && is_answered(value_of<M>(*e));
}

std::string in(AnyUnit const& u, double si, char const* symbol, int digits = 0) {
  return fmt::format("\"{:.{}f} {}\"", u.from_si(si), digits, symbol);
}

/// Writes the scenario line by line; a value that nobody stated carries a mark.
class Text {
 public:
  explicit Text(Document const& answers) : answers_{answers} {}

  std::string write() {
    read();
    head();
    site();
    boiler();
    zones();
    hot_water();
    gas();
    vent();
    candidates();
    line("\n[run]\nduration = \"1 d\"");
    return text_;
  }

 private:
  static constexpr char const* mark = "   # not stated";

  void line(std::string const& words) { text_ += words + "\n"; }
  void read() {
    Catalog const kinds = answers_catalog();
    house_ = section_of<HouseAnswer>(answers_, kinds);
    fixtures_ = section_of<FixturesAnswer>(answers_, kinds);
    gas_ = section_of<GasRunAnswer>(answers_, kinds);
    construction_ = has_answer<&HouseAnswer::construction>(answers_) ? house_.construction : 1;
    outdoors_ = has_answer<&HouseAnswer::outdoor_design>(answers_) ? *house_.outdoor_design : degF.to_si(5);
    cold_ = has_answer<&ColdWaterAnswer::coldest>(answers_) ? *section_of<ColdWaterAnswer>(answers_, kinds).coldest : degF.to_si(45);
    bool const has_fuel = has_answer<&HouseAnswer::winter_fuel>(answers_);
    double constexpr usual_efficiency = 0.8, indoors = 294.26;
    load_ = has_fuel ? load_by_fuel(*house_.winter_fuel, usual_efficiency, *house_.winter_degree_days, indoors - outdoors_)
                     : load_by_area(construction_, *house_.floor_area).middle;
    for (auto const& t : answers_.tables)
      if (t.kind->name == ZoneAnswer::kind) zones_.push_back(&t);
    // the sizes of hot-water sides that the trade sells (common practice, no source), the smallest that the fixtures want
    double const wanted = heat_for(flow_at_once(), cold_, warm) / 0.95;
    double constexpr sizes[]{120, 150, 180, 199};
    dhw_ = sizes[3];
    for (double const s : {199.0, 180.0, 150.0, 120.0})
      if (s * kBtu_per_hour.scale >= wanted) dhw_ = s;
  }
  double flow_at_once() const {
    return (2.0 * showers() + 4.0 * fixtures_.tubs + 1.0 * fixtures_.sinks) * gpm.scale;
  }
  int showers() const { return has_fixtures() ? fixtures_.showers : 2; }
  bool has_fixtures() const {
    return has_answer<&FixturesAnswer::showers>(answers_) || has_answer<&FixturesAnswer::tubs>(answers_) ||
           has_answer<&FixturesAnswer::sinks>(answers_);
  }

  void head() {
    line("# Made from six answers. Values marked 'not stated' are assumed (common practice, no published source). Fill in what you know,");
    line("# then run: steadyfire check THIS.toml --report review.html");
    line(fmt::format("format = 1\ntitle = {}\n", toml_text(value_of<&Opening::title>(answers_.root).text)));
  }
  void site() {
    line("[site]");
    line("outdoor_design = " + in(degF, outdoors_, "degF") + (has_answer<&HouseAnswer::outdoor_design>(answers_) ? "" : mark));
    double const mean = (outdoors_ + degF.to_si(60)) / 2;
    line("weather = { kind = \"daily wave\", mean = " + in(degF, mean, "degF") + ", swing = \"12 degF\" }   # a day between cold and mild");
    if (has_answer<&HouseAnswer::winter_fuel>(answers_)) {
      line("winter_fuel = " + in(therm, *house_.winter_fuel, "therm"));
      line("winter_degree_days = " + in(degF_day, *house_.winter_degree_days, "degF.d"));
      line("heated_area = " + in(square_foot, *house_.floor_area, "ft2"));
    }
  }
  void boiler() {
    double constexpr ratings[]{60, 90, 120, 150, 199};  // [kBtu/h] of heating, as the trade sells them (common practice, no source)
    double const wanted = load_ / 0.88 / kBtu_per_hour.scale;
    heating_ = ratings[4];
    for (double const r : {199.0, 150.0, 120.0, 90.0, 60.0})
      if (r >= wanted && r <= dhw_) heating_ = r;
    line("\n[boiler]");
    line(fmt::format("heating_input = \"{:.0f} kBtu/h\"   # the smallest usual rating that carries the load", std::min(heating_, dhw_)));
    line(fmt::format("minimum_input = \"{:.1f} kBtu/h\"{}: a tenth of the hot water input", dhw_ / 10, mark));
    line(fmt::format("dhw_input = \"{:.0f} kBtu/h\"   # the smallest usual hot water input for these taps", dhw_));
    bool const is_stated_arrangement = has_answer<&HouseAnswer::arrangement>(answers_);
    auto const arrangement = is_stated_arrangement ? arrangements.at(std::size_t(house_.arrangement)) : "closely spaced tees";
    line("\n[near_boiler]\narrangement = " + toml_text(arrangement) + (is_stated_arrangement ? "" : mark) + "\nsize = \"1 in copper M\"");
    if (arrangement == "direct") return;  // the zones' circulators move the boiler's water too
    line("control_sensor = \"system supply\"\ncirculator = { duty = \"high head\" }");
  }
  void zones() {
    struct Part { std::string name; int emitter; double share; bool has_emitter, has_share; };
    std::vector<Part> parts;
    double stated = 0;
    int open = 0;
    for (auto const* t : zones_) {
      auto const z = fill<ZoneAnswer>(t->values);
      auto const &e = value_of<&ZoneAnswer::emitter>(*t), &s = value_of<&ZoneAnswer::share>(*t);
      bool const has_emitter = is_answered(e), has_share = is_answered(s);
      parts.push_back({t->name, has_emitter ? z.emitter : 0, has_share ? *z.share : 0, has_emitter, has_share});
      if (has_share) stated += *z.share;
      else ++open;
    }
    bool const none = parts.empty();
    if (none) parts = {{"downstairs", 0, 0.6, false, false}, {"upstairs", 0, 0.4, false, false}};
    double const all = none ? 1 : open > 0 ? 1 : stated;  // shares that are all stated are taken as parts of their sum
    for (auto& p : parts) {
      if (!none && !p.has_share) p.share = std::max(0.05, 1 - stated) / open;
      double const area = *house_.floor_area * p.share / all, load = load_ * p.share / all;
      line(fmt::format("\n[[zone]]\nname = {}{}", toml_text(p.name), none ? mark : ""));
      line("floor_area = " + in(square_foot, area, "ft2") + (p.has_share ? "" : mark));
      line("design_load = \"unknown\"   # by the floor area and the construction, or the winter's fuel");
      char const* const words[]{"old and leaky", "average", "new and tight"};
      line(fmt::format("construction = \"{}\"{}", words[construction_], has_answer<&HouseAnswer::construction>(answers_) ? "" : mark));
      line("emitter = " + emitter(p.emitter, load) + (p.has_emitter ? "   # sized to the load" : mark));
      line("circulator = { duty = \"small\" }");
      if (load > 25 * kBtu_per_hour.scale) line("size = \"1 in copper M\"");
    }
  }
  static std::string emitter(int kind, double load) {
    double const kBtu = load / kBtu_per_hour.scale;
    switch (kind) {
      case 1:
        return fmt::format("{{ kind = \"panel radiator\", output = \"{:.1f} kBtu/h\", cv = {:.1f} }}", 1.3 * kBtu, std::max(0.8, kBtu / 8));
      case 2:
        return fmt::format("{{ kind = \"column radiator\", output = \"{:.1f} kBtu/h\", cv = {:.1f} }}", 1.3 * kBtu,
                           std::max(2.0, kBtu / 6));
      case 3: return "{ kind = \"radiant slab\" }";
      default: return fmt::format("{{ kind = \"fin-tube baseboard\", length = \"{:.0f} ft\" }}", std::ceil(kBtu * 1000 / 500));
    }
  }
  void hot_water() {
    line("\n[hot_water]");
    line("cold_inlet = { kind = \"steady\", temperature = " + in(degF, cold_, "degF") + " }" +
         (has_answer<&ColdWaterAnswer::coldest>(answers_) ? "" : mark));
    auto const taps = [&](char const* word, int count, double flow, char const* lasts) {
      for (int i = 1; i <= count; ++i)
        line(fmt::format("\n[[tap]]\nname = \"{} {}\"{}\nflow = \"{:.1f} gpm\"\nat = [\"07:00\"]   # all at once\nlasts = [\"{}\"]", word,
                         i, has_fixtures() ? "" : mark, flow, lasts));
    };
    taps("shower", showers(), 2, "8 min"), taps("tub", fixtures_.tubs, 4, "8 min"), taps("sink", fixtures_.sinks, 1, "2 min");
  }
  void gas() {
    if (!has_answer<&GasRunAnswer::length>(answers_)) {
      line("\n# Gas pipe not stated: describe it in [gas], [[gas_pipe]] and [[gas_appliance]].");
      return;
    }
    line("\n[gas]\n\n[[gas_pipe]]\nname = \"gas run\"\nfrom = \"meter\"\nto = \"boiler inlet\"");
    line("length = " + in(foot, *gas_.length, "ft"));
    bool const has_elbows = has_answer<&GasRunAnswer::elbows>(answers_);
    line(fmt::format("elbows = {}{}", has_elbows ? gas_.elbows : 4, has_elbows ? "" : mark));
    line("size = " + toml_text(has_answer<&GasRunAnswer::size>(answers_) ? gas_.size : "3/4 in steel 40") +
         (has_answer<&GasRunAnswer::size>(answers_) ? "" : mark));
    line("\n[[gas_appliance]]\nname = \"boiler\"\nat = \"boiler inlet\"");
  }
  void vent() {
    if (!has_answer<&VentRunAnswer::length>(answers_)) {
      line("\n# Vent not stated: describe it in [vent].");
      return;
    }
    auto const v = section_of<VentRunAnswer>(answers_, answers_catalog());
    bool const has_elbows = has_answer<&VentRunAnswer::elbows>(answers_), has_material = has_answer<&VentRunAnswer::material>(answers_);
    line(fmt::format("\n[vent]\nsystem = \"two pipes\"{}", mark));
    line("material = " + toml_text(std::string(vent_materials[has_material ? v.material : 0].name)) +
         (has_material ? "" : mark));
    line("diameter = " + (has_answer<&VentRunAnswer::diameter>(answers_) ? in(inch, *v.diameter, "in") : "\"2 in\"" + std::string(mark)));
    int const elbows = has_elbows ? v.elbows : 3;
    auto const run = fmt::format("{{ length = {}, elbows = {} }}", in(foot, *v.length, "ft"), elbows);
    line("exhaust = " + run + (has_elbows ? "" : mark));
    line("intake = " + run + "   # taken as the exhaust");
  }
  /// Other heating sizes beside the same hot-water side: with its minimum fire, and one with a tenth of its own.
  void candidates() {
    for (double const r : {60.0, 90.0, 150.0, 199.0}) {
      if (r > dhw_ || r == std::min(heating_, dhw_)) continue;
      line(fmt::format("\n[[candidate]]\nname = \"heating {:.0f}\"\nheating_input = \"{:.0f} kBtu/h\"\nminimum_input = \"{:.1f} kBtu/h\"{}",
                       r, r, dhw_ / 10, mark));
    }
    line(fmt::format(
        "\n[[candidate]]\nname = \"half the minimum fire\"\nheating_input = \"{:.0f} kBtu/h\"\nminimum_input = \"{:.1f} kBtu/h\"",
        std::min(heating_, dhw_), dhw_ / 20));
  }

  static constexpr double warm = 313.706;  // [K] 105 °F at the tap
  Document const& answers_;
  std::string text_;
  HouseAnswer house_{};
  FixturesAnswer fixtures_{};
  GasRunAnswer gas_{};
  int construction_ = 1;
  double outdoors_ = 0, cold_ = 0, load_ = 0, dhw_ = 0, heating_ = 0;
  std::vector<Entry const*> zones_;
};

}  // namespace

Catalog answers_catalog() {
  static Kind const kinds[]{section<Opening>(),        section<HouseAnswer>(),     section<ZoneAnswer>(),
                            section<FixturesAnswer>(), section<ColdWaterAnswer>(), section<GasRunAnswer>(),
                            section<VentRunAnswer>()};
  return kinds;
}

void check_answers(Document const& answers, Diagnostics& faults) {
  if (!answers.find(HouseAnswer::kind) && faults.empty())
    faults.add({"E205", answers.root.at, "[house] is missing", "[house] with floor_area = \"1800 ft²\"", "add [house]"});
}

std::string scenario_of(Document const& answers) { return Text{answers}.write(); }

std::vector<std::string> unknowns_of(Document const& answers, UnitSystem units) {
  std::vector<std::string> list;
  auto const add = [&](std::string const& whose, Field const& f) {
    std::string key = f.key;
    std::replace(key.begin(), key.end(), '_', ' ');
    list.push_back(whose + ", " + key + ": " + f.help.in(units));
  };
  for (auto const& k : answers_catalog()) {
    if (k.name == Opening::kind) continue;
    bool told = false;
    for (auto const& t : answers.tables) {
      if (t.kind->name != k.name) continue;
      told = true;
      for (std::size_t i = 0; i < k.fields.size(); ++i)
        if (!t.values[i].given || t.values[i].unknown) add(t.name.empty() ? k.name : t.name, k.fields[i]);
    }
    if (told) continue;
    if (k.home == Home::repeated) list.push_back("zones");
    else
      for (auto const& f : k.fields) add(k.name, f);
  }
  return list;
}

}  // namespace steadyfire

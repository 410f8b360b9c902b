// The scenario that answers make, line by line. A value that nobody stated is "unknown" where the file may say so; else it is marked.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/core/count_up.hpp"
#include "models/hot_water/deliverable.hpp"
#include "models/house/load_estimate.hpp"
#include "models/house/sections.hpp"
#include "sim/scenario/edit.hpp"
#include "tools/counter/answer_sections.hpp"
#include "tools/counter/answers.hpp"
#include "tools/counter/sizing.hpp"

namespace steadyfire {
namespace {

using namespace unit;
using sizing::Chosen, sizing::emitter_for, sizing::gas_pipe_for, sizing::head_of_tube, sizing::heating_inputs, sizing::hot_water_inputs,
    sizing::smallest_of, sizing::tube_for, sizing::with_excess;

template <auto M>
bool has_answer(Document const& answers) {
  auto const* e = answers.find(detail::Owner<M>::kind);
  return e && is_stated(value_of<M>(*e));
}

/// A stated value in one unit.
std::string in(AnyUnit const& u, double si, char const* symbol) { return fmt::format("\"{:.6g} {}\"", u.from_si(si), symbol); }
/// A value of our own, rounded.
std::string about(AnyUnit const& u, double si, char const* symbol) { return fmt::format("\"{:.0f} {}\"", u.from_si(si), symbol); }

/// A zone as it will be written.
struct ZonePlan {
  std::string name;
  int emitter = ZoneAnswer::fin_tube;
  double share = 0, load = 0, area = 0, height = Field::none;
  bool has_emitter = false, has_share = false, is_mixed = false;
  Chosen chosen{};
  std::string size{};
  double head = 0;  ///< [m] of its circuit at the flow that its load needs

  bool is_slab() const { return emitter == ZoneAnswer::slab; }
};

class AnsweredHouse {
 public:
  explicit AnsweredHouse(Document const& answers) : answers_{answers} {}

  std::string write() {
    read(), plan_hot_water(), plan_zones(), plan_heating();
    head(), site(), fluid(), boiler(), near_boiler();
    for (auto const& z : zones_) zone(z);
    hot_water(), gas(), vent(), candidates();
    line("\n[run]\nduration = \"1 d\"");
    return text_;
  }

 private:
  static constexpr char const* mark = "   # not stated";
  static char const* unless(bool stated) { return stated ? "" : mark; }
  template <auto M>
  bool has() const { return has_answer<M>(answers_); }
  void line(std::string const& words) { text_ += words + "\n"; }

  // --- what is known ------------------------------------------------------------------------------------------------
  void read() {
    Catalog const kinds = answers_catalog();
    house_ = section_of<HouseAnswer>(answers_, kinds);
    fixtures_ = section_of<FixturesAnswer>(answers_, kinds);
    gas_ = section_of<GasRunAnswer>(answers_, kinds);
    vent_ = section_of<VentRunAnswer>(answers_, kinds);
    construction_ = has<&HouseAnswer::construction>() ? house_.construction : 1;
    outdoors_ = has<&HouseAnswer::outdoor_design>() ? *house_.outdoor_design : degF.to_si(0);
    cold_ = has<&ColdWaterAnswer::coldest>() ? *section_of<ColdWaterAnswer>(answers_, kinds).coldest : degF.to_si(50);
    double constexpr usual_efficiency = 0.8, indoors = 294.26;
    load_ = has<&HouseAnswer::winter_fuel>()
                ? load_by_fuel(*house_.winter_fuel, usual_efficiency, *house_.winter_degree_days, indoors - outdoors_)
                : load_by_area(construction_, *house_.floor_area).middle;
  }
  bool has_fixtures() const {
    return has<&FixturesAnswer::showers>() || has<&FixturesAnswer::tubs>() || has<&FixturesAnswer::sinks>();
  }
  int showers() const { return has_fixtures() ? fixtures_.showers : 2; }
  bool is_propane() const { return has<&GasRunAnswer::gas>() && gas_.gas == 1; }
  /// Straight through, the circulator of a combi boiler would push water through the resting ones of the zones.
  bool wants_valves() const { return has<&HouseAnswer::zoning>() ? house_.zoning == HouseAnswer::zone_valves : is_direct(); }
  /// A mixing valve wants a circulator of its own, and one that all zones share would push hot water through it.
  bool has_valves() const {
    return wants_valves() && std::none_of(zones_.begin(), zones_.end(), [](auto const& z) { return z.is_mixed; });
  }
  std::string arrangement() const {
    return has<&HouseAnswer::arrangement>() ? HouseAnswer::arrangements().at(std::size_t(house_.arrangement)) : "closely spaced tees";
  }
  double least_input() const { return std::max(2.0, dhw_ / 10); }  // [kBtu/h]
  bool is_direct() const { return arrangement() == "direct"; }

  // --- what is chosen -----------------------------------------------------------------------------------------------
  /// The smallest input that these taps want, or what the data sheet says.
  void plan_hot_water() {
    double constexpr warm = 313.706, into_water = 0.9;  // [K] 105 °F at the tap; share of the input, the middle of a usual 85 to 95 %
    double const flow = (2.0 * showers() + 4.0 * fixtures_.tubs + 1.0 * fixtures_.sinks) * gpm.scale;
    dhw_ = smallest_of(hot_water_inputs, heat_for(flow, cold_, warm) / into_water / kBtu_per_hour.scale);
    double const rated_cold = degF.to_si(50);
    if (has<&FixturesAnswer::maker_input>()) dhw_ = *fixtures_.maker_input / kBtu_per_hour.scale;
    else if (has<&FixturesAnswer::maker_flow>())
      dhw_ = count_up(heat_for(*fixtures_.maker_flow, rated_cold, rated_cold + *fixtures_.maker_rise) / into_water / kBtu_per_hour.scale);
  }
  void plan_heating() {
    double constexpr into_rooms = 0.88;
    heating_ = smallest_of(heating_inputs, load_ / into_rooms / kBtu_per_hour.scale);
    bool const of_maker = has<&FixturesAnswer::maker_input>() || has<&FixturesAnswer::maker_flow>();
    if (of_maker) heating_ = std::min(heating_, dhw_);
    else dhw_ = std::max(dhw_, heating_);
  }
  void plan_zones() {
    double stated = 0;
    int open = 0;
    for (auto const& t : answers_.tables) {
      if (t.kind->name != ZoneAnswer::kind) continue;
      auto const z = fill<ZoneAnswer>(t.values);
      ZonePlan p{.name = t.name};
      p.has_emitter = is_stated(value_of<&ZoneAnswer::emitter>(t)), p.has_share = is_stated(value_of<&ZoneAnswer::share>(t));
      if (p.has_emitter) p.emitter = z.emitter;
      if (p.has_share) stated += p.share = *z.share;
      else ++open;
      if (is_stated(value_of<&ZoneAnswer::height>(t))) p.height = *z.height;
      zones_.push_back(p);
    }
    bool const none = zones_.empty();
    if (none) {
      zones_.resize(2);
      zones_[0].name = "downstairs", zones_[0].share = 0.6, zones_[1].name = "upstairs", zones_[1].share = 0.4;
    }
    double const all = none || open > 0 ? 1 : stated;  // shares that are all stated are taken as parts of their sum
    bool const mixes = std::any_of(zones_.begin(), zones_.end(), [](auto const& z) { return !z.is_slab(); });
    double hottest = 0;  // [degF] that all get which are not mixed
    for (auto const& z : zones_)
      if (!z.is_slab()) hottest = std::max(hottest, sizing::usual_of(z.emitter).supply);
    for (auto& z : zones_) {
      if (!none && !z.has_share) z.share = std::max(0.05, 1 - stated) / open;
      z.area = std::max(square_foot.to_si(10), *house_.floor_area * z.share / all);
      z.load = load_ * z.share / all;
      z.chosen = emitter_for(z.emitter, z.load, z.area, hottest);
      if (!z.is_slab() && sizing::usual_of(z.emitter).supply < hottest)
        z.chosen.more = fmt::format("reset = {{ cold_supply = \"{:.0f} degF\" }}   # the hottest water of the house reaches it\n", hottest);
      z.is_mixed = z.is_slab() && mixes;
      z.size = tube_for(with_excess * z.chosen.flow, z.emitter == ZoneAnswer::fin_tube ? "3/4" : "1/2");
      z.head = z.chosen.head + head_of_tube(z.size, z.chosen.flow, foot.to_si(60), 12);
      if (z.is_mixed) z.head += foot.to_si(mixing_head);
      all_flow_ += z.chosen.flow, most_head_ = std::max(most_head_, z.head);
    }
  }
  /// A circulator that holds the head its circuit needs, with a fifth more and what its check takes.
  static std::string circulator(double head) {
    double const set = count_up(2 * (1.2 * head / foot.scale + 0.7)) / 2;
    char const* const duty = set <= 12 ? "small" : set <= 18 ? "medium" : "high head";
    return fmt::format("{{ duty = \"{}\", regulation = \"constant head\", setting_head = \"{:.1f} ft\" }}", duty, std::min(set, 28.0));
  }

  // --- what is written ----------------------------------------------------------------------------------------------
  void head() {
    line("# Made from six answers. Values marked 'not stated' are assumed (common practice, no published source). Fill in what you know,");
    line("# then run: steadyfire check THIS.toml --report review.html");
    line(fmt::format("format = 1\ntitle = {}\n", toml_text(value_of<&Opening::title>(answers_.root).text)));
  }
  void site() {
    line("[site]");
    if (has<&HouseAnswer::outdoor_design>()) {
      line("outdoor_design = " + in(degF, outdoors_, "degF"));
      double const mean = (outdoors_ + degF.to_si(60)) / 2;
      line("weather = { kind = \"daily wave\", mean = " + about(degF, mean, "degF") +
           ", swing = \"12 degF\" }   # a day between cold and mild");
    } else {
      line("outdoor_design = \"unknown\"   # not stated: find it; the run is a day at 0 °F until then");
    }
    if (has<&HouseAnswer::winter_fuel>()) {
      line("winter_fuel = " + in(therm, *house_.winter_fuel, "therm"));
      line("winter_degree_days = " + in(degF_day, *house_.winter_degree_days, "degF.d"));
      line("heated_area = " + in(square_foot, *house_.floor_area, "ft2"));
    }
  }
  void fluid() {
    if (has<&HouseAnswer::glycol>() && *house_.glycol > 0)
      line(fmt::format("\n[fluid]\nkind = \"propylene glycol\"\nmass_fraction = {:.2f}", *house_.glycol));
  }
  void boiler() {
    bool const has_input = has<&FixturesAnswer::maker_input>(), has_flow = has<&FixturesAnswer::maker_flow>();
    line("\n[boiler]");
    line(fmt::format("heating_input = \"{:.0f} kBtu/h\"   # the smallest round input that carries the load", heating_));
    line(fmt::format("minimum_input = \"{:.1f} kBtu/h\"{}: a tenth of the hot water input", least_input(), mark));
    line(fmt::format("dhw_input = \"{:.6g} kBtu/h\"{}", dhw_,
                     has_input  ? ""
                     : has_flow ? "   # not stated: the maker's flow and rise at 90%"
                                : "   # the smallest round input for these taps"));
    double const flow = with_excess * all_flow_ / gpm.scale;
    if (flow > 12) line(fmt::format("rated_flow = \"{:.0f} gpm\"{}: wider waterways for its size", count_up(flow), mark));
    if (has_flow)
      line("dhw_rated_flow = " + in(gpm, *fixtures_.maker_flow, "gpm") + "\ndhw_rated_rise = " +
           in(degF_change, *fixtures_.maker_rise, "degF"));
    if (is_propane()) line("fuel = \"propane\"");
    if (has<&HouseAnswer::altitude>() && !has<&VentRunAnswer::length>())
      line("altitude = " + in(foot, *house_.altitude, "ft") + "   # derate: from the manual");
  }
  void near_boiler() {
    double const flow = with_excess * all_flow_;
    bool const is_small = flow < gpm.to_si(9.5) && dhw_ <= 150;  // what a medium circulator moves through a usual boiler
    double const boiler_flow = is_small ? gpm.to_si(10.5) : std::max(gpm.to_si(15), 1.35 * flow);
    auto const size = tube_for(is_direct() ? flow : boiler_flow, "1");
    line("\n[near_boiler]\narrangement = " + toml_text(arrangement()) + unless(has<&HouseAnswer::arrangement>()) + "\nsize = " +
         toml_text(size) + "   # below 4 ft/s\nair_separator = {}\ndirt_separator = {}");
    if (wants_valves() && !has_valves())
      line("# Each zone has a circulator, not a valve: the shared one would push hot water through the slab's mixing valve.");
    double const mains = head_of_tube(size, flow, foot.to_si(28), 16);
    if (is_direct()) {  // the boiler's circulator, or those of the zones, move all the water
      double const boiler_head = foot.to_si(6 * std::pow(flow / gpm.to_si(8), 2));
      if (has_valves()) line("circulator = " + circulator(most_head_ + mains + boiler_head));
      return;
    }
    int const pumps = std::max(1, int(count_up(flow / gpm.to_si(16))));
    line(fmt::format("control_sensor = \"system supply\"\ncirculator = {{ duty = \"{}\"{} }}", is_small ? "medium" : "high head",
                     pumps > 1 ? fmt::format(", in_parallel = {}", pumps) : ""));
    if (has_valves()) line("system_circulator = " + circulator(most_head_ + mains));
  }
  void zone(ZonePlan const& z) {
    bool const has_share = z.has_share, is_construction_stated = has<&HouseAnswer::construction>();
    char const* const words[]{"old and leaky", "average", "new and tight"};
    line(fmt::format("\n[[zone]]\nname = {}", toml_text(z.name)));
    line("floor_area = " + about(square_foot, z.area, "ft2") + unless(has_share));
    line("design_load = \"unknown\"   # by the floor area and the construction, or the winter's fuel");
    line(fmt::format("construction = \"{}\"{}", words[construction_], unless(is_construction_stated)));
    line("emitter = " + z.chosen.text + (z.has_emitter ? "   # sized to the load" : mark));
    if (!z.chosen.more.empty()) text_ += z.chosen.more;
    if (z.is_mixed)
      line(fmt::format("mixing = {{ kind = \"motorised mixing valve\", cv = {:.1f} }}   # the other zones' water is too hot for a slab",
                       std::max(1.0, z.chosen.flow / gpm.scale)));
    line(has_valves() ? "zone_valve = {}" : "circulator = " + circulator(z.head));
    line("size = " + toml_text(z.size));
    if (is_stated(z.height)) line("height = " + in(foot, z.height, "ft"));
  }
  void hot_water() {
    bool const stated = has<&ColdWaterAnswer::coldest>();
    line("\n[hot_water]");
    line("cold_inlet = { kind = \"steady\", temperature = " + (stated ? in(degF, cold_, "degF") : "\"unknown\"") + " }" + unless(stated));
    auto const taps = [&](char const* word, int count, double flow, char const* lasts) {
      for (int i = 1; i <= count; ++i)
        line(fmt::format("\n[[tap]]\nname = \"{} {}\"{}\nflow = \"{:.1f} gpm\"\nat = [\"07:00\"]   # all at once\nlasts = [\"{}\"]", word,
                         i, unless(has_fixtures()), flow, lasts));
    };
    taps("shower", showers(), 2, "8 min"), taps("tub", fixtures_.tubs, 4, "8 min"), taps("sink", fixtures_.sinks, 1, "2 min");
  }
  void gas() {
    if (!has<&GasRunAnswer::length>()) {
      line("\n# Gas pipe not stated: describe it in [gas], [[gas_pipe]] and [[gas_appliance]].");
      return;
    }
    bool const has_elbows = has<&GasRunAnswer::elbows>(), has_size = has<&GasRunAnswer::size>();
    int const elbows = has_elbows ? gas_.elbows : 4;
    double const others = has<&GasRunAnswer::other_input>() ? *gas_.other_input : 0;
    double const input = std::max(heating_, dhw_) * kBtu_per_hour.scale + others;
    line("\n[gas]\n\n[[gas_pipe]]\nname = \"gas run\"\nfrom = \"meter\"\nto = \"boiler inlet\"");
    line("length = " + in(foot, *gas_.length, "ft"));
    line(fmt::format("elbows = {}{}", elbows, unless(has_elbows)));
    auto const size = has_size ? gas_.size : gas_pipe_for(input, *gas_.length, elbows, is_propane());
    line("size = " + toml_text(size) + (has_size ? "" : std::string(mark) + ": the smallest that carries it"));
    line("\n[[gas_appliance]]\nname = \"boiler\"\nat = \"boiler inlet\"");
    if (others > 0)
      line("\n[[gas_appliance]]\nname = \"others\"\nat = \"boiler inlet\"   # taken as at the end of the pipe\ninput = " +
           in(kBtu_per_hour, others, "kBtu/h"));
  }
  void vent() {
    if (!has<&VentRunAnswer::length>()) {
      line("\n# Vent not stated: describe it in [vent].");
      return;
    }
    using V = VentRunAnswer;
    bool const has_elbows = has<&V::elbows>(), has_material = has<&V::material>(), has_diameter = has<&V::diameter>();
    auto constexpr polypropylene = 3;  // takes any condensing boiler's flue gas
    static_assert(vent_materials[polypropylene].name == "polypropylene");
    double const usual_diameter = inch.to_si(std::max(heating_, dhw_) > 100 ? 3 : 2);
    line(fmt::format("\n[vent]\nsystem = \"two pipes\"{}", mark));
    line("material = " + toml_text(std::string(vent_materials[std::size_t(has_material ? vent_.material : polypropylene)].name)) +
         unless(has_material));
    line("diameter = " + in(inch, has_diameter ? *vent_.diameter : usual_diameter, "in") + unless(has_diameter));
    auto const run = fmt::format("{{ length = {}, elbows = {} }}", in(foot, *vent_.length, "ft"), has_elbows ? vent_.elbows : 3);
    line("exhaust = " + run + unless(has_elbows));
    line("intake = " + run + "   # taken as the exhaust");
    if (has<&HouseAnswer::altitude>())
      line("altitude = " + in(foot, *house_.altitude, "ft") + "\n# derate_per_1000_ft: from the manual; until then no input is taken off");
  }
  /// Another heating size each way beside the same hot water side, and other minimum fires: half of it, twice.
  void candidates() {
    auto const candidate = [&](std::string const& name, double heating, double least) {
      line(fmt::format("\n[[candidate]]\nname = \"{}\"\nheating_input = \"{:.0f} kBtu/h\"\nminimum_input = \"{:.1f} kBtu/h\"{}", name,
                       heating, least, mark));
    };
    std::span<double const> const all{heating_inputs};
    double const smaller = [&] {
      double best = 0;
      for (double const size : all)
        if (size < heating_) best = size;
      return best;
    }();
    double const larger = smallest_of(all, heating_ + 1), least = least_input();
    if (smaller >= 2 * least) candidate(fmt::format("heating {:.0f}", smaller), smaller, least);
    if (larger > heating_ && larger <= dhw_) candidate(fmt::format("heating {:.0f}", larger), larger, least);
    candidate("half the minimum fire", heating_, least / 2);
    if (2 * least <= heating_) candidate("twice the minimum fire", heating_, 2 * least);
  }

  static constexpr double mixing_head = 2.5;  // [ft] of the valve
  Document const& answers_;
  std::string text_;
  HouseAnswer house_{};
  FixturesAnswer fixtures_{};
  GasRunAnswer gas_{};
  VentRunAnswer vent_{};
  int construction_ = 1;
  double outdoors_ = 0, cold_ = 0, load_ = 0;
  double dhw_ = 0, heating_ = 0;            // [kBtu/h]
  double all_flow_ = 0, most_head_ = 0;     // of the zones [m³/s], [m]
  std::vector<ZonePlan> zones_;
};

}  // namespace

std::string scenario_of(Document const& answers) { return AnsweredHouse{answers}.write(); }

}  // namespace steadyfire

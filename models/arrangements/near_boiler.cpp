#include "models/arrangements/near_boiler.hpp"

#include "models/arrangements/names.hpp"
#include "models/arrangements/row.hpp"
#include "models/circulator.hpp"
#include "models/fluid/glycol.hpp"
#include "models/separators.hpp"

namespace steadyfire {
namespace {

class NearBoiler {
  using N = NearBoilerSection;

 public:
  NearBoiler(Builder& builder, NearBoilerSection const& near, bool zones_have_circulators, std::string const& size,
             BesideHeating const& beside)
      : builder_{builder}, parts_{builder.installation.parts}, near_{near}, size_{size}, beside_{beside},
        decoupled_{near.arrangement != N::direct},
        has_system_circulator_{near.system_circulator || (decoupled_ && !zones_have_circulators)},
        own_{near.appliance_circulator ? near.appliance_circulator : near.circulator},
        has_boiler_circulator_{beside.is_combi || decoupled_ || own_ || (!zones_have_circulators && !has_system_circulator_)},
        top_{decoupled_ ? "supply tee" : "system supply"}, bottom_{decoupled_ ? "return tee" : "system return"} {}

  Headers add(bool two_boilers) {
    boiler_supply(), boiler_return();
    if (two_boilers) lag_loop();
    if (near_.arrangement == N::tees) gap();
    if (near_.arrangement == N::separator || near_.arrangement == N::buffer) vessel();
    Headers const ends = near_.arrangement == N::exchanger ? exchanger() : Headers{top_, bottom_};
    return system(ends);
  }

 private:
  int pipe(Row& row, std::string name, double length, std::string to, int elbows) {
    return row.add("pipe", std::move(name), std::move(to), {{"length", length}, {"size", size_}, {"elbows", double(elbows)}});
  }
  /// Where a circulator regulates a temperature difference, a thermometer at the other end of its circuit.
  void sense(Row& row, Entry const& circulator, char const* sensor) {
    if (Circulator::wants_sensor(circulator)) row.add("supply sensor", sensor, row.joint() + " sensed");
  }
  int circulator(Row& row, std::string name, Entry const& stated, std::string to, char const* sensor, std::vector<Setting> wiring) {
    if (Circulator::wants_sensor(stated)) wiring.push_back({"sensor", sensor});
    return row.add("circulator", std::move(name), std::move(to), std::move(wiring), &stated);
  }
  static Setting calls(std::vector<std::string> controls) { return {"calls", std::move(controls)}; }
  Setting rests_for_hot_water() const { return {"rests_while", named::hot_water_control}; }

  /// The vessel of a separator whose size nobody states has three bores of its pipe: at 4 ft/s there it runs at 0.44 ft/s.
  template <auto M>
  void separator(Row& row, Entry const& stated, std::string to) {
    int const number = row.add(stated.kind->name, "boiler/" + stated.kind->name, std::move(to), {}, &stated);
    builder_.stated_by<M>(number);
    auto& diameter = value_of<&SeparatingVessel::diameter>(builder_.installation.pieces[number]);
    auto const bore = find_pipe_size(size_);
    if (bore && (!diameter.given || diameter.unknown)) diameter.numbers = {3 * bore->inside_diameter};
  }

  void boiler_supply() {
    Row row{builder_, beside_.by_valve ? named::heating_outlet : named::boiler_outlet};
    sense(row, own_, boiler_sensor);
    pipe(row, "boiler/supply", *near_.supply_length, near_.air_separator ? "boiler supply" : top_, near_.elbows);
    if (near_.air_separator) separator<&N::air_separator>(row, near_.air_separator, top_);
  }

  void boiler_return() {
    Row row{builder_, bottom_};
    std::vector<std::string> joints;  // the last of the row ends at the boiler
    if (near_.dirt_separator) joints.push_back("dirty return");
    if (near_.strainer) joints.push_back("unstrained return");
    if (has_boiler_circulator_) joints.push_back("boiler return");
    joints.push_back(named::boiler_inlet);
    auto to = joints.begin();
    pipe(row, "boiler/return", *near_.return_length, *to++, near_.elbows);
    if (near_.dirt_separator) separator<&N::dirt_separator>(row, near_.dirt_separator, *to++);
    if (near_.strainer) builder_.stated_by<&N::strainer>(row.add("strainer", "boiler/strainer", *to++, {}, &near_.strainer));
    if (has_boiler_circulator_) boiler_circulator(row, *to);
  }

  void boiler_circulator(Row& row, std::string to) {
    std::vector<std::string> controls{near_.tank_control ? named::tank_control : named::relay};
    if (beside_.by_valve) controls.push_back(named::hot_water_control);
    std::vector<Setting> wiring{calls(std::move(controls))};
    if (beside_.is_combi && !own_) wiring.push_back({"duty", 1.0});
    if (beside_.goes_first && !beside_.by_valve) wiring.push_back(rests_for_hot_water());
    int const number = circulator(row, "boiler/circulator", own_, std::move(to), boiler_sensor, std::move(wiring));
    if (near_.appliance_circulator) builder_.stated_by<&N::appliance_circulator>(number);
    else builder_.stated_by<&N::circulator>(number);
    parts_[Part::boiler_circulator] = number;
  }

  void lag_loop() {
    auto const sensor = "lag/supply sensor";
    Entry const& stated = near_.lag_circulator ? near_.lag_circulator : own_;
    Row supply{builder_, named::lag_outlet}, back{builder_, bottom_};
    sense(supply, stated, sensor);
    pipe(supply, "lag/supply", *near_.supply_length, top_, near_.elbows);
    pipe(back, "lag/return", *near_.return_length, "lag return", near_.elbows);
    builder_.stated_by<&N::lag_circulator>(
        circulator(back, "lag/circulator", stated, named::lag_inlet, sensor, {calls({named::lag_control})}));
  }

  void gap() {
    Row row{builder_, top_};
    parts_[Part::gap] = pipe(row, "tees/gap", *near_.gap_length, bottom_, 0);
  }

  /// A hydraulic separator or a buffer tank; boiler and zones may meet in a tee before either of its ends.
  void vessel() {
    bool const buffer = near_.arrangement == N::buffer;
    bool const tee_above = buffer && near_.tank_pipes != N::four, tee_below = buffer && near_.tank_pipes == N::two;
    double const volume = std::isnan(*near_.tank_volume) ? (buffer ? 40 : 3) * unit::gallon_m3 : *near_.tank_volume;
    std::vector<Setting> sizes{{"volume", volume}, {"layers", double(buffer ? near_.tank_layers : std::min(near_.tank_layers, 3))}};
    if (!std::isnan(*near_.separator_diameter)) sizes.push_back({"diameter", *near_.separator_diameter});
    parts_[Part::coupling] =
        builder_.add("tank", named::tank, {tee_above ? "tank top" : top_, tee_below ? "tank bottom" : bottom_}, std::move(sizes));
    Row above{builder_, top_}, below{builder_, "tank bottom"};
    if (tee_above) pipe(above, "tank/supply", *near_.tank_pipe_length, "tank top", 1);
    if (tee_below) pipe(below, "tank/return", *near_.tank_pipe_length, bottom_, 1);
  }

  /// Two circuits, each with its own water. Returns the ends of that of the zones.
  Headers exchanger() {
    Headers ends{"exchanger supply", "exchanger return"};
    int const number = builder_.add("plate exchanger", "exchanger", {top_, bottom_, ends.return_, ends.supply}, {}, &near_.plates);
    builder_.stated_by<&N::plates>(number);
    parts_[Part::exchanger] = number;
    if (!std::isnan(near_.glycol))
      builder_.installation.own_fluids.push_back(
          {ends.return_, std::make_shared<PropyleneGlycol>(near_.glycol), *near_.glycol_temperature});
    return ends;
  }

  Headers system(Headers const& ends) {
    auto const return_sensor = "system/return sensor";
    Row supply{builder_, ends.supply};
    if (near_.sensor == 1) parts_[Part::system_sensor] = supply.add("supply sensor", named::system_sensor, "sensed supply");
    if (has_system_circulator_) {
      std::vector<Setting> wiring{calls({named::relay})};
      if (beside_.goes_first && !decoupled_) wiring.push_back(rests_for_hot_water());  // in one loop with the boiler
      int const number =
          circulator(supply, "system/circulator", near_.system_circulator, "pumped supply", return_sensor, std::move(wiring));
      builder_.stated_by<&N::system_circulator>(number);
      parts_[Part::system_circulator] = number;
    }
    parts_[Part::system_supply] = pipe(supply, "system/supply", *near_.system_length, named::supply_header, near_.elbows);
    if (near_.bypass) {
      int const number =
          builder_.add("bypass valve", "system/bypass", {named::supply_header, named::return_header}, {}, &near_.bypass);
      builder_.stated_by<&N::bypass>(number);
      parts_[Part::system_bypass] = number;
    }
    Row back{builder_, named::return_header};
    sense(back, near_.system_circulator, return_sensor);
    pipe(back, "system/return", *near_.system_length, ends.return_, near_.elbows);
    return {named::supply_header, named::return_header};
  }

  static constexpr char const* boiler_sensor = "boiler/supply sensor";
  Builder& builder_;
  std::map<Part, int>& parts_;
  NearBoilerSection const& near_;
  std::string const& size_;
  BesideHeating const& beside_;
  bool decoupled_, has_system_circulator_;
  Entry const& own_;  // the boiler's circulator, as stated
  bool has_boiler_circulator_;
  std::string top_, bottom_;  // the joints that boiler and zones share
};

}  // namespace

Headers add_near_boiler(Builder& builder, NearBoilerSection const& near, bool zones_have_circulators, bool two_boilers,
                        std::string const& size, BesideHeating const& beside) {
  return NearBoiler{builder, near, zones_have_circulators, size, beside}.add(two_boilers);
}

}  // namespace steadyfire

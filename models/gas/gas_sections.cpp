#include "models/gas/gas_sections.hpp"

#include "models/pipe_sizes.hpp"

namespace steadyfire {

void check_gas_size(Value const& size, std::string const& who, Diagnostics& faults) {
  if (find_gas_pipe_size(size.text)) return;
  std::string word = size.text;
  for (char& c : word) c = char(std::tolower(static_cast<unsigned char>(c)));
  bool const is_corrugated = word.find("csst") != word.npos || word.find("corrugated") != word.npos;
  auto const meant = pipe_size_meant(size.text, gas_pipe_size_names());
  auto const near = meant.empty() ? nearest(size.text, gas_pipe_size_names()) : meant;
  std::string const known = "known sizes: 1/2 to 4 in steel 40, 1/4 to 2 in copper K and copper L";
  faults.add({"E221", size.at, who + ": unknown gas pipe size \"" + size.text + "\"",
              is_corrugated ? "capacity = { length = \"ft\", flow = \"cfh\", points = [[10, …], …] } and capacity_drop = \"0.5 in. w.c.\""
                            : "nominal size and material, such as \"1/2 in steel 40\"",
              is_corrugated ? "copy the tube maker's capacity table for this size"
                            : near.empty() ? known : "did you mean \"" + near + "\"?"});
}

namespace {

void check_capacity(Entry const& e, Diagnostics& faults) {
  auto const& table = value_of<&GasPipeSection::capacity>(e);
  auto const curve = Curve::from(table.numbers);
  bool falls = !curve.is_polynomial();
  for (std::size_t i = 0; falls && i < curve.x().size(); ++i)
    falls = curve.x()[i] > 0 && curve.y()[i] > 0 && (i == 0 || curve.y()[i] < curve.y()[i - 1]);
  if (!falls)
    faults.add({"E280", table.at, e.who + ": the capacity table does not fall with length",
                "lengths and flows above 0, with flow falling as length rises",
                    "check the table: a longer tube carries less at the same drop"});
  if (auto const& drop = value_of<&GasPipeSection::capacity_drop>(e); !drop.given)
    faults.add({"E205", table.at, e.who + ": 'capacity' needs 'capacity_drop'", "capacity_drop = \"0.5 in. w.c.\"",
                "take it from the heading of the maker's table"});
  using P = GasPipeSection;
  each_value<&P::elbows, &P::elbows_45, &P::tees_turned, &P::valves>(e, [&](std::string const& key, Value const& count) {
    if (count.given && count.numbers.at(0) > 0)
      faults.add({"E222", count.at, e.who + ": '" + key + "' does not go with corrugated tube",
                  "fittings_length, from the maker", "write the fittings as fittings_length", table.at});
  });
}

}  // namespace

void GasPipeSection::check(Entry const& e, Diagnostics& faults) {
  using P = GasPipeSection;
  auto const &size = value_of<&P::size>(e), &capacity = value_of<&P::capacity>(e), &drop = value_of<&P::capacity_drop>(e);
  if (size.given && capacity.given)
    faults.add({"E222", capacity.at, e.who + " has both 'size' and 'capacity'", "one of them",
                "remove one; the table is for corrugated tube", size.at});
  else if (!size.given && !capacity.given)
    faults.add({"E205", e.at, e.who + ": 'size' or 'capacity' is missing", "size = \"1/2 in steel 40\"",
                "for corrugated tube use the maker's table: capacity = { … }"});
  else if (drop.given && !capacity.given)
    faults.add({"E222", drop.at, e.who + ": 'capacity_drop' needs 'capacity'", "no 'capacity_drop'", "remove it, or add the capacity table",
                size.at});
  if (size.given) check_gas_size(size, e.who, faults);
  if (capacity.given) check_capacity(e, faults);
}

void GasApplianceSection::check(Entry const& e, Diagnostics& faults) {
  using A = GasApplianceSection;
  auto const &input = value_of<&A::input>(e), &least = value_of<&A::least_pressure>(e), &most = value_of<&A::most_pressure>(e);
  if (is_boiler(e.name) && input.given)
    faults.add({"E222", input.at, e.who + ": a boiler's input is stated twice", "no 'input' here",
                e.name == "boiler" ? "remove it: [boiler] has it" : "remove it: [lag_boiler] has it"});
  if (!is_boiler(e.name) && !input.given)
    faults.add({"E205", e.at, e.who + ": 'input' is missing", "input = \"65 kBtu/h\"", "take it from the nameplate"});
  if (least.given && most.given && least.numbers.at(0) >= most.numbers.at(0))
    faults.add({"E222", most.at, e.who + ": most_pressure is not above least_pressure", "most_pressure above least_pressure",
        "swap or correct them", least.at});
}

}  // namespace steadyfire

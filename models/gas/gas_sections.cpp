#include "models/gas/gas_sections.hpp"

namespace steadyfire {
namespace {

void check_gas_size(Value const& size, std::string const& who, Diagnostics& faults) {
  if (find_gas_pipe_size(size.text)) return;
  std::string word = size.text;
  for (char& c : word) c = char(std::tolower(static_cast<unsigned char>(c)));
  bool const is_corrugated = word.find("csst") != word.npos || word.find("corrugated") != word.npos;
  auto const near = nearest(size.text, gas_pipe_size_names());
  std::string const known = "known are 1/2 to 4 in of steel 40, 1/4 to 2 in of copper K and copper L";
  faults.add({"E221", size.at, who + ": no size of gas pipe \"" + size.text + "\"",
              is_corrugated ? "capacity = { length = \"ft\", flow = \"cfh\", points = [[10, …], …] } and capacity_drop = \"0.5 inH2O\""
                            : "a nominal size and material, as \"1/2 in steel 40\"",
              is_corrugated ? "no two makers' corrugated tubes carry alike: state the maker's table for this size"
                            : near.empty() ? known : "did you mean \"" + near + "\"?"});
}

void check_capacity(Entry const& e, Diagnostics& faults) {
  auto const& table = value_under(e, "capacity");
  auto const curve = Curve::from(table.numbers);
  bool falls = !curve.is_polynomial();
  for (std::size_t i = 0; falls && i < curve.x().size(); ++i)
    falls = curve.x()[i] > 0 && curve.y()[i] > 0 && (i == 0 || curve.y()[i] < curve.y()[i - 1]);
  if (!falls)
    faults.add({"E280", table.at, e.who + ": the table of its capacity does not fall with length",
                "points of a length above 0 and a flow above 0, the flow falling", "a longer tube carries less at the same drop"});
  if (auto const& drop = value_under(e, "capacity_drop"); !drop.given)
    faults.add({"E205", table.at, e.who + ": 'capacity' lacks 'capacity_drop'", "capacity_drop = \"0.5 inH2O\"",
                "it stands in the heading of the maker's table"});
  for (auto const* key : {"elbows", "elbows_45", "tees_turned", "valves"})
    if (auto const& count = value_under(e, key); count.given && count.numbers.at(0) > 0)
      faults.add({"E222", count.at, e.who + ": '" + key + "' is counted in bores, and a corrugated tube has no plain one",
                  "fittings_length, by the maker", "", table.at});
}

}  // namespace

void GasPipeSection::check(Entry const& e, Diagnostics& faults) {
  auto const &size = value_under(e, "size"), &capacity = value_under(e, "capacity"), &drop = value_under(e, "capacity_drop");
  if (size.given && capacity.given)
    faults.add({"E222", capacity.at, e.who + " has both a size and a table of its capacity", "one of them",
                "the table is for corrugated tube", size.at});
  else if (!size.given && !capacity.given)
    faults.add({"E205", e.at, e.who + " has neither a size nor a table of its capacity", "size = \"1/2 in steel 40\"",
                "for corrugated tube the maker's table: capacity = { … }"});
  else if (drop.given && !capacity.given)
    faults.add({"E222", drop.at, e.who + ": 'capacity_drop' is given, and there is no table of its capacity", "no 'capacity_drop'", "",
                size.at});
  if (size.given) check_gas_size(size, e.who, faults);
  if (capacity.given) check_capacity(e, faults);
}

void GasApplianceSection::check(Entry const& e, Diagnostics& faults) {
  auto const &input = value_under(e, "input"), &least = value_under(e, "least_pressure"), &most = value_under(e, "most_pressure");
  if (is_boiler(e.name) && input.given)
    faults.add({"E222", input.at, e.who + ": the input of a boiler is stated twice", "no 'input' here",
                e.name == "boiler" ? "it is that of [boiler]" : "it is that of [lag_boiler]"});
  if (!is_boiler(e.name) && !input.given)
    faults.add({"E205", e.at, e.who + " lacks 'input'", "input = \"65 kBtu/h\"", "its nameplate has it"});
  if (least.given && most.given && least.numbers.at(0) >= most.numbers.at(0))
    faults.add({"E222", most.at, e.who + ": most_pressure is not above least_pressure", "the two in order", "", least.at});
}

}  // namespace steadyfire

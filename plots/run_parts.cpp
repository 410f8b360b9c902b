#include "plots/run_parts.hpp"

#include <cmath>

#include <fmt/format.h>

#include "plots/page_parts.hpp"

namespace steadyfire {
namespace {

double length(Track const& t) { return t.channels.empty() ? 0 : t.step * double(t.channels[0].mean.size()); }

}  // namespace

std::string clock(double seconds) {
  long const s = std::lround(seconds);
  std::string const days = s >= 86400 ? fmt::format("{} d ", s / 86400) : std::string{};
  return days + fmt::format("{:02}:{:02}:{:02}", s / 3600 % 24, s / 60 % 60, s % 60);
}

bool is_one_day(Record const& r) { return length(r.whole) <= length(r.closeup) * (1 + 1e-6); }  // then both show the same

Track const& finest_whole(Record const& r) { return is_one_day(r) && r.closeup.step < r.whole.step ? r.closeup : r.whole; }

std::vector<EnergyRow> energy_rows(EnergyRecord const& e, UnitSystem system) {
  auto const told = [&](double si, Measure const& m) { return printed(si, m, system); };
  auto const share = [&](double v) { return e.fuel > 0 ? told(v / e.fuel, measure::fine_share) : std::string{"–"}; };
  std::vector<EnergyRow> rows{{"fuel", told(e.fuel, measure::fuel) + " = " + told(e.fuel, measure::energy), share(e.fuel)},
                              {"heat from the boiler", told(e.from_boiler, measure::energy), share(e.from_boiler)},
                              {"heat to rooms and taps", told(e.to_rooms, measure::energy), share(e.to_rooms)}};
  for (auto const& [kind, joules] : e.losses)
    rows.push_back({"lost: " + std::string(loss_name(kind)), told(joules, measure::energy), share(joules)});
  rows.push_back({"more heat stored than at the start", told(e.stored, measure::energy), share(e.stored)});
  rows.push_back({"electricity", told(e.electricity, measure::electricity), ""});
  rows.push_back({"energy check: heat in and out differ by", "", told(e.closure, Measure{unit::percent, unit::percent, 3, 3})});
  if (e.cost) rows.push_back({"cost", told(*e.cost, measure::money), ""});
  if (e.carbon) rows.push_back({"carbon dioxide", told(*e.carbon, measure::mass), ""});
  return rows;
}

}  // namespace steadyfire

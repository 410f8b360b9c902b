#include "sim/record/record_csv.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "sim/core/text.hpp"
#include "sim/record/hot_water_json.hpp"

namespace steadyfire {

std::string csv_cell(std::string const& words) {
  auto const text = printable(words);
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (char const c : text) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

namespace {

void series(Track const& t, std::ostream& out) {
  std::string header = "time_s";
  for (auto const& c : t.channels) header += "," + csv_cell(c.id + json_key("", c.measure));
  out << header << "\r\n";
  for (std::size_t i = 0; !t.channels.empty() && i < t.channels[0].mean.size(); ++i) {
    out << fmt::format("{}", t.start + double(i) * t.step);
    for (auto const& c : t.channels) out << fmt::format(",{:.7g}", json_value(c.mean[i], c.measure));
    out << "\r\n";
  }
}

void draws(HotWaterRecord const& h, std::ostream& out) {
  out << "tap,start_s,duration_s,volume_m3,volume_wanted_m3,run_off_m3,flow_m3_s,flow_wanted_m3_s,wanted_degC,mean_degC,"
         "mean_after_hot_degC,lowest_after_hot_degC,time_to_hot_s,energy_J,energy_short_J,burner_fired,end\r\n";
  auto const known = [](double value) { return std::isnan(value) ? "" : fmt::format("{:.7g}", value); };
  for (auto const& d : h.draws)
    out << fmt::format("{},{:.3f},{:.3f},{:.7g},{:.7g},{:.7g},{:.7g},{:.7g},{:.4f},{:.4f},{},{},{},{:.8g},{:.8g},{},{}\r\n",
                       csv_cell(h.taps[std::size_t(d.tap)].name), d.start, d.duration, d.volume, d.volume_wanted, d.run_off, d.flow,
                       d.flow_wanted, celsius(d.wanted), celsius(d.delivered), known(celsius(d.after_hot)),
                       known(celsius(d.lowest_after_hot)), known(d.time_to_hot), d.energy, d.energy_short, d.fired ? "yes" : "no",
                       word_for(d.end));
}

}  // namespace

void write_csv(Record const& r, UnitSystem system, std::function<std::ostream&(std::string const& name)> const& table) {
  auto const begin = [&](char const* name, std::string const& header) -> std::ostream& { return table(name) << header << "\r\n"; };
  series(r.whole, table("series.csv"));
  auto& events = begin("events.csv", "time_s,place,what,why");
  for (auto const& e : r.events)
    events << fmt::format("{:.3f},{},{},{}\r\n", e.time, csv_cell(e.place), csv_cell(e.what), csv_cell(e.why.in(system)));
  auto& zones = begin("zones.csv",
                      "zone,emitter,room_min_degC,room_mean_degC,room_max_degC,setting_degC,overshoot_Ks,undershoot_Ks,"
                      "longest_call_s,call_time_s,heat_J,design_load_W");
  for (auto const& z : r.zones)
    zones << fmt::format("{},{},{:.4f},{:.4f},{:.4f},{:.4f},{:.6g},{:.6g},{:.3f},{:.3f},{:.8g},{:.6g}\r\n", csv_cell(z.name),
                         csv_cell(z.emitter),
                         celsius(z.room_min), celsius(z.room_mean), celsius(z.room_max), celsius(z.setting), z.overshoot,
                         z.undershoot, z.longest_call, z.call_time, z.heat, z.design_load);
  if (!r.band.empty()) {
    auto& band = begin("band.csv",
                       "place,key,end,value,value_unit,starts,starts_per_hour_worst,burn_median_s,coldest_room_degC,fuel_J,incomplete");
    for (auto const& b : r.band)
      for (auto const* e : {&b.low, &b.high}) {
        band << fmt::format("{},{},{},{:.8g},{},", csv_cell(b.place), csv_cell(b.key), e == &b.low ? "low" : "high",
                            json_value(e->value, b.measure), json_unit(b.measure));
        if (e->incomplete.empty())
          band << fmt::format("{},{},{:.3f},{:.4f},{:.8g},\r\n", e->starts, e->starts_per_hour_worst, e->burn_median,
                              celsius(e->coldest_room), e->fuel);
        else band << ",,,,," << csv_cell(e->incomplete) << "\r\n";
      }
  }
  if (r.hot_water) draws(*r.hot_water, table("draws.csv"));
  auto& burns = begin("burns.csv", "burn,length_s");
  for (std::size_t i = 0; i < r.burner.burns.size(); ++i) burns << fmt::format("{},{:.3f}\r\n", i + 1, r.burner.burns[i]);
}

std::string to_csv(ReviewTable const& table, UnitSystem system) {
  std::vector<bool> has_numbers;
  std::vector<std::string> header;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    has_numbers.push_back(std::any_of(table.rows.begin(), table.rows.end(), [&](auto const& row) { return row.at(c).is_number; }));
    header.push_back(csv_cell(table.columns[c]));
    if (has_numbers[c]) header.push_back(csv_cell(table.columns[c] + "_unit"));
  }
  std::string text = fmt::format("{}\r\n", fmt::join(header, ","));
  for (auto const& row : table.rows) {
    std::vector<std::string> cells;
    for (std::size_t c = 0; c < row.size(); ++c) {
      auto const& unit = row[c].measure.unit(system);
      cells.push_back(row[c].is_number ? fmt::format("{:.6g}", unit.from_si(row[c].value)) : csv_cell(row[c].words.in(system)));
      if (has_numbers[c]) cells.push_back(row[c].is_number ? csv_cell(std::string(unit.symbol)) : "");
    }
    text += fmt::format("{}\r\n", fmt::join(cells, ","));
  }
  return text;
}

}  // namespace steadyfire

#include "plots/page_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace steadyfire {

std::string span(double seconds) {
  if (seconds < 90) return fmt::format("{:.0f} s", seconds);
  if (seconds < 5400) return fmt::format("{:.1f} min", seconds / 60);
  if (seconds < 2 * 86400) return fmt::format("{:.1f} h", seconds / 3600);
  return fmt::format("{:.1f} d", seconds / 86400);
}

std::string spaced(std::string key) {
  std::replace(key.begin(), key.end(), '_', ' ');
  return key;
}

std::string label_of_figure(std::string const& name) {
  static std::map<std::string, std::string> const labels{
      {"allowable", "most allowed"},
      {"boiler_held_at_least", "boiler supply held"},
      {"boiler_supply", "supply at the boiler"},
      {"burn_median", "median burn"},
      {"clogged", "share clogged"},
      {"differential", "on/off differential"},
      {"drive", "push of rising warm water"},
      {"fill", "fill pressure"},
      {"filled", "fill pressure"},
      {"flow_share", "share of the flow needed"},
      {"half_its_head", "half of its head"},
      {"head_loss_m", "head loss"},
      {"head_m", "head"},
      {"heat_share", "heat at this flow"},
      {"holds", "acceptance"},
      {"hot", "hot water"},
      {"least", "minimum"},
      {"least_difference", "minimum pressure difference"},
      {"least_distance", "minimum distance"},
      {"least_flow", "minimum flow"},
      {"least_height", "minimum height"},
      {"least_output", "minimum fire output"},
      {"least_pressure", "minimum pressure"},
      {"least_steady_flow", "minimum steady flow"},
      {"lift", "height"},
      {"more_than_clean", "head loss above clean"},
      {"most", "maximum"},
      {"most_difference", "maximum pressure difference"},
      {"most_flow", "maximum flow"},
      {"most_of_load", "140% of design load"},
      {"most_pressure", "maximum pressure"},
      {"nine_tenths", "90% of its setting"},
      {"note_burn", "burn worth a look"},
      {"of_a_flow_check", "usual flow check opens at"},
      {"opening_wanted", "opening needed"},
      {"opens_at", "flow check opens at"},
      {"other_flow", "other flow"},
      {"output_least", "minimum fire output"},
      {"precharge", "air charge"},
      {"reaching_zones", "supply at the zones"},
      {"reynolds", "Reynolds number"},
      {"room_volume_wanted", "room volume needed"},
      {"set_point", "setpoint"},
      {"setting", "setting"},
      {"short_burn", "minimum burn"},
      {"starts_limit", "starts in an hour"},
      {"starts_per_hour_worst", "starts in the worst hour"},
      {"vapour_pressure", "boiling pressure"},
      {"wanted", "needed"},
      {"zones_flow", "zone flow"},
  };
  auto const known = labels.find(name);
  return known == labels.end() ? spaced(name) : known->second;
}

Table::Table(std::vector<std::string> const& heads, std::string_view look) {
  html_ = fmt::format(R"(<div class="wide" tabindex="0"><table class="{}">)", look);
  if (!heads.empty()) {
    html_ += "<thead><tr>";
    for (auto const& h : heads) html_ += "<th>" + escaped(h) + "</th>";
    html_ += "</tr></thead>";
  }
  html_ += "<tbody>";
}

void Table::row(std::vector<std::string> const& cells, std::string_view look) {
  html_ += fmt::format(R"(<tr class="{}">)", look);
  for (auto const& c : cells) html_ += "<td>" + escaped(c) + "</td>";
  html_ += "</tr>";
}

std::string section(std::string_view title, std::string const& body) {
  return body.empty() ? body : fmt::format("<section><h2>{}</h2>{}</section>", escaped(title), body);
}

std::string note(std::string_view words) { return fmt::format(R"(<p class="note">{}</p>)", escaped(words)); }

std::string bullets(std::vector<std::string> const& items) {
  std::string out;
  for (auto const& item : items) out += "<li>" + escaped(item) + "</li>";
  return out.empty() ? out : "<ul>" + out + "</ul>";
}

std::string finding_list(std::vector<Finding> findings, UnitSystem system, std::string_view none) {
  if (findings.empty()) return note(none);
  std::string out = R"(<ol class="findings">)";
  for (auto const& group : grouped(std::move(findings))) {
    auto const& f = group.first;
    out += fmt::format(R"(<li class="is-{0}"><p><span class="weight">{0}</span> <b>{1}:</b> {2}</p>)", word_for(f.severity),
                       escaped(f.place), escaped(f.words.in(system)));
    if (!group.others.empty()) out += fmt::format("<p>Also: {}</p>", escaped(group.also().in(system)));
    std::string line;
    auto const add = [&](std::string const& words) { line += (line.empty() ? "" : " · ") + words; };
    for (auto const& g : f.figures) add(label_of_figure(g.name) + " " + printed(g.value, g.measure, system));
    if (f.limit) add((f.limit->name == "limit" ? "limit " : "limit: " + label_of_figure(f.limit->name) + " ") +
                     printed(f.limit->value, f.limit->measure, system));
    if (!f.whose.empty()) add((f.limit ? "by " : "") + f.whose.in(system));
    if (!f.fix.empty()) out += fmt::format(R"(<p class="remedy"><b>Fix:</b> {}</p>)", escaped(f.fix_in(system)));
    out += note(line) + "</li>";
  }
  return out + "</ol>";
}

}  // namespace steadyfire

#include "sim/record/json_parts.hpp"

namespace steadyfire {

namespace {

/// "m3_s" for m³/s: units below the line follow those above after a _, with their exponents.
std::string suffix(Dimension d) {
  struct Named { Dimension dimension; std::string_view suffix; };
  static constexpr Named named[]{{Power::dimension, "W"},
                                 {Energy::dimension, "J"},
                                 {PowerPerArea::dimension, "W_m2"},
                                 {PowerPerLength::dimension, "W_m"},
                                 {Pressure::dimension, "Pa"},
                                 {Conductance::dimension, "W_K"},
                                 {HeatCapacity::dimension, "J_K"},
                                 {Resistance::dimension, "m2K_W"},
                                 {Conductivity::dimension, "W_mK"},
                                 {ConductancePerLength::dimension, "W_mK"},
                                 {ConductancePerArea::dimension, "W_m2K"},
                                 {SpecificHeat::dimension, "J_kgK"},
                                 {Viscosity::dimension, "Pa_s"},
                                 {HeatPerVolume::dimension, "J_m3K"},
                                 {PricePerEnergy::dimension, "money_J"},
                                 {MassPerEnergy::dimension, "kg_J"},
                                 {Temperature::dimension, "degC"},
                                 {Rate::dimension, "per_s"}};
  for (auto const& n : named)
    if (n.dimension == d) return std::string(n.suffix);
  std::string over, under;
  auto const add = [&](std::string_view symbol, int exponent) {
    auto& side = exponent < 0 ? under : over;
    if (exponent != 0) side += symbol;
    if (std::abs(exponent) > 1) side += std::to_string(std::abs(exponent));
  };
  add("kg", d.kg), add("m", d.m), add("K", d.K), add("s", d.s), add("money", d.money);
  return under.empty() ? over : over + "_" + under;
}

}  // namespace

std::string json_key(std::string_view words, Measure const& m) {
  std::string key;
  for (char const c : words) {
    bool const kept = std::isalnum(static_cast<unsigned char>(c)) || (c & 0x80);
    if (kept) key += c;
    else if (!key.empty() && key.back() != '_') key += '_';
  }
  while (!key.empty() && key.back() == '_') key.pop_back();
  auto const unit = json_unit(m);
  return unit.empty() ? key : key + "_" + unit;
}

std::string json_unit(Measure const& m) { return suffix(m.si.dimension); }

double json_value(double si, Measure const& m) { return m.si.dimension.point ? celsius(si) : si; }

Json findings_to_json(std::vector<Finding> const& all, UnitSystem system) {
  Json list = Json::array();
  for (auto const& f : all) {
    Json figures = Json::object();
    for (auto const& g : f.figures) figures[json_key(g.name, g.measure)] = json_value(g.value, g.measure);
    Json limit;
    if (f.limit) limit = {{json_key(f.limit->name, f.limit->measure), json_value(f.limit->value, f.limit->measure)}};
    list.push_back({{"id", f.id},
                    {"place", f.place},
                    {"weight", word_for(f.severity)},
                    {"words", f.words.in(system)},
                    {"figures", std::move(figures)},
                    {"limit", std::move(limit)},
                    {"whose", f.whose.in(system)}});
    if (!f.fix.empty()) list.back()["remedy"] = f.fix_in(system);
  }
  return list;
}

Json assumptions_to_json(std::vector<Assumption> const& all) {
  Json list = Json::array();
  for (auto const& a : all) {
    auto const key = [&](char const* word) { return json_key(word, a.measure); };
    list.push_back({{"place", a.place},
                    {"key", a.key},
                    {key("value"), json_value(a.value, a.measure)},
                    {key("least"), json_value(a.least, a.measure)},
                    {key("most"), json_value(a.most, a.measure)},
                    {"why", a.why}});
  }
  return list;
}

}  // namespace steadyfire

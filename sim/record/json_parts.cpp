#include "sim/record/json_parts.hpp"

#include <fmt/compile.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace steadyfire {

namespace {

/// Writes with few decimals what has few: a series of thousands of rounded numbers is printed ten times a second while one waits.
class Writer {
 public:
  std::string text;
  void write(Json const& j, int depth) {
    if (j.is_number_float()) write(j.get_ref<double const&>());
    else if (j.is_number_unsigned()) add(j.get_ref<std::uint64_t const&>());
    else if (j.is_number_integer()) add(j.get_ref<std::int64_t const&>());
    else if (j.is_structured()) write_list(j, depth);
    else text += j.dump();
  }

 private:
  template <class Number>
  void add(Number v) {
    std::array<char, 32> digits;
    text.append(digits.data(), fmt::format_to(digits.data(), FMT_COMPILE("{}"), v));
  }
  /// Shortest digits that read back as the same number; ".0" where it would be an integer then.
  void write(double v) {
    double constexpr most = 1e9;
    int constexpr most_decimals = 6;
    if (!std::isfinite(v)) { text += "null"; return; }
    double scale = 1;
    for (int decimals = 0; std::abs(v) < most && decimals <= most_decimals; ++decimals, scale *= 10) {
      double const whole = std::nearbyint(v * scale);
      if (whole / scale != v) continue;
      write(std::int64_t(std::abs(whole)), decimals, std::signbit(v));
      return;
    }
    auto const before = text.size();
    add(v);
    if (text.find_first_not_of("-0123456789", before) == std::string::npos) text += ".0";
  }
  void write(std::int64_t whole, int decimals, bool is_negative) {
    if (decimals == 0) whole *= 10, decimals = 1;
    std::array<char, 32> digits;
    auto at = digits.end();
    for (int place = 0; place <= decimals || whole > 0; ++place, whole /= 10) {
      if (place == decimals) *--at = '.';
      *--at = char('0' + whole % 10);
    }
    if (is_negative) *--at = '-';
    text.append(at, digits.end());
  }
  void write_list(Json const& j, int depth) {
    bool const named = j.is_object();
    text += named ? '{' : '[';
    bool const in_line = !named && std::all_of(j.begin(), j.end(), [](Json const& v) { return v.is_number(); });
    auto const begin_line = [&](int depth) {
      if (!in_line) text += '\n', text.append(depth, ' ');
    };
    bool first = true;
    for (auto it = j.begin(); it != j.end(); ++it) {
      if (!std::exchange(first, false)) text += in_line ? ", " : ",";
      begin_line(depth + 1);
      if (named) text += Json(it.key()).dump(), text += ": ";
      write(*it, depth + 1);
    }
    if (!first) begin_line(depth);
    text += named ? '}' : ']';
  }
};

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

double shown_value(double si, Measure const& m) {
  int constexpr digits = 6;
  static auto const powers = [] {
    std::array<double, 13> list{1};
    for (std::size_t i = 1; i < list.size(); ++i) list[i] = 10 * list[i - 1];
    return list;
  }();
  double const value = json_value(si, m), size = std::abs(value);
  if (!(size < powers[digits])) return std::round(value);
  std::size_t decimals = 0;  // no more than a millionth
  while (decimals < digits && size * powers[decimals] < powers[digits - 1]) ++decimals;
  return std::round(value * powers[decimals]) / powers[decimals];
}

std::string json_text(Json const& json) {
  Writer writer;
  writer.write(json, 0);
  return std::move(writer.text) + "\n";
}

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

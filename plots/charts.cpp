#include "plots/charts.hpp"

#include <algorithm>
#include <cmath>

#include "plots/page_text.hpp"

namespace steadyfire::chart {
namespace {

using nlohmann::json;

double rounded(double v, int digits) {
  double const scale = std::pow(10., digits);
  return std::round(v * scale) / scale;
}
json numbers(std::vector<float> const& si, Measure const& m, UnitSystem system, int digits) {
  json out = json::array();
  for (float v : si) out.push_back(std::isfinite(v) ? json(rounded(m.unit(system).from_si(v), digits)) : json());
  return out;
}
size_t bins(Track const& t) { return t.channels.empty() ? 0 : t.channels[0].mean.size(); }

struct Panel {
  std::string_view group, title, look;
};
constexpr std::array panels{Panel{"fire", "Burner", "band"}, Panel{"call", "Calls for heat", "steps"}, Panel{"water", "Water", "lines"},
                            Panel{"room", "Rooms", "lines"}, Panel{"outdoors", "Outdoor temperature", "lines"}};

json panel_of(Panel const& p, Track const& t, UnitSystem system) {
  json series = json::array();
  std::string unit;
  for (auto const& c : t.channels) {
    if (c.group != p.group) continue;
    unit = printed_unit(c.measure.unit(system));
    int const digits =
        p.look == "lines" ? 1 + (system == UnitSystem::us ? c.measure.us_digits : c.measure.si_digits) : 2;  // one more than in words
    json one{{"label", c.label}, {"mean", numbers(c.mean, c.measure, system, digits)}};
    if (p.look == "lines" && (c.least != c.mean || c.most != c.mean)) {
      one["least"] = numbers(c.least, c.measure, system, digits), one["most"] = numbers(c.most, c.measure, system, digits);
    }
    if (p.group == "water" && (c.id.rfind("zone/", 0) == 0 || c.id.rfind("tap/", 0) == 0))
      one["resting"] = true;  // boiler's water first; zones' and taps' on demand
    series.push_back(std::move(one));
  }
  return series.empty() ? json() : json{{"title", p.title}, {"look", p.look}, {"unit", unit}, {"series", std::move(series)}};
}

}  // namespace

Track thinned(Track const& track, size_t by) {
  Track out{track.start, track.step * double(by), track.channels};
  for (auto& c : out.channels) {
    size_t const n = c.mean.size();
    std::vector<float> least, mean, most;
    for (size_t i = 0; i < n; i += by) {
      auto const end = std::min(n, i + by);
      auto const range = [&](std::vector<float> const& v) { return std::pair{v.begin() + long(i), v.begin() + long(end)}; };
      auto const [l0, l1] = range(c.least.empty() ? c.mean : c.least);
      auto const [h0, h1] = range(c.most.empty() ? c.mean : c.most);
      double sum = 0;
      for (size_t k = i; k < end; ++k) sum += c.mean[k];
      least.push_back(*std::min_element(l0, l1)), most.push_back(*std::max_element(h0, h1)), mean.push_back(float(sum / double(end - i)));
    }
    c.least = std::move(least), c.mean = std::move(mean), c.most = std::move(most);
  }
  return out;
}

json over_time(Track const& whole, UnitSystem system, size_t most_numbers) {
  size_t const n = bins(whole) * whole.channels.size() * 3;
  Track const t = n > most_numbers ? thinned(whole, (n + most_numbers - 1) / most_numbers) : whole;
  json out{{"start", t.start}, {"step", t.step}, {"bins", bins(t)}, {"panels", json::array()}};
  for (auto const& p : panels) {
    if (auto panel = panel_of(p, t, system); !panel.is_null()) out["panels"].push_back(std::move(panel));
  }
  return out;
}

json burn_lengths(std::vector<float> const& burns) {
  struct Bin {
    double below;
    std::string_view label;
  };  // [min]
  static constexpr std::array bins{Bin{1, "< 1"},    Bin{2, "1–2"},    Bin{3, "2–3"},    Bin{5, "3–5"},      Bin{10, "5–10"},
                                   Bin{20, "10–20"}, Bin{30, "20–30"}, Bin{60, "30–60"}, Bin{120, "60–120"}, Bin{1e9, "> 120"}};
  std::vector<long> counts(bins.size());
  for (float b : burns)
    ++counts[std::find_if(bins.begin(), bins.end() - 1, [&](Bin const& bin) { return b / 60 < bin.below; }) - bins.begin()];
  json labels = json::array();
  for (auto const& b : bins) labels.push_back(b.label);
  return {{"labels", labels}, {"values", counts}, {"across", "burn length [min]"}, {"up", "burns"}};
}

json resets(std::vector<ResetRecord> const& curves, std::vector<OperatingPoint> const& points, UnitSystem system) {
  auto const& m = measure::fine_temperature;
  auto const shown = [&](double kelvin) { return rounded(m.unit(system).from_si(kelvin), 1); };
  auto const unit = printed_unit(m.unit(system));
  json out{{"across", "outdoor temperature [" + unit + "]"}, {"up", "supply temperature [" + unit + "]"}, {"curves", json::array()}};
  std::vector<ResetRecord> different;  // zones often share a curve: drawn once, with all their names
  for (auto const& c : curves) {
    auto const same = std::find_if(different.begin(), different.end(), [&](auto const& d) { return d.curve == c.curve; });
    if (same == different.end()) different.push_back(c);
    else same->name += ", " + c.name;
  }
  for (auto const& c : different) {
    auto corners = c.curve;
    std::sort(corners.begin(), corners.end());
    json x = json::array(), y = json::array();
    for (auto const& [outdoors, supply] : corners) x.push_back(shown(outdoors)), y.push_back(shown(supply));
    out["curves"].push_back({{"label", c.name}, {"x", x}, {"y", y}});
  }
  size_t const stride = points.size() / 3000 + 1;  // more dots than that cover each other
  json firing{{"label", "supply while firing"}, {"x", json::array()}, {"y", json::array()}},
      resting{{"label", "supply, burner off"}, {"x", json::array()}, {"y", json::array()}};
  for (size_t i = 0; i < points.size(); i += stride) {
    auto& to = points[i].fire > 0 ? firing : resting;
    to["x"].push_back(shown(points[i].outdoors)), to["y"].push_back(shown(points[i].supply));
  }
  out["points"] = {firing, resting};
  return out;
}

json zone_heat(std::vector<ZoneRecord> const& zones, UnitSystem system) {
  json labels = json::array(), values = json::array();
  for (auto const& z : zones) labels.push_back(z.name), values.push_back(rounded(measure::energy.unit(system).from_si(z.heat), 1));
  return {
      {"labels", labels}, {"values", values}, {"across", ""}, {"up", "heat [" + printed_unit(measure::energy.unit(system)) + "]"}};
}

}  // namespace steadyfire::chart

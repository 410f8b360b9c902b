#include "plots/network_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "plots/page_text.hpp"
#include "plots/piping_layout.hpp"
#include "plots/warmth_scale.hpp"
#include "sim/core/diagnostic.hpp"

namespace steadyfire {
namespace {

constexpr std::string_view style = R"(
.network{--ink:#22303a;--soft:#5b6b76;--paper:#fdfcf9;--zone:#f0eee6;--shade:#e2e7e9;font:12px system-ui,sans-serif}
@media(prefers-color-scheme:dark){.network{--ink:#e3e9ec;--soft:#a3b1ba;--paper:#161d22;--zone:#20292f;--shade:#34424b}}
@media print{.network{--ink:#22303a;--soft:#5b6b76;--paper:#fff;--zone:#f4f3ee;--shade:#e2e7e9}}
.network .sheet{fill:var(--paper)}.network .zone{fill:var(--zone)}
.network text{fill:var(--ink)}.network .figures{fill:var(--soft)}.network .name{font-weight:600}
.network .case{stroke:var(--ink);stroke-width:6.5;fill:none;stroke-linecap:square}
.network .pipe{stroke-width:4.5;fill:none;stroke-linecap:square}.network .blank{stroke:var(--paper)}
.network .still{stroke-dasharray:9 6;stroke-linecap:butt}
.network .body{fill:var(--paper);stroke:var(--ink);stroke-width:1.6;stroke-linejoin:round}
.network .fine{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-linejoin:round;stroke-linecap:round}
.network .solid{fill:var(--ink);stroke:var(--paper);stroke-width:1}
)";

/// Draws with the flow pointing right; the caller turns it.
std::string arrow(double size = 7) { return fmt::format(R"(<path class="solid" d="M{0} 0L-{1} -{1}L-{1} {1}Z"/>)", size, size * 0.75); }

/// The water in one stretch of pipe.
struct Water {
  double kelvin = 0;
  bool still = false;
};

class Picture {
 public:
  Picture(Drawing const& d, PipingLayout layout, Moment const* m, std::vector<Moment> const& others, UnitSystem s)
      : drawing_{d}, moment_{m}, system_{s}, layout_{std::move(layout)} {
    if (!m) return;
    find_warmth(others);
    water_ = water(*m);
  }

  std::string svg() {
    double const foot = 64, width = std::max(layout_.width, 560.), height = layout_.height + foot;
    std::string out = fmt::format(
        R"(<svg class="network" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {0:.0f} {1:.0f}" width="{0:.0f}" height="{1:.0f}" )"
        R"(role="img" aria-label="Piping schematic"><style>{2}</style>)",
        width, height, style);
    out += fmt::format(R"(<rect class="sheet" width="{:.0f}" height="{:.0f}" rx="8"/>)", width, height);
    for (auto const& z : layout_.zones) out += zone(z);
    out += "<g>" + edges() + "</g>";
    for (size_t i = 0; i < layout_.joint_pipes.size(); ++i) out += stretch(layout_.joint_pipes[i].near, layout_.joint_pipes[i].far, i);
    std::map<std::string, std::vector<int>> limbs_of;
    std::vector<std::string> order;
    for (int l = 0; l < int(drawing_.limbs.size()); ++l) {
      auto& limbs = limbs_of[drawing_.limbs[l].id];
      if (limbs.empty()) order.push_back(drawing_.limbs[l].id);
      limbs.push_back(l);
    }
    auto const is_tank = [&](std::string const& id) { return drawing_.limbs[limbs_of[id][0]].role == "tank"; };
    std::stable_partition(order.begin(), order.end(),
                          [&](auto const& id) { return !is_tank(id); });  // tanks over the pipes that open there
    for (auto const& id : order) out += piece(limbs_of[id]);
    for (auto const& t : layout_.tees) {
      if (!in_tank(t)) out += fmt::format(R"(<circle class="solid" cx="{:.0f}" cy="{:.0f}" r="5"/>)", t.x, t.y);
    }
    return out + legend(layout_.height) + "</svg>";
  }

  nlohmann::json repaintings(std::vector<Moment> const& moments) const {
    using nlohmann::json;
    int const colours = 64;
    json out{{"colours", json::array()}, {"texts", json::array()}, {"moments", json::array()}};
    for (int i = 0; i < colours; ++i) out["colours"].push_back(hex(warmth_colour((i + 0.5) / colours)));
    std::map<std::string, size_t> number;
    for (auto const& m : moments) {
      json stretches = json::array(), texts = json::array();
      std::string ways;
      for (auto const& w : water(m)) {
        int const colour = std::min(colours - 1, int(warmth(w.kelvin) * colours));
        stretches.push_back(w.still ? -1 - colour : colour);
      }
      for (int l = 0; l < int(drawing_.limbs.size()); ++l) {
        auto const [text, fresh] = number.try_emplace(figures(l, m), number.size());
        if (fresh) out["texts"].push_back(text->first);
        texts.push_back(text->second), ways += way_of(l, &m);
      }
      out["moments"].push_back(
          {{"time", std::round(m.time)}, {"words", m.words}, {"stretches", stretches}, {"texts", texts}, {"ways", ways}});
    }
    return out;
  }

 private:
  Drawing const& drawing_;
  Moment const* moment_;
  UnitSystem system_;
  PipingLayout layout_;
  double coldest_ = 0, step_ = 1;
  int steps_ = 1;
  bool colder_ = false;  // there is water colder than the scale
  std::vector<Water> water_;

  /// The scale runs over round numbers of the user's unit that hold all temperatures of this moment, and of the
  /// others all but the coldest twentieth of what flows: a cold start would take the colours from the rest.
  void find_warmth(std::vector<Moment> const& others) {
    auto const& unit = measure::temperature.unit(system_);
    std::vector<double> flowing;
    for (auto const& m : others) {
      check(m);
      for (size_t l = 0; l < m.flow.size(); ++l) {
        if (!still(m.flow[l])) flowing.push_back(m.temperature[l]);
      }
    }
    check(*moment_);
    auto all = moment_->temperature;
    if (!flowing.empty()) {
      std::sort(flowing.begin(), flowing.end());
      all.push_back(flowing[flowing.size() / 20]), all.push_back(flowing.back());
    }
    if (all.empty()) return;
    auto const [low, high] = std::minmax_element(all.begin(), all.end());
    double const from = unit.from_si(*low), to = unit.from_si(*high);
    for (double s : {1., 2., 5., 10., 20., 50., 100., 200., 500.}) {
      step_ = s, coldest_ = std::floor(from / s) * s, steps_ = std::max(1, int(std::ceil((to - coldest_) / s)));
      if (steps_ <= 6) break;
    }
    for (auto const& m : others) {
      for (double t : m.temperature) colder_ = colder_ || unit.from_si(t) < coldest_;
    }
  }
  void check(Moment const& m) const {
    if (m.flow.size() != drawing_.limbs.size() || m.temperature.size() != drawing_.limbs.size())
      throw InternalError{"the moment of a drawing has not one flow and one temperature a limb"};
  }
  double smallest_shown() const {
    int const digits = system_ == UnitSystem::us ? measure::flow.us_digits : measure::flow.si_digits;
    return measure::flow.unit(system_).scale * 0.5 * std::pow(10., -digits);
  }
  bool still(double flow) const { return std::abs(flow) < smallest_shown(); }
  double warmth(double kelvin) const {
    return std::clamp((measure::temperature.unit(system_).from_si(kelvin) - coldest_) / (step_ * steps_), 0., 1.);
  }

  /// The water in each stretch: joints' pipes first, then each limb before and behind its symbol. Water takes the
  /// mixed temperature of the joint it comes from until the symbol, and its leaving temperature from there on.
  std::vector<Water> water(Moment const& m) const {
    std::map<std::string, std::pair<double, double>> arriving;  // joint → flow, flow × temperature
    for (size_t l = 0; l < drawing_.limbs.size(); ++l) {
      double const q = m.flow[l];
      auto& [flow, heat] = arriving[q >= 0 ? drawing_.limbs[l].to : drawing_.limbs[l].from];
      flow += std::abs(q), heat += std::abs(q) * m.temperature[l];
    }
    auto const mixed = [&](std::string const& joint, double otherwise) {
      auto const found = arriving.find(joint);
      return found != arriving.end() && found->second.first > 0 ? found->second.second / found->second.first : otherwise;
    };
    std::vector<Water> out;
    for (auto const& p : layout_.joint_pipes) {
      double flow = 0;
      for (size_t i = 0; i < p.beyond.size(); ++i) flow += (p.leaving[i] ? 1 : -1) * m.flow[p.beyond[i]];
      Water w{0, still(flow)};
      if (!p.beyond.empty()) {
        auto const& l = drawing_.limbs[p.beyond[0]];
        w.kelvin = m.temperature[p.beyond[0]];
        if (flow >= 0) w.kelvin = mixed(p.leaving[0] ? l.from : l.to, w.kelvin);
      }
      out.push_back(w);
    }
    for (size_t l = 0; l < drawing_.limbs.size(); ++l) {
      bool const stands = still(m.flow[l]), on = m.flow[l] >= 0;
      double const leaving = m.temperature[l];
      double const entering = stands ? leaving : mixed(on ? drawing_.limbs[l].from : drawing_.limbs[l].to, leaving);
      out.push_back({on ? entering : leaving, stands}), out.push_back({on ? leaving : entering, stands});
    }
    return out;
  }
  size_t stretch_before(int limb) const { return layout_.joint_pipes.size() + 2 * size_t(limb); }

  std::string line(std::string_view look, Spot a, Spot b, size_t number, std::string_view paint) const {
    if (a.x == b.x && a.y == b.y) return "";
    bool const dashed = moment_ && water_[number].still;
    return fmt::format(R"(<path class="{}{}" data-stretch="{}"{} d="M{:.1f} {:.1f}L{:.1f} {:.1f}"/>)", look, dashed ? " still" : "", number,
                       paint, a.x, a.y, b.x, b.y);
  }
  std::string stretch(Spot a, Spot b, size_t number) const {
    if (!moment_) return line("pipe blank", a, b, number, "");
    return line("pipe", a, b, number, fmt::format(R"( stroke="{}")", hex(warmth_colour(warmth(water_[number].kelvin)))));
  }
  /// The dark edges of all pipes, beneath all colours: so corners and joints are clean.
  std::string edges() const {
    std::string out;
    for (size_t i = 0; i < layout_.joint_pipes.size(); ++i)
      out += line("case", layout_.joint_pipes[i].near, layout_.joint_pipes[i].far, i, "");
    for (size_t l = 0; l < layout_.limbs.size(); ++l) {
      auto const& p = layout_.limbs[l];
      out += line("case", p.start, p.symbol, stretch_before(int(l)), "") + line("case", p.symbol, p.end, stretch_before(int(l)) + 1, "");
    }
    return out;
  }

  std::string piece(std::vector<int> const& limbs) const {
    std::string out = fmt::format(R"(<g id="piece:{}">)", escaped(drawing_.limbs[limbs[0]].id));
    for (int l : limbs) out += limb(l);
    return out + "</g>";
  }

  std::string limb(int l) const {
    auto const& d = drawing_.limbs[l];
    auto const& p = layout_.limbs[l];
    std::string out = fmt::format(R"(<g data-limb="{}"><title>{}</title>)", l, escaped(title(l)));
    out += stretch(p.start, p.symbol, stretch_before(l)) + stretch(p.symbol, p.end, stretch_before(l) + 1);
    double const turn = std::atan2(p.end.y - p.start.y, p.end.x - p.start.x) * 180 / M_PI;
    auto const turned = [&](std::string const& shape) {
      return fmt::format(R"(<g transform="translate({:.1f} {:.1f}) rotate({:.0f}) ">{}</g>)", p.symbol.x, p.symbol.y, turn, shape);
    };
    out += turned(d.role == "tank" && p.upright ? tall_tank(l) : symbol(d, turn));
    if (!known(d) || d.role == "tank") {
      auto const way = way_of(l, moment_);
      out += turned(fmt::format(R"(<g class="way" visibility="{}" transform="scale({} 1) ">{}</g>)", way == '0' ? "hidden" : "visible",
                                way == '-' ? -1 : 1, arrow()));
    }
    return out + words(l) + "</g>";
  }
  /// '+' as meant, '-' backwards, '0' not flowing.
  char way_of(int l, Moment const* m) const {
    return !m || m->flow[l] >= 0 ? (m && still(m->flow[l]) ? '0' : '+') : still(m->flow[l]) ? '0' : '-';
  }
  static bool known(DrawingPiece const& d) {
    auto const& role = d.role;
    return d.kind == "expansion tank" || role == "boiler" || role == "circulator" || role == "valve" || role == "check" ||
           role == "emitter" || role == "tank" || role == "exchanger" || role == "tap" || role == "cold main";
  }

  /// Shapes with the inlet at the left, around the origin.
  static std::string symbol(DrawingPiece const& d, double turn) {
    auto const& role = d.role;
    if (role == "boiler")
      return R"(<rect class="body" x="-46" y="-38" width="92" height="76" rx="6"/>)"
             R"(<rect class="fine" x="-40" y="-32" width="80" height="64" rx="3"/>)" +
             fmt::format(
                 R"(<g transform="rotate({:.0f}) "><path class="fine" )"
                 R"(d="M-20 26H20M-14 26L-9 12L-4 26M-5 26L0 6L5 26M4 26L9 12L14 26"/></g>)",
                 -turn);
    if (role == "circulator") return R"(<circle class="body" r="17"/><path class="fine" d="M17 0L-8.5 -14.7M17 0L-8.5 14.7"/>)";
    if (role == "valve") {
      std::string const body = R"(<path class="body" d="M-15 -11L15 11V-11L-15 11Z"/>)";
      if (d.kind.find("zone valve") == std::string::npos) return body;
      return R"(<path class="fine" d="M0 0V15"/><rect class="body" x="-7" y="14" width="14" height="10"/>)" + body;  // with its motor
    }
    if (role == "check")
      return R"(<path class="body" d="M-10 -12L9 0L-10 12Z"/><path class="fine" d="M10 -13V13" style="stroke-width:3"/>)";
    if (role == "emitter")
      return R"(<rect class="body" x="-21" y="-22" width="42" height="44" rx="3"/>)"
             R"(<path class="fine" d="M-13 -15V15M-6.5 -15V15M0 -15V15M6.5 -15V15M13 -15V15"/>)";
    if (role == "tank")
      return R"(<rect class="body" x="-60" y="-24" width="120" height="48" rx="22"/>)"
             R"(<path class="fine" d="M-20 -24V24M20 -24V24" stroke-dasharray="3 4"/>)";
    if (d.kind == "expansion tank") return R"(<circle class="body" r="15"/><path class="fine" d="M0 -15Q9 0 0 15"/>)";  // with its membrane
    if (role == "tap")  // a spout with its handle
      return R"(<path class="body" d="M-16 -6H6Q16 -6 16 6V14H6V6H-16Z"/><path class="fine" d="M-4 -6V-13M-11 -13H3"/>)";
    if (role == "cold main")  // a wall with its pipe
      return R"(<rect class="body" x="-20" y="-14" width="40" height="28" rx="3"/><path class="fine" d="M-12 4Q-6 -6 0 4T12 4"/>)";
    if (role == "exchanger") return R"(<rect class="body" x="-22" y="-20" width="44" height="40"/><path class="fine" d="M-22 20L22 -20"/>)";
    return "";
  }
  /// A tank stands from above the upper pipes to below the lower ones, which open into its sides.
  std::string tall_tank(int l) const {
    auto const& p = layout_.limbs[l];
    double const length = std::hypot(p.end.x - p.start.x, p.end.y - p.start.y),
                 before = std::hypot(p.symbol.x - p.start.x, p.symbol.y - p.start.y);
    return fmt::format(
        R"(<rect class="body" x="{:.0f}" y="-{:.0f}" width="{:.0f}" height="{:.0f}" rx="{:.0f}"/>)"
        R"(<path class="fine" d="M{:.0f} -24V24M{:.0f} -24V24" stroke-dasharray="3 4"/>)",
        -before - tank_over, tank_half, length + 2 * tank_over, 2 * tank_half, tank_half, length / 3 - before, 2 * length / 3 - before);
  }
  static constexpr double tank_over = 20, tank_half = 24;
  bool in_tank(Spot s) const {
    for (size_t l = 0; l < layout_.limbs.size(); ++l) {
      auto const& p = layout_.limbs[l];
      if (drawing_.limbs[l].role != "tank" || !p.upright) continue;
      for (auto const& end : {p.start, p.end}) {
        if (std::hypot(s.x - end.x, s.y - end.y) < tank_half) return true;
      }
    }
    return false;
  }

  static Spot half(std::string const& role, bool upright) {
    Spot along{8, 8};
    if (role == "boiler")
      along = {46, 38};
    else if (role == "circulator")
      along = {17, 17};
    else if (role == "valve" || role == "check")
      along = {15, 13};
    else if (role == "emitter")
      along = {21, 22};
    else if (role == "tank")
      along = {60, 24};
    else if (role == "exchanger")
      along = {22, 20};
    else if (role == "tap")
      along = {16, 14};
    else if (role == "cold main")
      along = {20, 14};
    return upright ? Spot{along.y, along.x} : along;
  }

  std::string figures(int l) const { return moment_ ? figures(l, *moment_) : ""; }
  std::string figures(int l, Moment const& m) const {
    auto const flow = m.flow[l];
    return printed(m.temperature[l], measure::temperature, system_) + " · " +
           (still(flow) ? "no flow" : printed(std::abs(flow), measure::flow, system_));
  }
  std::string title(int l) const {
    auto const& d = drawing_.limbs[l];
    std::string out = d.label.empty() ? d.id : d.label;
    out += " (" + d.kind + ", " + d.id + ")";
    if (moment_) out += ": " + figures(l) + (way_of(l, moment_) == '-' ? ", backward" : "");
    return out;
  }
  std::string words(int l) const {
    auto const& d = drawing_.limbs[l];
    auto const& p = layout_.limbs[l];
    auto const label = d.label.empty() ? d.id : d.label;
    bool const said = !d.zone.empty() && label.rfind(d.zone + " ", 0) == 0;  // the zone stands above it
    auto names = lines_of(said ? label.substr(d.zone.size() + 1) : label, 19, 2);
    double const count = double(names.size()) + (moment_ ? 1 : 0), pitch = 14;
    Spot const h = d.kind == "expansion tank" ? Spot{15, 15} : half(d.role, p.upright);
    double x = p.symbol.x, y = 0;
    std::string anchor;
    if (p.upright) {
      x += h.x + 8, y = p.symbol.y - (count - 1) * pitch / 2 + 4;
    } else {
      anchor = R"( text-anchor="middle")";
      bool const above = p.symbol.y < layout_.height / 2;
      y = above ? p.symbol.y - h.y - 8 - (count - 1) * pitch : p.symbol.y + h.y + 17;
    }
    std::string out = fmt::format(R"(<text x="{:.0f}" y="{:.0f}"{}>)", x, y, anchor);
    for (size_t i = 0; i < names.size(); ++i)
      out += fmt::format(R"(<tspan x="{:.0f}" dy="{:.0f}">{}</tspan>)", x, i ? pitch : 0, escaped(names[i]));
    if (moment_) out += fmt::format(R"(<tspan class="figures" x="{:.0f}" dy="{:.0f}">{}</tspan>)", x, pitch, escaped(figures(l)));
    return out + "</text>";
  }

  static std::string zone(ZonePlace const& z) {
    double const head = 22;
    auto const [x, y] = z.top_left;
    return fmt::format(
        R"(<rect class="zone" x="{:.0f}" y="{:.0f}" width="{:.0f}" height="{:.0f}" rx="8"/>)"
        R"(<text class="name" x="{:.0f}" y="{:.0f}">{}</text>)",
        x, y - head, z.bottom_right.x - x, z.bottom_right.y - y + head, x + 42, y - 6,
        escaped(lines_of(z.name, 17, 1).empty() ? "" : lines_of(z.name, 17, 1)[0]));
  }

  std::string legend(double top) const {
    double const x = 28, bar = 240, y = top + 16;
    std::string out = fmt::format(R"(<g class="legend" transform="translate({:.0f} {:.0f}) ">)", x, y);
    if (!moment_)
      return out +
             fmt::format(R"(<g transform="translate(10 8) ">{}</g><text x="26" y="12">design flow direction</text></g>)",
                         arrow());
    int const bands = 48;
    for (int i = 0; i < bands; ++i)
      out += fmt::format(R"(<rect x="{:.1f}" width="{:.1f}" height="12" shape-rendering="crispEdges" fill="{}"/>)", i * bar / bands,
                         bar / bands + 0.3, hex(warmth_colour((i + 0.5) / bands)));
    out += fmt::format(R"(<rect class="fine" width="{:.0f}" height="12"/>)", bar);
    auto const unit = printed_unit(measure::temperature.unit(system_));
    for (int i = 0; i <= steps_; ++i) {
      out += fmt::format(R"(<text x="{0:.1f}" y="28" text-anchor="middle">{3}{1:.0f}{2}</text>)", i * bar / steps_, coldest_ + i * step_,
                         i == steps_ ? " " + unit : "", i == 0 && colder_ ? "≤ " : "");
    }
    out += fmt::format(R"(<g transform="translate(300 6) ">{}</g><text x="314" y="10">flow</text>)", arrow());
    out += R"(<path class="case still" d="M360 6H404"/><path class="pipe still blank" d="M360 6H404"/><text x="412" y="10">no flow</text>)";
    if (!moment_->words.empty()) out += fmt::format(R"(<text class="figures when" x="290" y="28">{}</text>)", escaped(moment_->words));
    return out + "</g>";
  }
};

}  // namespace

std::string draw_network(Drawing const& drawing, Moment const* moment, UnitSystem system, std::vector<Moment> const& others) {
  return Picture{drawing, lay_out(drawing), moment, others, system}.svg();
}

std::string draw_network(Drawing const& drawing, PipingLayout const& layout, Moment const* moment, UnitSystem system) {
  return Picture{drawing, layout, moment, {}, system}.svg();
}

nlohmann::json repaintings(Drawing const& drawing, Moment const& moment, UnitSystem system, std::vector<Moment> const& others) {
  return Picture{drawing, lay_out(drawing), &moment, others, system}.repaintings(others);
}

std::vector<Moment> moments_to_choose(Record const& r, std::size_t most) {
  std::vector<Moment> out;
  size_t const stride = r.moments.size() * r.drawing.limbs.size() / most + 1;
  for (size_t i = 0; i < r.moments.size(); i += stride) out.push_back(r.moments[i]);
  auto const later = [&](auto const& m) { return m.time > r.moment.time; };
  if (!out.empty()) out.insert(std::find_if(out.begin(), out.end(), later), r.moment);
  return out;
}

}  // namespace steadyfire

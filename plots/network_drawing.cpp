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

struct Water {
  double share = 0;
  bool still = false;
};

class Picture {
 public:
  Picture(Drawing const& d, Moment const* m, UnitSystem s) : drawing_{d}, moment_{m}, system_{s}, layout_{lay_out(d)} {
    if (m && (m->flow.size() != d.limbs.size() || m->temperature.size() != d.limbs.size()))
      throw InternalError{"the moment of a drawing has not one flow and one temperature a limb"};
    if (m) find_warmth();
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
    for (auto const& p : layout_.joint_pipes) out += joint_pipe(p);
    std::map<std::string, std::vector<int>> limbs_of;
    std::vector<std::string> order;
    for (int l = 0; l < int(drawing_.limbs.size()); ++l) {
      auto& limbs = limbs_of[drawing_.limbs[l].id];
      if (limbs.empty()) order.push_back(drawing_.limbs[l].id);
      limbs.push_back(l);
    }
    for (auto const& id : order) out += piece(limbs_of[id]);
    for (auto const& t : layout_.tees) out += fmt::format(R"(<circle class="solid" cx="{:.0f}" cy="{:.0f}" r="5"/>)", t.x, t.y);
    return out + legend(layout_.height) + "</svg>";
  }

 private:
  Drawing const& drawing_;
  Moment const* moment_;
  UnitSystem system_;
  PipingLayout layout_;
  double coldest_ = 0, step_ = 1;
  int steps_ = 1;
  std::map<std::string, double> mixed_;  // joint → temperature of what flows into it

  /// The scale runs over round numbers of the user's unit that hold all temperatures.
  void find_warmth() {
    auto const& unit = measure::temperature.unit(system_);
    auto [low, high] = std::minmax_element(moment_->temperature.begin(), moment_->temperature.end());
    if (low == moment_->temperature.end()) return;
    double const from = unit.from_si(*low), to = unit.from_si(*high);
    for (double s : {1., 2., 5., 10., 20., 50., 100., 200., 500.}) {
      step_ = s, coldest_ = std::floor(from / s) * s, steps_ = std::max(1, int(std::ceil((to - coldest_) / s)));
      if (steps_ <= 6) break;
    }
    std::map<std::string, std::pair<double, double>> arriving;
    for (size_t l = 0; l < drawing_.limbs.size(); ++l) {
      double const q = moment_->flow[l];
      auto& [flow, heat] = arriving[q >= 0 ? drawing_.limbs[l].to : drawing_.limbs[l].from];
      flow += std::abs(q), heat += std::abs(q) * moment_->temperature[l];
    }
    for (auto const& [joint, sums] : arriving) {
      if (sums.first > 0) mixed_[joint] = sums.second / sums.first;
    }
  }
  double smallest_shown() const {
    int const digits = system_ == UnitSystem::us ? measure::flow.us_digits : measure::flow.si_digits;
    return measure::flow.unit(system_).scale * 0.5 * std::pow(10., -digits);
  }
  bool still(double flow) const { return std::abs(flow) < smallest_shown(); }
  std::string colour(double kelvin) const {
    return hex(warmth_colour((measure::temperature.unit(system_).from_si(kelvin) - coldest_) / (step_ * steps_)));
  }

  /// A stretch of pipe. `kelvin` is left out of account where there is no moment.
  std::string stretch(Spot a, Spot b, double kelvin, bool dashed) const {
    if (a.x == b.x && a.y == b.y) return "";
    auto const line = fmt::format("M{:.1f} {:.1f}L{:.1f} {:.1f}", a.x, a.y, b.x, b.y);
    std::string const dash = dashed ? " still" : "", paint = moment_ ? fmt::format(R"(stroke="{}")", colour(kelvin)) : std::string{};
    return fmt::format(R"(<path class="pipe{}{}" {} d="{}"/>)", dash, moment_ ? "" : " blank", paint, line);
  }
  /// The dark edges of all pipes, beneath all colours: so corners and joints are clean.
  std::string edges() const {
    std::string out;
    auto const add = [&](Spot a, Spot b, bool dashed) {
      out += fmt::format(R"(<path class="case{}" d="M{:.1f} {:.1f}L{:.1f} {:.1f}"/>)", dashed ? " still" : "", a.x, a.y, b.x, b.y);
    };
    for (auto const& p : layout_.joint_pipes) add(p.near, p.far, moment_ && still(flow_through(p)));
    for (size_t l = 0; l < layout_.limbs.size(); ++l) {
      auto const& p = layout_.limbs[l];
      bool const dashed = moment_ && still(moment_->flow[l]);
      add(p.start, p.symbol, dashed), add(p.symbol, p.end, dashed);
    }
    return out;
  }
  double flow_through(JointPipe const& p) const {
    double flow = 0;
    for (size_t i = 0; moment_ && i < p.beyond.size(); ++i) flow += (p.leaving[i] ? 1 : -1) * moment_->flow[p.beyond[i]];
    return flow;
  }
  std::string joint_pipe(JointPipe const& p) const {
    double const flow = flow_through(p);
    double kelvin = 0;
    if (moment_ && !p.beyond.empty()) {
      auto const& l = drawing_.limbs[p.beyond[0]];
      auto const mix = mixed_.find(p.leaving[0] ? l.from : l.to);
      kelvin = mix != mixed_.end() && flow >= 0 ? mix->second : moment_->temperature[p.beyond[0]];
    }
    return stretch(p.near, p.far, kelvin, moment_ && still(flow));
  }

  std::string piece(std::vector<int> const& limbs) const {
    std::string out = fmt::format(R"(<g id="piece:{}">)", escaped(drawing_.limbs[limbs[0]].id));
    for (int l : limbs) out += limb(l);
    return out + "</g>";
  }

  std::string limb(int l) const {
    auto const& d = drawing_.limbs[l];
    auto const& p = layout_.limbs[l];
    double const flow = moment_ ? moment_->flow[l] : 0, kelvin = moment_ ? moment_->temperature[l] : 0;
    bool const dashed = moment_ && still(flow);
    double entering = kelvin;
    if (auto const mix = mixed_.find(flow >= 0 ? d.from : d.to); !dashed && mix != mixed_.end()) entering = mix->second;
    std::string out = fmt::format("<title>{}</title>", escaped(title(l)));
    out +=
        stretch(p.start, p.symbol, flow >= 0 ? entering : kelvin, dashed) + stretch(p.symbol, p.end, flow >= 0 ? kelvin : entering, dashed);
    double const turn = std::atan2(p.end.y - p.start.y, p.end.x - p.start.x) * 180 / M_PI;
    out += fmt::format(R"(<g transform="translate({:.1f} {:.1f}) rotate({:.0f}) ">)", p.symbol.x, p.symbol.y, turn) + symbol(d.role, turn) +
           "</g>";
    bool const plain = d.role == "pipe" || d.role == "tee gap";
    if (!dashed && (plain || !known(d.role))) {
      out += fmt::format(R"(<g transform="translate({:.1f} {:.1f}) rotate({:.0f}) ">{}</g>)", p.symbol.x, p.symbol.y,
                         flow >= 0 ? turn : turn + 180, arrow());
    }
    return out + words(l);
  }
  static bool known(std::string const& role) {
    return role == "boiler" || role == "circulator" || role == "valve" || role == "check" || role == "emitter" || role == "tank" ||
           role == "exchanger";
  }

  /// Shapes with the inlet at the left, around the origin.
  static std::string symbol(std::string const& role, double turn) {
    if (role == "boiler")
      return R"(<rect class="body" x="-46" y="-38" width="92" height="76" rx="6"/>)"
             R"(<rect class="fine" x="-40" y="-32" width="80" height="64" rx="3"/>)" +
             fmt::format(
                 R"(<g transform="rotate({:.0f}) "><path class="fine" )"
                 R"(d="M-20 26H20M-14 26L-9 12L-4 26M-5 26L0 6L5 26M4 26L9 12L14 26"/></g>)",
                 -turn);
    if (role == "circulator") return R"(<circle class="body" r="17"/><path class="fine" d="M17 0L-8.5 -14.7M17 0L-8.5 14.7"/>)";
    if (role == "valve") return R"(<path class="body" d="M-15 -11L15 11V-11L-15 11Z"/>)";
    if (role == "check")
      return R"(<path class="body" d="M-10 -12L9 0L-10 12Z"/><path class="fine" d="M10 -13V13" style="stroke-width:3"/>)";
    if (role == "emitter")
      return R"(<rect class="body" x="-21" y="-22" width="42" height="44" rx="3"/>)"
             R"(<path class="fine" d="M-13 -15V15M-6.5 -15V15M0 -15V15M6.5 -15V15M13 -15V15"/>)";
    if (role == "tank")
      return R"(<rect class="body" x="-60" y="-24" width="120" height="48" rx="22"/>)"
             R"(<path class="fine" d="M-20 -24V24M20 -24V24" stroke-dasharray="3 4"/>)";
    if (role == "exchanger") return R"(<rect class="body" x="-22" y="-20" width="44" height="40"/><path class="fine" d="M-22 20L22 -20"/>)";
    return "";
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
    return upright ? Spot{along.y, along.x} : along;
  }

  std::string figures(int l) const {
    if (!moment_) return "";
    auto const flow = moment_->flow[l];
    return printed(moment_->temperature[l], measure::temperature, system_) + " · " +
           (still(flow) ? "no flow" : printed(std::abs(flow), measure::flow, system_));
  }
  std::string title(int l) const {
    auto const& d = drawing_.limbs[l];
    std::string out = d.label.empty() ? d.id : d.label;
    out += " (" + d.kind + ", " + d.id + ")";
    if (moment_) out += ": " + figures(l) + (moment_->flow[l] < 0 && !still(moment_->flow[l]) ? ", backwards" : "");
    return out;
  }
  std::string words(int l) const {
    auto const& d = drawing_.limbs[l];
    auto const& p = layout_.limbs[l];
    auto names = lines_of(d.label.empty() ? d.id : d.label, 19, 2);
    double const count = double(names.size()) + (moment_ ? 1 : 0), pitch = 14;
    Spot const h = half(d.role, p.upright);
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
             fmt::format(R"(<g transform="translate(10 8) ">{}</g><text x="26" y="12">the way each piece is meant to flow</text></g>)",
                         arrow());
    int const bands = 48;
    for (int i = 0; i < bands; ++i)
      out += fmt::format(R"(<rect x="{:.1f}" width="{:.1f}" height="12" shape-rendering="crispEdges" fill="{}"/>)", i * bar / bands,
                         bar / bands + 0.3, hex(warmth_colour((i + 0.5) / bands)));
    out += fmt::format(R"(<rect class="fine" width="{:.0f}" height="12"/>)", bar);
    auto const unit = printed_unit(measure::temperature.unit(system_).symbol);
    for (int i = 0; i <= steps_; ++i) {
      out += fmt::format(R"(<text x="{:.1f}" y="28" text-anchor="middle">{:.0f}{}</text>)", i * bar / steps_, coldest_ + i * step_,
                         i == steps_ ? " " + unit : "");
    }
    out += fmt::format(R"(<g transform="translate(300 6) ">{}</g><text x="314" y="10">flow</text>)", arrow());
    out += R"(<path class="case still" d="M360 6H404"/><path class="pipe still blank" d="M360 6H404"/><text x="412" y="10">no flow</text>)";
    if (!moment_->words.empty()) out += fmt::format(R"(<text class="figures" x="290" y="28">{}</text>)", escaped(moment_->words));
    return out + "</g>";
  }
};

}  // namespace

std::string draw_network(Drawing const& drawing, Moment const* moment, UnitSystem system) { return Picture{drawing, moment, system}.svg(); }

}  // namespace steadyfire

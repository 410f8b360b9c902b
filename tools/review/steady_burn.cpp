#include "tools/review/steady_burn.hpp"

#include <algorithm>
#include <cmath>

#include "models/house/boiler_of.hpp"
#include "sim/study/flows_study.hpp"

namespace steadyfire {
namespace {

class Burn {
 public:
  Burn(Installation const& in, BurnConditions const& conditions) : in_{in}, conditions_{conditions} {
    options_.calls = {conditions.calling};
    options_.ground = conditions.ground, options_.unheated = conditions.unheated, options_.outdoors = conditions.outdoors;
    options_.rooms = conditions.rooms, options_.tell_findings = false;
    for (int const piece : {in.boiler, in.lag_boiler}) {
      if (piece >= 0) boilers_.push_back(boiler_of(in.pieces[std::size_t(piece)]));
    }
  }

  SteadyBurn solve() {
    SteadyBurn& b = burn_;
    hold(std::nullopt);
    auto const& first = boilers_.front();
    burning_ = 1;
    if (boilers_.size() > 1 && flow_through(in_.lag_boiler) > *boilers_[1].least_flow) burning_ = 2;
    double const flow = flow_through(in_.boiler);
    if (flow < std::max(*first.least_flow, 1e-6)) return starved();
    switch (conditions_.fire) {
      case BurnConditions::full:
        forced(1);
        break;
      case BurnConditions::minimum:
        forced(least());
        break;
      case BurnConditions::modulating:
        modulated(b.state.boiler_supply + conditions_.target_error);
        break;
    }
    b.input = input(b.fire);
    b.flue = b.returned + first.approach(burnt(first, b.fire)), b.carbon_dioxide = first.chemistry.dry_carbon_dioxide;
    return std::move(b);
  }

 private:
  double flow_through(int piece) const {
    auto const& name = in_.pieces[std::size_t(piece)].name;
    for (auto const& e : burn_.state.edges)
      if (e.name == name) return e.flow;
    return 0;
  }
  /// Lowest fire, as a share of the heating input.
  double least() const { return boilers_.front().least / boilers_.front().most; }
  /// The boiler's own measure of a fire that is told as a share of the heating input: hot water may have a larger one.
  static double burnt(Boiler const& b, double fire) { return std::max(fire * b.most, b.least); }
  double input(double fire) const {
    double sum = 0;
    for (std::size_t i = 0; i < burning_; ++i) sum += boilers_[i].full * burnt(boilers_[i], fire);
    return sum;
  }
  double output(double fire) const {
    double sum = 0;
    for (std::size_t i = 0; i < burning_; ++i) {
      auto const& b = boilers_[i];
      double const f = burnt(b, fire);
      sum += b.full * f * b.efficiency(f, burn_.returned);
    }
    return sum;
  }
  /// Solves with the outlet held, without a supply at the target, and notes what the gauges beside the boiler show.
  void hold(std::optional<double> supply) {
    options_.supply = supply;
    burn_.state = study_flows(in_, options_).states.at(0), burn_.supply = burn_.state.boiler_supply;
    burn_.returned = burn_.state.temperatures.at(in_.pieces[std::size_t(in_.boiler)].ports.at(0));
    burn_.output = burn_.state.boiler_heat;
  }

  void modulated(double target) {
    hold(target);
    std::string const joint = sensor_joint();
    double const limit = *boilers_.front().high_limit;
    for (int pass = 0; pass < 12; ++pass) {
      double const short_of = target - burn_.state.temperatures.at(joint);
      if (std::abs(short_of) < 0.02 || (short_of > 0 && burn_.supply >= limit - 0.01)) break;
      hold(std::min(burn_.supply + short_of, limit));
    }
    double const wanted = burn_.output, low = output(least());
    if (wanted > output(1)) {
      forced(1);
      burn_.how = SteadyBurn::at_full_fire;
    } else if (wanted < low) {
      burn_.how = SteadyBurn::cycles, burn_.fire = least();
      burn_.swing = (*boilers_.front().on_below + *boilers_.front().off_above) / 2;
      if (wanted > 0) burn_.returned = burn_.supply - (burn_.supply - burn_.returned) * low / wanted;
      burn_.output = low;
    } else {
      double below = least(), above = 1;
      for (int i = 0; i < 50; ++i) {
        double const middle = (below + above) / 2;
        (output(middle) < wanted ? below : above) = middle;
      }
      burn_.fire = (below + above) / 2;
    }
  }

  /// Supply at which zones take what the fire gives: false position from what was held last, with the end halved that stays
  /// (Illinois).
  void forced(double fire) {
    burn_.fire = fire;
    auto const excess_now = [&] { return burn_.output - output(fire); };
    auto const excess = [&](double supply) {
      hold(supply);
      return excess_now();
    };
    double constexpr close = 0.02;  // [K] nearer than the neutral zones of what mixes let it be told
    double a = burn_.supply, b = a, at_a = excess_now(), at_b = at_a;
    if (at_a < 0) at_b = excess(b = *boilers_.front().high_limit);
    else at_a = excess(a = 280);
    if (at_b < 0) {
      burn_.how = SteadyBurn::at_high_limit;
      return;
    }
    for (int i = 0, side = 0; i < 20 && b - a > close; ++i) {
      double const c = (a * at_b - b * at_a) / (at_b - at_a), at_c = excess(c);
      if (std::abs(at_c) < 1e-4 * output(fire)) break;
      if (at_c > 0) {
        if (side == 1) at_a /= 2;
        b = c, at_b = at_c, side = 1;
      } else {
        if (side == -1) at_b /= 2;
        a = c, at_a = at_c, side = -1;
      }
    }
  }

  SteadyBurn starved() {
    double room = 0;
    for (auto const& z : in_.zones) room += z.design_room / double(in_.zones.size());
    hold(room);
    burn_.returned = room, burn_.output = 0, burn_.how = SteadyBurn::starved;
    burn_.flue = burn_.carbon_dioxide = Field::none;
    return std::move(burn_);
  }

  /// Where the boiler's control feels the water.
  std::string sensor_joint() const {
    if (!conditions_.sensor.empty()) return conditions_.sensor;
    auto const& boiler = in_.pieces[std::size_t(in_.boiler)];
    auto const& v = value_of<&Boiler::sensor>(boiler);
    return v.numbers.empty() ? boiler.ports.at(1) : in_.pieces[std::size_t(v.numbers[0])].ports.at(0);
  }

  Installation const& in_;
  BurnConditions const& conditions_;
  FlowsOptions options_;
  std::vector<Boiler> boilers_;
  std::size_t burning_ = 1;
  SteadyBurn burn_;
};

}  // namespace

SteadyBurn steady_burn(Installation const& in, BurnConditions const& conditions) { return Burn{in, conditions}.solve(); }

}  // namespace steadyfire

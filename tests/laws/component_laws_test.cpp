/// Laws that every kind in the catalog obeys, whoever wrote it.

#include <gtest/gtest.h>

#include <map>
#include <random>
#include <set>

#include "tools/job/catalog.hpp"
#include "models/fluid/water.hpp"
#include "sim/control/transitions.hpp"
#include "sim/heat/balance.hpp"
#include "sim/network/plan.hpp"

namespace steadyfire {
namespace {

/// Values without which a kind cannot be: of several keys it needs one, which no single field can say.
Value const* needed(std::string const& kind, std::string const& key) {
  static std::map<std::pair<std::string, std::string>, Value> const all = [] {
    std::map<std::pair<std::string, std::string>, Value> m;
    auto const number = [&](char const* k, char const* key, double x) { m[{k, key}].numbers = {x}; };
    m[{"pipe", "size"}].text = "3/4 in copper M";
    number("valve", "cv", 10), number("zone valve", "cv", 5), number("check valve", "cv", 8);
    number("room", "heat_loss", 120), number("air handler", "output", 9000);
    number("kick-space convector", "conductance", 60), number("unit heater", "output", 12e3), number("snow-melt slab", "idle", 271);
    number("flow limiter", "flow", 1e-4), m[{"diverter tee", "size"}].text = "1 in copper M";
    for (auto const* kind : {"thermostat", "differential thermostat", "proportioning thermostat"})
      number(kind, "setback", 290);  // else its modes in setback are never entered
    for (auto const* boiler : {"boiler", "lag boiler"}) number(boiler, "heating_input", 30e3), number(boiler, "minimum_input", 6e3);
    number("outdoor reset", "cold_outdoors", 255), number("outdoor reset", "cold_supply", 340), number("outdoor reset", "mild_supply", 300);
    return m;
  }();
  auto const at = all.find({kind, key});
  return at == all.end() ? nullptr : &at->second;
}

/// A kind that can stand where a field names a piece of a family.
std::string partner(Field const& f) {
  if (f.refers_to == "emitter") return "radiant slab";
  if (f.refers_to != "control") return f.refers_to == "sensor" ? "supply sensor" : f.refers_to;
  if (f.key == "target_from") return "zone relay";
  return f.key == "sources" || f.key == "permit" ? "outdoor reset" : "thermostat";
}

/// A piece drawn from its schema: defaults where there are, else a share of the range, and
/// every reference met by a piece of its family. Both ends of a branch share a joint, so
/// whatever flows comes round again.
int draw(Kind const& kind, Installation& in, double share) {
  Piece piece{kind.name + " " + std::to_string(in.pieces.size()), &kind, {}, {}, "", {}};
  for (auto const& f : kind.fields) {
    Value v;
    bool const list =
        f.sort == Field::Sort::list || f.sort == Field::Sort::curve || f.sort == Field::Sort::text || f.sort == Field::Sort::entry;
    if (auto const* stated = needed(kind.name, f.key)) v = *stated, v.given = true;
    else if (f.sort == Field::Sort::reference || f.sort == Field::Sort::references)
      v.numbers = {double(draw(*find_kind(catalog(), partner(f)), in, share))};
    else if (!std::isnan(f.standard)) v.numbers = {f.unit.to_si(f.standard)};
    else if (f.is_required() && !list) v.numbers = {f.unit.to_si(f.least + share * (f.most - f.least))};
    piece.values.push_back(std::move(v));
  }
  for (std::size_t b = 0; b < kind.branches.size(); ++b)
    piece.ports.insert(piece.ports.end(), 2, piece.name + " joint " + std::to_string(b));
  in.pieces.push_back(std::move(piece));
  return int(in.pieces.size()) - 1;
}

class KindLaws : public testing::TestWithParam<std::string> {
 protected:
  Kind const& kind() const { return *find_kind(catalog(), GetParam()); }
};

/// Laws of kinds with pieces, by what they have.
class ComponentLaws : public KindLaws {
 protected:
  /// Calls `look` on a piece of the kind in every mode, at flows both ways, none and hardly any, at temperatures drawn anew.
  template <class Look>
  void everywhere(Look look) {
    std::mt19937 chance{7};
    std::uniform_real_distribution<double> temperature{285, 345}, aside{-0.2, 0.2};
    for (double const share : {0.02, 0.3}) {
      Installation in;
      in.fluid = std::make_shared<Water>();
      int const piece = draw(kind(), in, share);
      Plan plan = lay_out(in);
      Balance balance{plan};
      State state{plan};
      for (double const flow : {0.2, 0.0, 1e-4, -0.15}) {
        std::fill(state.flow.begin(), state.flow.end(), flow);
        for (int mode = 0; mode < std::max(1, int(kind().modes.size())); ++mode) {
          state.mode[piece] = mode;
          for (std::size_t p = 0; p < plan.pieces.size(); ++p)  // what else the piece may look at
            if (int(p) != piece && plan.pieces[p].kind->name == "hot water control") state.mode[p] = share < 0.1 ? 0 : flow > 0 ? 1 : 3;
          for (int p = 0; p < plan.places(); ++p)
            if (plan.capacity[p] > 0) state.x[p] = temperature(chance);
            else if (p >= first_free_place) state.x[p] = plan.start[p] + aside(chance);
          for (Place p : {given::outdoors, given::ground, given::unheated}) state.x[p] = temperature(chance);
          bool const changed = balance.settle(state.now(plan));
          SCOPED_TRACE("share " + std::to_string(share) + ", flow " + std::to_string(flow) + " kg/s, mode " + std::to_string(mode));
          look(plan, balance, state, changed);
        }
      }
    }
  }
  static std::vector<WithSlope> losses(Plan const& plan, State state, double shift) {
    for (double& q : state.flow) q += shift;
    std::vector<WithSlope> all(state.flow.size());
    for (auto const& b : plan.batches) b->losses(state.now(plan), all.data());
    return all;
  }
  static std::vector<double> rates(Plan const& plan, Balance const& balance, State const& state) {
    std::vector<double> f(plan.places());
    balance.rates(state.now(plan), f.data());
    return f;
  }
};

class BranchLaws : public ComponentLaws {};
class ModeLaws : public ComponentLaws {};
class DemandLaws : public ComponentLaws {};

/// What sim/study reads of a piece without knowing its kind.
std::set<FieldRole> read_of(Kind const& kind) {
  using enum FieldRole;
  switch (kind.role) {
    case Role::boiler: return {most_input, least_input, fixed_target, on_below, off_above, least_rest};
    case Role::expansion: return {held_pressure};
    case Role::tap: return {draw_flows, draw_temperatures, draw_volumes};
    case Role::reset: return {cold_outdoors, cold_supply, mild_outdoors, mild_supply, lowest_supply, highest_supply};
    case Role::thermostat: return {setting, setback};  // and those between two temperatures their differential
    default: break;
  }
  if (kind.name == "tank control") return {charged_tank};
  if (kind.name == "circulator") return {has_check};
  if (std::any_of(kind.traits.begin(), kind.traits.end(), [](Traits t) { return t & trait::serves_alone; })) return {hot_water_set_point};
  return {};
}
TEST_P(KindLaws, SaysOnceWhichOfItsValuesTheEngineReads) {
  std::multiset<FieldRole> said;
  for (auto const& f : kind().fields)
    if (f.role != FieldRole::other) said.insert(f.role);
  for (auto const role : said) EXPECT_EQ(said.count(role), 1u) << int(role);
  if (!kind().empty_batch) return;  // a section of the file
  for (auto const role : read_of(kind())) EXPECT_EQ(said.count(role), 1u) << int(role);
}

TEST_P(KindLaws, EveryFieldIsExplainedAndItsDefaultLiesInItsRange) {
  EXPECT_FALSE(kind().summary.empty());
  EXPECT_FALSE(kind().family.empty());
  for (auto const& f : kind().fields) {
    EXPECT_FALSE(f.help.empty()) << f.key;
    EXPECT_EQ(f.key.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_"), std::string::npos) << f.key;
    bool const ranged =
        f.sort == Field::Sort::quantity || f.sort == Field::Sort::number || f.sort == Field::Sort::count || f.sort == Field::Sort::list;
    if (ranged && f.key != "format") { EXPECT_LT(f.least, f.most) << f.key; }  // one format so far
    if (f.sort == Field::Sort::flag) continue;
    EXPECT_TRUE(std::isnan(f.standard) || (f.standard >= f.least && f.standard <= f.most)) << f.key;
    EXPECT_TRUE(!f.has_typical() || (f.least <= f.low && f.low <= f.standard && f.standard <= f.high && f.high <= f.most)) << f.key;
  }
}

TEST_P(BranchLaws, SlopeOfTheLossIsItsDifference) {
  everywhere([&](Plan const& plan, Balance const&, State const& state, bool) {
    double constexpr step = 1e-6;
    auto const at = losses(plan, state, 0), up = losses(plan, state, step), down = losses(plan, state, -step);
    // Where the loss bends within a step, as that of a valve at rest, its slope is known as well as the loss of a step itself.
    for (std::size_t b = 0; b < at.size(); ++b) {
      double const difference = (up[b].value - down[b].value) / (2 * step),
                   bend = std::max(std::abs(up[b].slope - at[b].slope), std::abs(down[b].slope - at[b].slope));
      double const noise = 1e-15 * std::abs(at[b].value) / step;
      EXPECT_NEAR(at[b].slope, difference, 1e-5 * std::abs(difference) + bend + noise + 1e-6) << plan.pieces[plan.branches[b].piece].name;
    }
  });
}

TEST_P(BranchLaws, MoreFlowLosesMoreHead) {
  everywhere([&](Plan const& plan, Balance const&, State const& state, bool) {
    auto const at = losses(plan, state, 0);
    for (std::size_t b = 0; b < at.size(); ++b) {
      auto const& name = plan.pieces[plan.branches[b].piece].name;
      EXPECT_TRUE(at[b].slope > 0 || (state.flow[b] == 0 && at[b].slope == 0)) << name << ": " << at[b].slope;  // a valve at rest
    }
  });
}

TEST_P(ComponentLaws, HeatGivenIsHeatReceived) {
  everywhere([&](Plan const& plan, Balance const& balance, State const& state, bool) {
    auto const f = rates(plan, balance, state);
    double sum = 0, size = 1;
    for (int p = 0; p < plan.places(); ++p) sum += plan.capacity[p] * f[p], size += std::abs(plan.capacity[p] * f[p]);
    EXPECT_NEAR(sum, 0, 1e-9 * size);
  });
}

TEST_P(ComponentLaws, SlopesOfTheRatesAreTheirDifferences) {
  everywhere([&](Plan const& plan, Balance const& balance, State state, bool) {
    int const n = plan.places();
    double constexpr step = 1e-4;
    std::vector<double> slopes;
    balance.slopes(state.now(plan), slopes);
    auto const& A = balance.pattern();
    std::vector<double> dense(n * n), row_size(n);
    for (int i = 0; i < n; ++i)
      for (int k = A.row_start[i]; k < A.row_start[i + 1]; ++k) {
        dense[i * n + A.column[k]] = slopes[k];
        row_size[i] += std::abs(slopes[k]) * (std::abs(state.x[A.column[k]]) + 1);  // what a rate is summed from
      }
    for (int j = first_free_place; j < n; ++j) {
      double const x = state.x[j];
      state.x[j] = x + step;
      auto const up = rates(plan, balance, state);
      state.x[j] = x - step;
      auto const down = rates(plan, balance, state);
      state.x[j] = x;
      for (int i = 0; i < n; ++i) {
        double const difference = (up[i] - down[i]) / (2 * step), noise = 1e-14 * row_size[i] / step;
        EXPECT_NEAR(dense[i * n + j], difference, 1e-5 * std::abs(difference) + noise + 1e-9)
            << "rate of " << plan.names[i] << " by " << plan.names[j];
      }
    }
  });
}

TEST_P(ComponentLaws, LawsAsDataGiveTheSameRates) {
  everywhere([&](Plan const& plan, Balance const& balance, State const& state, bool) {
    Written book{plan.per_heat.data(), {}};
    for (auto const& b : plan.batches) std::as_const(*b).laws(state.now(plan), book);
    auto const& A = balance.pattern();
    auto const wanted = rates(plan, balance, state);
    std::vector<double> got(plan.places()), size(plan.places(), 1e-12);
    auto const add = [&](int place, double part) { got[place] += part, size[place] += std::abs(part); };
    for (int i = 0; i < plan.places(); ++i)
      for (int k = A.row_start[i]; k < A.row_start[i + 1]; ++k) add(i, A.value[k] * state.x[A.column[k]]);
    for (auto const& law : book.laws) {
      std::vector<double> inputs;
      for (Place p : law.at) inputs.push_back(state.x[p]);
      for (auto const& share : law.into) add(share.place, share.factor * law.formula.at(inputs));
    }
    for (int i = 0; i < plan.places(); ++i)
      if (i != given::outdoors) EXPECT_NEAR(got[i], wanted[i], 1e-13 * size[i]) << plan.names[i];
  });
}

TEST_P(ComponentLaws, NothingIsNotANumber) {
  everywhere([&](Plan const& plan, Balance const& balance, State const& state, bool) {
    for (double f : rates(plan, balance, state)) EXPECT_TRUE(std::isfinite(f));
    for (auto const& loss : losses(plan, state, 0)) EXPECT_TRUE(std::isfinite(loss.value) && std::isfinite(loss.slope));
    for (int p = 0; p < plan.places(); ++p) EXPECT_TRUE(std::isfinite(plan.capacity[p]) && plan.capacity[p] >= 0) << plan.names[p];
  });
}

TEST_P(ComponentLaws, PatternKnowsTheDirectionOfFlowAndNothingElse) {
  int changes = 0;
  everywhere([&](Plan const&, Balance const&, State const&, bool changed) { changes += changed; });
  EXPECT_LE(changes, 2 * 2);  // two draws, each at first and when the flow turns
}

TEST_P(ModeLaws, GuardsHaveNumbersAndModesHaveNamesOfTheirOwn) {
  std::set<std::string> names(kind().modes.begin(), kind().modes.end());
  EXPECT_EQ(names.size(), kind().modes.size());
  everywhere([&](Plan const& plan, Balance const&, State const& state, bool) {
    std::vector<double> slots;
    for (auto const& b : plan.batches) {
      slots.assign(b->guard_slots(), 0);
      b->margins(state.now(plan), slots.data());
      for (double m : slots) EXPECT_FALSE(std::isnan(m));
      EXPECT_GT(b->due(state.now(plan)), state.time);
    }
  });
}

TEST_P(DemandLaws, WhatCallsByItselfDoesSoOnDemand) {
  everywhere([&](Plan const& plan, Balance const&, State state, bool) {
    int const piece = int(std::find_if(plan.pieces.begin(), plan.pieces.end(), [&](auto const& p) { return p.kind == &kind(); }) -
                          plan.pieces.begin());
    std::vector<Trip> trips;
    for (bool const call : {true, false}) {
      plan.batches[plan.batch_of[piece]]->demand(plan.seat_of[piece], call, state.x.data());
      change_modes(plan, state, nullptr, trips);
      EXPECT_EQ(bool(plan.traits_of(piece, state.mode[piece]) & trait::calls), call);
    }
  });
}

std::vector<std::string> kinds_with(bool (*has)(Kind const&)) {
  std::vector<std::string> names;
  for (auto const& k : catalog())
    if (has(k)) names.push_back(k.name);
  return names;
}
bool is_piece(Kind const& k) { return bool(k.empty_batch); }
std::string as_name(testing::TestParamInfo<std::string> const& info) {
  std::string name;
  for (char c : info.param) name += std::isalnum(static_cast<unsigned char>(c)) ? c : '_';
  return name;
}
INSTANTIATE_TEST_SUITE_P(Catalog, KindLaws, testing::ValuesIn(kinds_with([](Kind const&) { return true; })), as_name);
INSTANTIATE_TEST_SUITE_P(Catalog, ComponentLaws, testing::ValuesIn(kinds_with(is_piece)), as_name);
INSTANTIATE_TEST_SUITE_P(Catalog, BranchLaws,
                         testing::ValuesIn(kinds_with([](Kind const& k) { return is_piece(k) && !k.branches.empty(); })),
                         as_name);
INSTANTIATE_TEST_SUITE_P(Catalog, ModeLaws, testing::ValuesIn(kinds_with([](Kind const& k) { return is_piece(k) && !k.modes.empty(); })),
                         as_name);
INSTANTIATE_TEST_SUITE_P(Catalog, DemandLaws, testing::ValuesIn(kinds_with([](Kind const& k) { return is_piece(k) && k.calls_itself; })),
                         as_name);

}  // namespace
}  // namespace steadyfire

#include "sim/study/band.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <set>
#include <thread>

namespace steadyfire {
namespace {

/// Of more zones than six the four that have the least of their design load, or of their flow, keep their own assumptions in the band.
std::set<std::string> zones_beyond_band(FlowState const& state, FlowsRecord& record) {
  std::size_t constexpr all_up_to = 6, kept = 4;
  if (state.zones.size() <= all_up_to) return {};
  auto const share = [](ZoneFlow const& z) { return z.heat > 0 ? z.heat / z.design_load : z.got / z.wanted; };
  auto zones = state.zones;
  std::stable_sort(zones.begin(), zones.end(), [&](auto const& a, auto const& b) { return share(a) < share(b); });
  std::set<std::string> beyond;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (i < kept) record.band_zones.push_back(zones[i].name);
    else beyond.insert(zones[i].name);
  return beyond;
}

}  // namespace

std::vector<Band> study_band(Record const& middle, Suppose const& suppose, Forcing const& outdoors,
                             std::function<void(double share)> progress, std::function<bool()> interrupted) {
  std::vector<Band> bands;
  for (auto const& a : middle.assumptions)
    if (a.has_range()) bands.push_back({a.place, a.key, a.measure, outcome(middle, a.least), outcome(middle, a.most)});
  std::vector<std::pair<Assumption const*, BandEnd*>> ends;
  std::size_t next_band = 0;
  for (auto const& a : middle.assumptions) {
    if (!a.has_range()) continue;
    Band& b = bands[next_band++];
    for (BandEnd* end : {&b.low, &b.high})
      if (end->value != a.value) ends.emplace_back(&a, end);
  }

  std::mutex one_at_a_time;
  std::atomic<std::size_t> next{0};
  std::size_t done = 0;
  std::exception_ptr failure;
  auto const run = [&](Assumption const& assumption, BandEnd& end) {
    auto const supposed = [&] {
      std::scoped_lock const lock{one_at_a_time};
      return suppose(assumption, end.value);
    }();
    if (!supposed.fault.empty()) {
      double const value = end.value;
      end = BandEnd{}, end.value = value, end.incomplete = supposed.fault;
    } else {
      end = outcome(run_study(supposed.installation, supposed.run, outdoors, {}, interrupted).record, end.value);
    }
    std::scoped_lock const lock{one_at_a_time};
    if (progress) progress(double(++done) / double(ends.size()));
  };
  auto const work = [&] {
    try {
      for (std::size_t i; (i = next++) < ends.size();) run(*ends[i].first, *ends[i].second);
    } catch (...) {
      std::scoped_lock const lock{one_at_a_time};
      failure = std::current_exception(), next = ends.size();
    }
  };
  std::thread other{work};
  work();
  other.join();
  if (failure) std::rethrow_exception(failure);
  return bands;
}

void add_flow_band(FlowsRecord& record, Installation const& in, Suppose const& suppose, std::function<void(double share)> progress) {
  if (record.states.empty()) return;
  auto const most = std::max_element(record.states.begin(), record.states.end(),
                                     [](auto const& a, auto const& b) { return a.zones.size() < b.zones.size(); });
  if (most->zones.empty()) return;
  record.band_state = std::size_t(most - record.states.begin());
  auto const left_out = zones_beyond_band(*most, record);
  auto const zones_at = [&](Assumption const& a, double value) -> std::vector<ZoneFlow> {
    if (value == a.value) return most->zones;
    auto supposed = suppose(a, value);
    if (!supposed.fault.empty()) return {};
    supposed.flows.calls = {most->calls}, supposed.flows.tell_findings = false, supposed.flows.tell_rooms = true;
    try {
      return study_flows(supposed.installation, supposed.flows).states.front().zones;
    } catch (Stopped const&) {
      return {};
    }
  };
  std::vector<Assumption const*> varied;
  for (auto const& a : record.assumptions) {
    int const piece = in.find(a.place);
    if (a.has_range() && !left_out.count(piece < 0 ? a.place : in.pieces[std::size_t(piece)].zone)) varied.push_back(&a);
  }
  for (auto const* a : varied) {
    record.band.push_back({a->place, a->key, a->measure, a->least, a->most, zones_at(*a, a->least), zones_at(*a, a->most)});
    if (progress) progress(double(record.band.size()) / double(varied.size()));
  }
}

}  // namespace steadyfire

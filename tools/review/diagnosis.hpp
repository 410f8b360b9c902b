#pragma once
/// Which fault explains what gauges showed.

#include "tools/review/faults.hpp"

namespace steadyfire {

/// What gauges would show: as designed, and with each fault at each size.
struct Explanation {
  Fault const* fault = nullptr;  ///< null: everything as designed
  struct Shown {
    Words size;
    std::vector<GaugeValue> gauges;
  };
  std::vector<Shown> sizes;
};
struct Explanations {
  std::vector<Fault> faults;            ///< those tried
  std::vector<Explanation> all;         ///< the first is "as designed"
  std::vector<Words> not_solved;  ///< faults with which no flows can be found, in words
};

/// Solves a burn for every fault at every size.
Explanations explain(Stand const& as_designed, bool with_burns = false);

/// One explanation, weighed: a fault at the size that fits best, or none.
struct Suspect {
  Fault const* fault = nullptr;   ///< null: everything as designed
  Words size;                     ///< how bad, in words; "" where there is no choice
  std::vector<GaugeValue> shown;  ///< what gauges would show
  double share = 0;               ///< of all explanations tried, by likelihood and prior
  double square_sum = 0;          ///< of the readings' distances, in standard deviations
  double misfit = 0;              ///< their root mean square
};
/// How far a reading may be from what is shown, one standard deviation each.
struct Deviation {
  double gauge = 0, unstated = 0;  ///< of the gauge; by what the scenario leaves open, as designed
  double designed = 0;             ///< what the gauge shows as designed
  bool grows = false;              ///< `unstated` is a share of what is shown, as of a flow or of watts: none of nothing

  double of(GaugeValue const& shown) const;
  double as_designed() const;
};
/// Of one reading. Shape: `unstated` by id, as `unstated_deviation` has it.
Deviation deviation_of(GaugeValue const& designed, double gauge, std::map<std::string, double> const& unstated);

struct Diagnosis {
  std::vector<Suspect> causes;                   ///< the likeliest first
  std::map<std::string, Deviation> deviation;  ///< of each reading compared
  std::vector<std::string> not_compared;       ///< ids of readings of which nothing is expected

  Suspect const& as_designed() const;
  /// Whether readings as far off as these come about by chance less than once in a thousand.
  bool is_beyond_chance(Suspect const&) const;
  /// Root of the sum of squares between two causes over the readings taken, in standard deviations.
  double apart(Suspect const&, Suspect const&) const;
};

/// Weighs each explanation by how it fits.
///
///   share ∝ prior·Π exp(−d²/2σ²)/σ        d: read less shown,  σ² = gauge² + unstated² + its own swing²
///
/// Shape   prior: one half for none, the rest in equal parts among faults and their sizes. A reading that a fault does not
///         give at all (CO2 where nothing burns) counts as five deviations. `unstated`: standard deviation of each reading by
///         what the scenario leaves open. Causes point into the explanations.
/// Valid   one fault at a time, gauges that err independently. A fault that nobody thought of is not found: then nothing fits.
/// Source  Bayes; chi-square for what chance can do.
Diagnosis diagnose(Explanations const&, std::vector<GaugeValue> const& read, GaugesSection const&,
                   std::map<std::string, double> const& unstated);

/// What gauges show on a stand, with burns an hour where `with_burns`. Errors: Stopped.
std::vector<GaugeValue> gauges_on(Stand const&, bool with_burns = false);

/// The reading, among those not taken yet, that differs most between two causes; nothing where none differs by two deviations.
struct Parting {
  GaugeValue const *of_first, *of_second;
  double deviations;
};
std::optional<Parting> parting_reading(Suspect const&, Suspect const&, Diagnosis const&, GaugesSection const&,
                                       std::map<std::string, double> const& unstated);

}  // namespace steadyfire

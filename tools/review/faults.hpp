#pragma once
/// What goes wrong in hydronic heating, as changes of an installation that is as designed.

#include <functional>

#include "tools/review/readings.hpp"

namespace steadyfire {

/// An installation with what holds while it is read.
struct Stand {
  Installation installation;
  BurnConditions conditions;
  StaticReadings still;
};

struct Fault {
  struct Size {
    Words words;
    std::function<void(Stand&)> apply;
  };
  std::string id, place;    ///< "strainer.clogged"; the piece or zone
  Words words;              ///< "strainer clogged"
  Words look;               ///< what proves it without a gauge, as an instruction
  bool licensed = false;    ///< gas, flue and burner: not a user's job
  std::vector<Size> sizes;  ///< how bad it may be
};

/// Every fault that can be tried on an installation.
///
/// Shape   of pieces that are there: strainers, circulators, flow checks, zones, exchangers, the boiler, its control, and
///         what hangs on static readings only where these are known.
/// Valid   one fault at a time. Sizes are common practice, no source.
std::vector<Fault> possible_faults(Stand const&);

}  // namespace steadyfire

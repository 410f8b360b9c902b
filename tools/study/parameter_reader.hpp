#pragma once
/// One [[parameter]] of a study file against the scenario that it varies.

#include "tools/study/study_file.hpp"

namespace steadyfire {

struct ReadParameter {
  Parameter parameter;
  Axis axis;
};

/// Shape   `base` is the scenario. A value that does not fit is told at its place in the study.
/// Errors  added to `faults`; the answer is then of no use.
ReadParameter read_parameter(Entry const&, Case const& base, PointSort, Diagnostics& faults);

/// A fault that an address or a value has, at its place.
void add_fault(Diagnostics& faults, char const* code, Position at, std::string const& who, BadAddress const&);

}  // namespace steadyfire

#pragma once
/// Judgements that rest on a value which nobody stated, made at both ends of its usual range.

#include <functional>
#include <initializer_list>

#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// A value from the middle of a usual range.
struct AssumedValue {
  std::string key, of;  ///< "elbow_length", "in [vent]"
  double value, least, most;
  Measure measure;
  std::function<void(Document&, Installation&, double)> put;  ///< lets it have another value
};

/// Those of the installation's pieces that have one of these roles: what a subject does not look at need not be tried.
std::vector<AssumedValue> assumed_in_pieces(Job const&, std::initializer_list<Role> roles);
/// Those of a table that only the review reads; none where the file has no such table.
std::vector<AssumedValue> assumed_in_table(Job const&, std::string_view kind);

/// A subject's review, with nothing passed that an assumed value decides.
///
///   open where margin(middle) < √Σ (margin(worse end) − margin(middle))²      one value alone: where it crosses the limit
///
/// Shape   what holds in the middle and at all ends stays; what holds in the middle alone becomes `assumed.decides`, a weight lighter
///         than the failure would be, with the value up to which it holds; what fails in the middle stays a finding and tells the value
///         from which it would hold.
/// Valid   values that are independent of each other: all at their worst at once is not feared. Flows and the run stay those of the
///         middle. The value up to which it holds lies straight between middle and end.
ReviewPart at_both_ends(Reviewer, Job const&, std::vector<AssumedValue> const&);

}  // namespace steadyfire

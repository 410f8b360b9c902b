#pragma once
/// Applies controllers until nothing more changes.

#include "sim/network/plan.hpp"

namespace steadyfire {

/// Makes every transition whose guard has tripped, again and again until all rest.
///
/// Shape  adds what happened to `trips`, in order; returns whether anything changed.
///        `forced`: guard slots, batch after batch, which the march found at zero; may be null.
/// Errors Stopped E412 naming the loop if controllers never settle (more than 60 rounds).
bool change_modes(Plan const&, State&, bool const* forced, std::vector<Trip>& trips);

/// What happened, with the numbers of its reading.
/// Errors  InternalError for a placeholder that Transition does not name: the kind's fault.
Words words_of(Trip const&);

/// All guard slots of a plan, batch after batch.
int guard_slots(Plan const&);
void margins(Plan const&, Now const&, double* slots);
/// The earliest time at which a guard on time trips [s]; 1e300 if none will.
double next_due(Plan const&, Now const&);

}  // namespace steadyfire

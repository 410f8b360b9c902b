#pragma once
/// What hot water has to know of the rest of the house.

#include "models/arrangements/hot_water.hpp"
#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// The taps of the file with what is drawn there: their own uses, and what the hot water's `draws` deal out among them in
/// a run from `clock` for `duration` [s]. `file_faults` gets those of a list's file.
///
/// Errors  adds E346 for draws without a tap.
std::vector<TapPlan> taps_of(Document const&, Builder&, Entry const& draws, double clock, double duration, FileFaults& file_faults,
                             Diagnostics&);

/// Zones whose floor takes the boiler's water as it comes, "bath, hall".
std::string unprotected_floors(Document const&);

/// The zone whose potable tank feeds the taps, or null. Errors: adds E349 where there is a second one, no hot water to feed, or
/// what only a combi boiler's hot water has.
Entry const* potable_tank(Document const&, Diagnostics&);

/// Who of the zones made runs the recirculator, where a zone's output does; else "". Errors: adds E231 for a zone that is not there.
std::string output_call(Installation const&, HotWaterSection const&, Diagnostics&);

/// Cold water by the air of a year. Errors: adds E345 where neither the file nor its weather tells the year.
ColdYear cold_by_air(InletByAir const&, Weather const&, Value const& stated, Diagnostics&);

/// Minimum fire's heat into hot water to its control, so that findings of a draw have the numbers that are told of the season's mean.
/// Valid: of a finished installation; nothing where no boiler makes hot water.
void state_least_output(Installation&);

/// Inputs of a boiler as its altitude leaves them, so that whoever asks its piece is told what it burns; the maker's rating of hot water
/// stays the share that it is. Valid: once a piece. Gives the share left.
double take_derate(Piece& boiler);

/// Fires that call and release a second boiler are shares of the heating input: of a combi they are shares of the larger of its two.
void scale_lag_control(Piece& lag_control, Piece const& boiler);

}  // namespace steadyfire

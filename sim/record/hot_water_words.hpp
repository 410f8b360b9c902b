#pragma once
/// Hot water in sentences that every command tells alike.

#include "sim/record/hot_water_record.hpp"

namespace steadyfire {

/// "burner", "flow limiter", "below start flow" …: stable, for programs.
std::string_view word_for(DrawCause);

/// "2 of 12 draws fail: shower 2 of 3": those that missed a good part of what was needed; empty where none did.
Words failed_words(HotWaterRecord const&);

/// "fell 2.1 °F, from 69.8 °F to 67.7 °F, while heating waited 48.0 min for hot water": its zone stands before it.
Words dip_words(RoomDip const&);

/// What would help, calculated; empty where nothing failed, or nothing is known to help.
Words help_words(HotWaterRecord const&);

}  // namespace steadyfire

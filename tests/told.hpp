#pragma once
/// Words as one reader sees them, for tests that look into sentences.

#include <string>
#include <vector>

#include "sim/core/words.hpp"

namespace steadyfire {

inline std::string us(Words const& words) { return words.in(UnitSystem::us); }
inline std::string si(Words const& words) { return words.in(UnitSystem::si); }
inline std::vector<std::string> us(std::vector<Words> const& all) { return told(all, UnitSystem::us); }
inline std::vector<std::string> si(std::vector<Words> const& all) { return told(all, UnitSystem::si); }

}  // namespace steadyfire

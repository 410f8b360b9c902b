#pragma once
/// Changes that a contractor could make.

#include "tools/study/advise/trouble.hpp"

namespace steadyfire {

/// How hard a change is, the easiest first.
enum class Hardness { setting, valve_or_speed, new_circulator, joined_zones, own_circulators, pipe, emitter, buffer_tank, boiler };
std::string_view words_of(Hardness);
/// As JSON has it since its first format: "zones joined".
std::string_view key_of(Hardness);

struct Remedy {
  Hardness hardness;
  std::string what;          ///< sort of change, of which only one is made at once: "curve", "differentials"
  std::string words;         ///< "raise the cold point of the shared reset curve from 160 °F to 170 °F"
  std::vector<Edit> edits;
  std::string note{};        ///< what it approximates or costs, or ""
  int size = 0;              ///< a larger one of the same is worth trying only where the one before helped and left something
};

/// Those that may help against the troubles found, each in a size or more. Changes that hide a trouble, as lower room settings, are none.
std::vector<Remedy> remedies_for(Case const&, Judged const&);

}  // namespace steadyfire

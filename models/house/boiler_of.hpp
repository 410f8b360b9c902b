#pragma once
/// The boiler of an installation as its struct.

#include "models/boiler.hpp"
#include "sim/network/installation.hpp"

namespace steadyfire {

/// Prepared, as its batch has it. Valid: of a piece that is a boiler.
inline Boiler boiler_of(Piece const& piece) {
  auto boiler = fill<Boiler>(piece.values);
  boiler.prepare();
  return boiler;
}
/// The first boiler. Valid: where there is one, as in every house.
inline Boiler boiler_of(Installation const& in) { return boiler_of(in.pieces.at(std::size_t(in.boiler))); }

}  // namespace steadyfire

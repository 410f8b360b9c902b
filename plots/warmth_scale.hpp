#pragma once
/// The colour of a temperature.

#include <array>
#include <string>

namespace steadyfire {

struct Colour {
  double red, green, blue;
};  ///< sRGB, 0 to 1

/// From deep blue (cold, 0) over grey to yellow (hot, 1).
///
/// A straight line in OKLab between two ends that differ in blue–yellow and lightness only,
/// so that equal steps look equal and readers without red or green see them too.
///
/// Valid   share is kept within 0 to 1; lightness rises all along it.
/// Source  OKLab: B. Ottosson, A perceptual color space for image processing, 2020, matrices
///         from memory, checked by white → (1, 0, 0). Ends: choice of ours, after Nuñez,
///         Anderton, Renslow, PLOS ONE 13(7) e0199239, 2018: blue–yellow is safe.
Colour warmth_colour(double share);

/// Lightness, and the two opponent axes green–red and blue–yellow.
std::array<double, 3> oklab(Colour);

/// "#1f3a5c"
std::string hex(Colour);

}  // namespace steadyfire

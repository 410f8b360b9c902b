#pragma once
/// Points strewn evenly over the unit cube.

#include <cstddef>
#include <vector>

namespace steadyfire {

/// A Latin hypercube: `count` points of `dimensions` numbers each in [0, 1), point by point.
///
///   x = (p + v) / count, with p the number of the point's stratum by a random order of strata, dimension after dimension
///
/// Shape   in each dimension one point in each of `count` equal strata, at a random place v within it. By its seed the same on any
///         machine: the orders (Fisher and Yates, from the back) and places are numbers of 53 bits from the Mersenne twister MT19937.
/// Source  McKay, Beckman and Conover 1979; MT19937 and its numbers of 53 bits: Matsumoto and Nishimura 1998 and their program of 2002.
std::vector<double> latin_hypercube(std::size_t count, std::size_t dimensions, unsigned seed);

}  // namespace steadyfire

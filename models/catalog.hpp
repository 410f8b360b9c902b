#pragma once
/// Every kind of piece there is. A new one takes its file, an include and an entry in catalog.cpp.

#include "sim/component/kind.hpp"

namespace steadyfire {
Catalog piece_kinds();
}  // namespace steadyfire

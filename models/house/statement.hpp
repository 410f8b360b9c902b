#pragma once
#include "sim/core/schema.hpp"

namespace steadyfire {

/// What someone has seen, or not.
enum class Statement { yes, no, unknown };

/// A statement in the file: "yes", "no", or "unknown", as where it does not stand.
template <auto M>
Field statement(std::string key, std::string help) {
  return choice<M>(std::move(key), {"yes", "no", "unknown"}, std::move(help)).otherwise(double(Statement::unknown));
}

}  // namespace steadyfire

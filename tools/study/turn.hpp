#pragma once
/// A value of a scenario that a study varies, found by its address.

#include <stdexcept>

#include "sim/network/installation.hpp"
#include "sim/scenario/edit.hpp"

namespace steadyfire {

/// Shape  a TOML dotted key: `boiler.minimum_input`, `zone."guest bath".emitter.output`, `pipe."bath/supply".length`; without the name of
///        a repeated table it stands for all of them: `zone.design_load`.
struct Turn {
  std::string address;
  std::vector<std::string> keys;  ///< of the address: `zone`, `guest bath`, `design_load`
  Field const* field;
  std::vector<ValuePlace> places;  ///< at least one
  std::vector<double> own;         ///< SI (a choice: its index), at each place; NaN where the file has none. Of a list its largest item
  std::vector<std::vector<double>> lists;  ///< at each place, what a list has there; empty where a single value stands, or none
};

/// An address that leads to no value of this scenario.
struct BadAddress : std::runtime_error {
  BadAddress(std::string const& what, std::string expected, std::string hint = "")
      : std::runtime_error{what}, expected{std::move(expected)}, hint{std::move(hint)} {}
  std::string expected, hint;
};

/// The address of a repeated table: `zone.bath`, `zone."guest bath"`.
std::string address_of(std::string_view table, std::string const& name);

/// The address of what states a piece, or would: `zone.bath.circulator`, `boiler`. Errors: InternalError if nobody said.
std::string address_of(Piece const&);

/// Errors  BadAddress.
Turn find_turn(Document const&, Catalog, std::string const& address);

/// A value as a file states it, without quotes: "8.5 kBtu/h", "3", "buffer tank", "22:30".
std::string stated(Field const&, double si, UnitSystem = UnitSystem::us);

/// What a user wrote for a field, SI; a choice is its index. Text fields are for words, not for this.
/// Errors  BadAddress, in the reader's words: "minimum_input is \"3 gpm\": a flow, not a power".
double read_stated(Field const&, std::string const& words);

}  // namespace steadyfire

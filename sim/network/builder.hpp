#pragma once
/// How arrangements put pieces together. Everything they add is an ordinary piece,
/// which a table of the same name in the file overrides.

#include <variant>

#include "sim/network/installation.hpp"

namespace steadyfire {

/// One value of a new piece, by key: SI number, text, names of other pieces, or a list of SI numbers.
struct Setting {
  std::string key;
  std::variant<double, std::string, std::vector<std::string>, std::vector<double>> value;
};

/// Another value for one assumption than the one that would be taken.
struct Supposition {
  std::string place, key;
  double value;  ///< SI
};

/// Grows an installation piece by piece.
///
/// Errors  InternalError for a key or kind that does not exist: the arrangement's fault.
class Builder {
 public:
  explicit Builder(Catalog catalog) : catalog_{catalog} {}

  /// A piece of a kind with its defaults, then `stated` by the user, then `settings`.
  /// Returns its number.
  int add(std::string_view kind, std::string name, std::vector<std::string> ports, std::vector<Setting> settings = {},
          Entry const* stated = nullptr);
  /// A piece as a table of the file states it.
  int add(Entry const& stated);
  /// Says which key of a table of the file states a piece, stated or not: stated_by<&ZoneSection::circulator>(number). Where such
  /// tables repeat it is that of `zone`.
  template <auto M>
  void stated_by(int piece) {
    Kind const& table = *find_kind(catalog_, detail::Owner<M>::kind);
    installation.pieces[piece].stated_in = {&table, table.home == Home::repeated ? zone : "", &field_of<M>(table)};
  }
  std::string zone;  ///< of the pieces that follow
  std::optional<Supposition> supposed;

  /// Tells a value that nobody stated; returns it, or what is supposed in its stead.
  double assume(Assumption);

  /// Changes a piece by the keys that a table gives. False if no piece has its name.
  bool override_with(Entry const& stated, Diagnostics& faults);

  /// Resolves names into numbers, and tells every usual value that nobody stated.
  /// Errors  adds E231 for names that no piece has.
  Installation finish(Diagnostics& faults);

  Installation installation;  ///< what is known besides pieces: title, fluid, zones

 private:
  Catalog catalog_;
};

}  // namespace steadyfire

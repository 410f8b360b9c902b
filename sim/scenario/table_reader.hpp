#pragma once
/// Reads one table of the file by the schema of its kind.

#include "sim/scenario/value_reader.hpp"

namespace steadyfire {

/// What a table may have besides its kind's fields.
struct TableRules {
  bool named = false;          ///< must have a `name`
  bool ports = false;          ///< may name the joints of its ports
  bool ports_needed = false;   ///< must do so
  bool nested = false;         ///< stands inside another table, where `kind` chooses
  bool may_lack_keys = false;  ///< without ports it only changes a piece made elsewhere
  std::vector<std::string> elsewhere{};  ///< keys that somebody else reads, or misses
  bool tables_elsewhere = false;         ///< so are all tables in it
};

/// Errors  told to the scope; Kind::check is asked only about a table without faults of its own.
Entry read_table(Kind const&, toml::table const&, Position at, TableRules const&, Scope const&);

/// A table inside a table, of a kind of the field's family.
std::shared_ptr<Entry const> read_nested(Field const&, toml::node const&, Scope const&);

bool holds(std::vector<std::string> const&, std::string_view word);

/// A table, or a list of tables under one heading.
bool is_table(toml::node const&);

/// The key of a kind's tables: its name with _ for each space.
std::string table_key(Kind const&);

/// The keys under which a kind's ports stand: `from` and `to` of a single branch, else their names.
std::vector<std::string> port_keys(Kind const&);

/// The kinds that may stand in a field of the family. Errors: InternalError if none.
std::vector<Kind const*> nested_kinds(Catalog, std::string const& family);

/// The kind that a nested table is of where it does not say: the only one of its family, or the one called like the family,
/// which was the only one before the others came. Null if there is none.
Kind const* kind_unsaid(std::vector<Kind const*> const&, std::string const& family);

}  // namespace steadyfire

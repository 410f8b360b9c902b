#pragma once
/// Reads a scenario file by the schemas of the kinds. All that is wrong with a file
/// is told at once, in file order, each with its place and what would be right.

#include "sim/component/kind.hpp"

namespace steadyfire {

/// A scenario file, checked table by table; values are SI. Names that tables use for
/// each other are still words: the lay-out resolves them.
struct Document {
  std::string file, text;
  Entry root;                 ///< the keys above all tables: format, title, …; kind "scenario"
  std::vector<Entry> tables;  ///< every other table, in file order

  Entry const* find(std::string_view kind) const;  ///< the first table of a kind, or null
};

/// Reads one file's text.
///
/// Shape   tables whose kind has `Home::single` or `Home::repeated`; nested tables by families.
///         A repeated table of a piece (a kind with branches) has a `name` and the joints of its
///         ports: `from` and `to` for one branch, the ports' own names otherwise. With neither
///         port given it stands for changes to a piece that an arrangement makes, and may lack
///         required keys (only if the file has a [boiler] or a [[zone]]).
/// Errors  adds to `faults`; a syntax error is the only one then.
Document read_document(std::string file, std::string text, Catalog, Diagnostics& faults);

/// The file's text. Errors: BadInput (missing, over 5 MB); what is not text or empty is read_document's fault.
std::string read_text(std::string const& file);

/// JSON Schema (draft 2020-12) for editors, from the same descriptions.
std::string editor_schema(Catalog, UnitSystem = UnitSystem::us);

/// The reference page of all tables and keys, in Markdown, from the same descriptions.
/// `opening` replaces what stands above the tables, where they are of another sort of file.
std::string reference_page(Catalog, UnitSystem = UnitSystem::us, std::string const& opening = "");

}  // namespace steadyfire

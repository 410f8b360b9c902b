#pragma once
/// A section of the file as its struct.

#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// Whether the user gave a value, and not as "unknown".
inline bool is_stated(Value const& v) { return v.given && !v.unknown; }

/// The file's section, or its defaults where the file has none.
template <class S>
S section_of(Document const& document, Catalog catalog) {
  if (auto const* e = document.find(S::kind)) return fill<S>(e->values);
  Kind const& kind = *find_kind(catalog, S::kind);
  std::vector<Value> values(kind.fields.size());
  for (std::size_t i = 0; i < values.size(); ++i)
    if (!std::isnan(kind.fields[i].standard)) values[i].numbers = {kind.fields[i].unit.to_si(kind.fields[i].standard)};
  return fill<S>(values);
}

/// All tables of a kind that may stand any number of times, in file order.
template <class S>
std::vector<S> all_sections(Document const& document) {
  std::vector<S> list;
  for (auto const& t : document.tables)
    if (t.kind->name == S::kind) list.push_back(fill<S>(t.values));
  return list;
}

}  // namespace steadyfire

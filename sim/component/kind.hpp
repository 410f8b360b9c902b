#pragma once
/// What the engine sees of the kinds: a table, and one batch per kind used.

#include <memory>
#include <optional>

#include "sim/component/book.hpp"

namespace steadyfire {

struct Shape {
  std::array<Cells, most_branches> cells;
  std::array<double, 2 * most_branches> port_water{};  ///< held by the joint at each port on this piece's account [m³]
  std::vector<OwnState> own;
};
struct Trip {
  int piece, from, to;
  Cause cause;
  std::string_view words;  ///< with placeholders, see Transition
  double value, limit;     ///< of the reading
  Measure measure;
  bool told;
};

/// All pieces of one kind, side by side. One call serves them all; what a kind
/// does not have costs its batch an empty call.
class Batch {
 public:
  virtual ~Batch() = default;
  virtual void add(std::span<Value const> values) = 0;  ///< in the order of the fields
  virtual Shape shape(int i, Fluid const&) const = 0;

  virtual void losses(Now const&, WithSlope* by_branch) const = 0;  ///< [Pa], [Pa·s/kg]
  virtual void ways(Now const&, Way* by_branch) const = 0;
  virtual void begin(Now const&, double* x) const = 0;  ///< own states that hang on the surroundings at the start
  virtual void demand(int i, bool call, double* x) const = 0;  ///< own states at which a piece calls by itself, or rests
  virtual void bores(Now const&, BoreFlow* by_branch) const = 0;
  virtual void settle(Now const&) = 0;                  ///< flows or modes changed
  virtual void links(Now const&, Links&) const = 0;
  virtual void laws(Now const&, Rates&) const = 0;
  virtual void laws(Now const&, Slopes&) const = 0;
  virtual void laws(Now const&, Pattern&) const = 0;
  virtual void laws(Now const&, Written&) const = 0;

  /// Guards on the state: one slot for each of the most guards a mode has, in every
  /// piece. `margins` fills the slots, −1 where none stands; `due` gives the earliest
  /// time at which a guard on time trips, 1e300 if none will.
  virtual int guard_slots() const = 0;
  virtual void margins(Now const&, double* slots) const = 0;
  virtual double due(Now const&) const = 0;
  /// How far the guard with this cause is from tripping in the mode that the i-th piece is in, in what it reads; 0 at the
  /// trip, negative before; NaN where none stands.
  virtual double margin(int i, Cause, Now const&) const = 0;
  /// Makes every transition whose guard has tripped, one a piece; `forced` marks slots
  /// which the march found at zero, whatever rounding says now. `forced` may be null.
  virtual void trip(Now const&, bool const* forced, int* mode, double* x, std::vector<Trip>&) const = 0;
  virtual void findings(Now const&, std::vector<Finding>&) const = 0;

  std::vector<Seat> seats;
};

/// Where tables of a kind stand in the file: inside other tables, once as `[table]`,
/// or any number of times as `[[table]]`.
enum class Home { nested, single, repeated };

/// An entry of the catalog. Its table in the file is `name` with _ for each space.
struct Kind {
  std::string name, family, summary;
  std::vector<Field> fields;
  std::vector<Branch> branches;
  std::vector<std::string> modes;
  std::vector<Traits> traits{trait::none};  ///< by mode
  Role role = Role::other;
  Caller caller = Caller::none;
  Home home = Home::nested;
  std::optional<Usual> usual{};  ///< of an emitter
  bool begins_names = false;               ///< names of pieces and joints begin with its own: "bath/supply", "bath in"
  std::vector<std::string> name_follows{};  ///< what stands before its name in names of pieces: "headers/to "
  bool is_nameless = false;      ///< its tables may repeat and have no names
  bool is_floor = false;         ///< an emitter whose surface is a floor, so that a floor sensor can feel it
  bool calls_itself = false;     ///< has a control of its own: needs neither room nor thermostat
  void (*check)(Entry const&, Diagnostics&) = nullptr;  ///< rules over several fields of one table
  std::unique_ptr<Batch> (*empty_batch)() = nullptr;  ///< null: a section of the file, no piece
};
using Catalog = std::span<Kind const>;

/// The value under a key. Errors: InternalError if the kind has no such key.
inline Value const& value_under(Kind const& kind, std::span<Value const> values, std::string_view key) {
  for (std::size_t i = 0; i < kind.fields.size(); ++i)
    if (kind.fields[i].key == key) return values[i];
  throw InternalError("kind '" + kind.name + "' has no key '" + std::string(key) + "'");
}
inline Value& value_under(Kind const& kind, std::span<Value> values, std::string_view key) {
  return values[&value_under(kind, std::span<Value const>{values}, key) - values.data()];
}
inline Value const& value_under(Entry const& e, std::string_view key) { return value_under(*e.kind, e.values, key); }

namespace detail {
template <auto M>
std::size_t index_of(Kind const& kind) {
  for (std::size_t i = 0; i < kind.fields.size(); ++i)
    if (kind.fields[i].put == put<M>) return i;
  throw InternalError("kind '" + kind.name + "' has no such member");
}
}  // namespace detail

/// The value of a member of the kind's own struct, in a table or a piece: value_of<&Boiler::minimum_input>(boiler). Two kinds
/// that list the same member of a common base are both served. Errors: InternalError if the kind does not list it.
template <auto M, class Table>
auto& value_of(Table& table) { return table.values[detail::index_of<M>(*table.kind)]; }
/// What the member itself would be: NaN, "", empty or 0 where the key is absent and has no standard.
template <auto M, class Table>
detail::Type<M> get(Table const& table) {
  detail::Owner<M> piece{};
  detail::put<M>(&piece, value_of<M>(table));
  return piece.*M;
}
/// The field that fills a member. Errors: as value_of.
template <auto M>
Field const& field_of(Kind const& kind) { return kind.fields[detail::index_of<M>(kind)]; }
/// Calls visit(key, value) for some members, in this order: rules that hold for each of them and name it. Errors: as value_of.
template <auto... M, class Table>
void each_value(Table& table, auto visit) { (..., visit(field_of<M>(*table.kind).key, value_of<M>(table))); }

/// The value that plays a role for the engine, null if the kind has none such.
template <class Table>
auto* find_value(Table& table, FieldRole role) {
  for (std::size_t i = 0; i < table.kind->fields.size(); ++i)
    if (table.kind->fields[i].role == role) return &table.values[i];
  return decltype(&table.values[0]){};
}
/// The same where the kind must have it. Errors: InternalError if it has none such.
template <class Table>
auto& value_of(Table& table, FieldRole role) {
  if (auto* const v = find_value(table, role)) return *v;
  throw InternalError("kind '" + table.kind->name + "' has no value of this role");
}
/// Its first number [SI]; `otherwise` where there is none, or NaN.
template <class Table>
double number_of(Table const& table, FieldRole role, double otherwise = Field::none) {
  auto const* v = find_value(table, role);
  return v && !v->numbers.empty() && !std::isnan(v->numbers[0]) ? v->numbers[0] : otherwise;
}

inline Kind const* find_kind(Catalog catalog, std::string_view name) {
  for (auto const& k : catalog)
    if (k.name == name) return &k;
  return nullptr;
}

}  // namespace steadyfire

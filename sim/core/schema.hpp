#pragma once
/// One declaration per field: key, unit, range, default, meaning. Reader, editor
/// schema, reference page and law tests follow from it.

#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <span>
#include <string>
#include <type_traits>
#include <vector>

#include "sim/core/curve.hpp"
#include "sim/core/diagnostic.hpp"
#include "sim/core/finding.hpp"
#include "sim/core/measure.hpp"

namespace steadyfire {

struct Kind;
struct Value;
enum class FieldRole;

/// A table of the file, checked: its kind, its name and the values of its fields in
/// the order of the kind's fields. `kind` is null where an optional table is absent.
struct Entry {
  Kind const* kind = nullptr;
  std::string name;
  std::string who;  ///< "zone 'bath', emitter": how faults speak of it
  Position at;
  std::vector<Value> values;
  std::vector<std::string> ports;  ///< of a piece: joint names, inlet and outlet of each branch; empty if the file names none
  std::vector<Position> ports_at;
  explicit operator bool() const { return kind != nullptr; }
};

/// What the user wrote for one field, in SI.
///
/// Shape  quantity, number, count, choice (index), flag (0/1), clock: numbers[0];
///        list, clocks: all of numbers; curve: see Curve::from; text: text; names of other
///        pieces: texts, and once laid out their numbers; a nested table: entry; values of another field:
///        texts as they are written, without quotes, each with its place.
struct Value {
  bool given = false;    ///< stands in the file
  bool unknown = false;  ///< the file says "unknown"
  Position at;
  std::vector<double> numbers;
  std::string text;
  std::vector<std::string> texts;
  std::vector<Position> texts_at;  ///< of values of another field
  std::shared_ptr<Entry const> entry;
};

/// Another piece, by its number in the plan; -1 is none.
struct Reference {
  int piece = -1;
  explicit operator bool() const { return piece >= 0; }
};

struct Field {
  enum class Sort {
    quantity, number, count, choice, flag, text, clock, clocks, list, curve, reference, references, entry, written, written_list
  };
  static constexpr double none = std::numeric_limits<double>::quiet_NaN();

  Sort sort;
  std::string key;
  Words help;
  void (*put)(void* piece, Value const&);
  AnyUnit unit = unit::one;       ///< a curve: of its first column
  AnyUnit unit_y = unit::one;     ///< a curve: of its second column
  std::string key_x{}, key_y{};   ///< a curve: names of its columns
  double least = 0, most = 0;     ///< in `unit`
  double standard = none;         ///< taken when the key is absent, in `unit`
  bool is_estimated = false;      ///< absent or "unknown" means "work it out"
  bool is_optional = false;       ///< absent means "not stated": NaN, "", empty or -1
  double low = none, high = none; ///< of a usual range around `standard`: then "unknown" is accepted
  std::string typical_source{};   ///< whose usual range
  Words absent{};                 ///< what is taken then
  std::vector<std::string> choices{};
  std::string refers_to{};        ///< a family of kinds
  std::string replaced_by{};      ///< a key that says the same: where it is given, no usual value is taken of this one
  FieldRole role{};               ///< what it is to the engine

  Field otherwise(double value) const { Field f = *this; f.standard = value; return f; }
  /// `taken` says what holds where the key is absent: "the ground".
  Field optional(Words taken = {}) const { Field f = *this; f.is_optional = true, f.absent = std::move(taken); return f; }
  /// Computed from other values where nobody states it; told as an assumption then.
  Field estimated(Words from) const { Field f = optional(std::move(from)); f.is_estimated = true; return f; }
  /// A standard that gives way to what `taken` names.
  Field told_as(Words taken) const { Field f = *this; f.absent = std::move(taken); return f; }
  /// Where nobody stated it the middle is taken and told as an assumption.
  Field typical(double lowest, double middle, double highest, std::string source = common_practice) const {
    Field f = *this;
    f.low = lowest, f.standard = middle, f.high = highest, f.typical_source = std::move(source);
    return f;
  }
  Field unless(std::string other) const { Field f = *this; f.replaced_by = std::move(other); return f; }
  Field as(FieldRole r) const { Field f = *this; f.role = r; return f; }
  bool is_required() const { return !is_optional && std::isnan(standard); }
  bool has_typical() const { return !std::isnan(low); }
  bool may_be_unknown() const { return has_typical() || is_estimated; }
};

namespace detail {
template <class> struct MemberOf;
template <class C, class T> struct MemberOf<T C::*> { using Owner = C; using Type = T; };
template <auto M> using Owner = typename MemberOf<decltype(M)>::Owner;
template <auto M> using Type = typename MemberOf<decltype(M)>::Type;

template <auto M>
void put(void* piece, Value const& v) {
  auto& member = static_cast<Owner<M>*>(piece)->*M;
  using T = Type<M>;
  auto const first = [&] { return v.numbers.empty() ? Field::none : v.numbers[0]; };
  if constexpr (requires { T::dimension; }) member = T{first()};
  else if constexpr (std::is_same_v<T, Reference>) member = {v.numbers.empty() ? -1 : int(v.numbers[0])};
  else if constexpr (std::is_same_v<T, std::string>) member = v.text;
  else if constexpr (std::is_same_v<T, std::vector<std::string>>) member = v.texts;
  else if constexpr (std::is_same_v<T, Curve>) member = Curve::from(v.numbers);
  else if constexpr (std::is_same_v<T, Entry>) member = v.entry ? *v.entry : Entry{};
  else if constexpr (std::is_same_v<T, std::vector<Reference>>) { member.clear(); for (double x : v.numbers) member.push_back({int(x)}); }
  else if constexpr (requires { member.push_back({}); }) { member.clear(); for (double x : v.numbers) member.push_back({x}); }
  else if constexpr (std::is_same_v<T, double>) member = first();
  else member = v.numbers.empty() ? T{} : T(v.numbers[0]);
}
}  // namespace detail

/// A unit of another dimension than the member's does not compile.
template <auto M>
Field field(std::string key, Unit<detail::Type<M>::dimension> unit, double least, double most, Words help) {
  Field f{Field::Sort::quantity, std::move(key), std::move(help), detail::put<M>, unit};
  f.least = least, f.most = most;
  return f;
}
/// A list of quantities.
template <auto M>
Field list(std::string key, Unit<detail::Type<M>::value_type::dimension> unit, double least, double most, Words help) {
  Field f{Field::Sort::list, std::move(key), std::move(help), detail::put<M>, unit};
  f.least = least, f.most = most;
  return f;
}
/// A bare number without dimension.
template <auto M>
Field number(std::string key, double least, double most, Words help) {
  Field f{Field::Sort::number, std::move(key), std::move(help), detail::put<M>};
  f.least = least, f.most = most;
  return f;
}
template <auto M>
Field count(std::string key, int least, int most, Words help) {
  Field f{Field::Sort::count, std::move(key), std::move(help), detail::put<M>};
  f.least = least, f.most = most;
  return f;
}
/// One of some words; the member is an int or an enum counting from 0.
template <auto M>
Field choice(std::string key, std::vector<std::string> choices, Words help) {
  Field f{Field::Sort::choice, std::move(key), std::move(help), detail::put<M>};
  f.most = double(choices.size()) - 1, f.choices = std::move(choices);
  return f;
}
template <auto M>
Field flag(std::string key, Words help) { return {Field::Sort::flag, std::move(key), std::move(help), detail::put<M>}; }
template <auto M>
Field text(std::string key, Words help) { return {Field::Sort::text, std::move(key), std::move(help), detail::put<M>}; }
/// A time of day, "22:30"; the member is a Time since midnight.
template <auto M>
Field clock(std::string key, Words help) {
  Field f{Field::Sort::clock, std::move(key), std::move(help), detail::put<M>, unit::hour};
  f.most = 24;
  return f;
}
/// Times of day, ["7:00", "18:30"]; the member is a list of Times since midnight.
template <auto M>
Field clocks(std::string key, Words help) {
  Field f{Field::Sort::clocks, std::move(key), std::move(help), detail::put<M>, unit::hour};
  f.most = 24;
  return f;
}
/// A table of two columns, by points or by the coefficients of a polynomial.
template <auto M>
Field curve(std::string key, std::string key_x, AnyUnit unit_x, std::string key_y, AnyUnit unit_y, Words help) {
  Field f{Field::Sort::curve, std::move(key), std::move(help), detail::put<M>, unit_x, unit_y, std::move(key_x), std::move(key_y)};
  return f;
}
/// Another piece of a family, by name.
template <auto M>
Field reference(std::string key, std::string family, Words help) {
  auto constexpr many = std::is_same_v<detail::Type<M>, std::vector<Reference>>;
  Field f{many ? Field::Sort::references : Field::Sort::reference, std::move(key), std::move(help), detail::put<M>};
  f.refers_to = std::move(family);
  return f;
}
/// A value of another field, which somebody reads who knows that field: a text, a number, true or false. The member is its text.
template <auto M>
Field written(std::string key, Words help) { return {Field::Sort::written, std::move(key), std::move(help), detail::put<M>}; }
/// A list of such.
template <auto M>
Field written_list(std::string key, Words help) {
  return {Field::Sort::written_list, std::move(key), std::move(help), detail::put<M>};
}
/// A table inside the table, `{ kind = "…", … }`, of a kind of the family; a family of
/// one kind needs no `kind`.
template <auto M>
Field entry(std::string key, std::string family, Words help) {
  Field f{Field::Sort::entry, std::move(key), std::move(help), detail::put<M>};
  f.refers_to = std::move(family);
  return f;
}

/// Fills a plain struct from a checked table of its kind.
template <class K>
K fill(std::span<Value const> values) {
  K piece{};
  static auto const fields = K::schema();
  if (fields.size() != values.size()) throw InternalError("a table's values do not match its kind's fields");
  for (std::size_t i = 0; i < fields.size(); ++i) fields[i].put(&piece, values[i]);
  return piece;
}

}  // namespace steadyfire

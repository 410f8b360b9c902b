#include "sim/network/builder.hpp"

#include "sim/core/si_unit.hpp"

namespace steadyfire {
namespace {

Value default_of(Field const& f) {
  Value v;
  if (!std::isnan(f.standard)) v.numbers = {f.unit.to_si(f.standard)};
  return v;
}
bool names_pieces(Field const& f) { return f.sort == Field::Sort::reference || f.sort == Field::Sort::references; }

}  // namespace

int Builder::add(std::string_view kind, std::string name, std::vector<std::string> ports, std::vector<Setting> settings,
                 Entry const* stated) {
  Kind const* k = find_kind(catalog_, kind);
  if (!k) throw InternalError("an arrangement asks for the unknown kind '" + std::string(kind) + "'");
  Piece piece{std::move(name), k, {}, std::move(ports), zone, stated ? stated->at : Position{}};
  for (std::size_t i = 0; i < k->fields.size(); ++i) piece.values.push_back(stated ? stated->values.at(i) : default_of(k->fields[i]));
  for (auto& s : settings) {
    auto& v = value_under(*k, std::span<Value>{piece.values}, s.key);
    v.given = true, v.unknown = false;
    if (auto const* x = std::get_if<double>(&s.value)) v.numbers = {*x};
    else if (auto const* t = std::get_if<std::string>(&s.value)) v.text = *t, v.texts = {*t};
    else if (auto const* names = std::get_if<std::vector<std::string>>(&s.value)) v.texts = *names;
    else v.numbers = std::get<std::vector<double>>(s.value);
  }
  installation.pieces.push_back(std::move(piece));
  return int(installation.pieces.size()) - 1;
}

int Builder::add(Entry const& stated) {
  auto ports = stated.ports;
  if (ports.size() == 1) ports.push_back(stated.name + " inside");
  return add(stated.kind->name, stated.name, std::move(ports), {}, &stated);
}

bool Builder::override_with(Entry const& stated, Diagnostics& faults) {
  int const at = installation.find(stated.name);
  if (at < 0) return false;
  Piece& piece = installation.pieces[at];
  if (piece.kind != stated.kind) {
    faults.add({"E232", stated.at, "'" + stated.name + "' is a " + piece.kind->name + ", not a " + stated.kind->name,
                "[[" + piece.kind->name + "]]", "the arrangement makes this part; use its table"});
    return true;
  }
  for (std::size_t i = 0; i < stated.values.size(); ++i)
    if (stated.values[i].given) piece.values[i] = stated.values[i];
  piece.at = stated.at;
  return true;
}

double Builder::assume(Assumption a) {
  if (supposed && supposed->place == a.place && supposed->key == a.key) a.value = supposed->value;
  installation.assumptions.push_back(a);
  return a.value;
}

Installation Builder::finish(Diagnostics& faults) {
  std::vector<std::string> known;
  for (auto const& p : installation.pieces) known.push_back(p.name);
  for (auto& piece : installation.pieces)
    for (std::size_t i = 0; i < piece.values.size(); ++i) {
      auto const& f = piece.kind->fields[i];
      auto& v = piece.values[i];
      if (names_pieces(f)) {
        v.numbers.clear();
        for (auto const& name : v.texts) {
          int const at = installation.find(name);
          if (at >= 0) { v.numbers.push_back(at); continue; }
          auto const near = nearest(name, known);
          faults.add({"E231", v.at.line ? v.at : piece.at,
                      piece.kind->name + " '" + piece.name + "': " + f.key + " is '" + name + "', and no part has that name",
                      "the name of a " + f.refers_to, near.empty() ? "" : "did you mean '" + near + "'?"});
        }
      }
      bool const replaced = !f.replaced_by.empty() && value_under(*piece.kind, std::span<Value const>{piece.values}, f.replaced_by).given;
      if (f.has_typical() && (!v.given || v.unknown) && !v.numbers.empty() && !replaced) {
        Measure const shown{f.unit, si_unit(f.unit), 2, f.unit.dimension == VolumeFlow::dimension ? 3 : 2};
        v.numbers[0] = assume({piece.name, f.key, v.numbers[0], f.unit.to_si(f.low), f.unit.to_si(f.high), shown, f.typical_source});
      }
    }
  return installation;
}

}  // namespace steadyfire

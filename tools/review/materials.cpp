#include "tools/review/materials.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "models/arrangements/hot_water.hpp"
#include "models/emitters/tube_loops.hpp"
#include "models/house/piping_sections.hpp"
#include "models/house/section_of.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/scenario/field_words.hpp"
#include "tools/review/circuits.hpp"
#include "tools/review/materials_sections.hpp"
#include "tools/review/outdoor_sensor.hpp"
#include "tools/review/pressure_review.hpp"

namespace steadyfire {
namespace {

using namespace unit;

class Count {
 public:
  Count(Document const& document, Installation const& in, Catalog catalog) : in_{in} {
    for (std::size_t p = 0; p < in.pieces.size(); ++p)
      for (auto const& port : in.pieces[p].ports)
        if (!port.empty()) ends_[port].push_back(int(p));
    is_manifold_ = section_of<HeadersSection>(document, catalog).arrangement == HeadersSection::manifold;
    has_separator_ = section_of<NearBoilerSection>(document, catalog).arrangement == NearBoilerSection::separator;
  }

  std::vector<Material> all() {
    for (auto const& p : in_.pieces) piece(p);
    if (needs_outdoor_sensor(in_)) count("control", "outdoor sensor", 1, "");  // no piece of the graph stands for it
    for (auto const& [joint, pieces] : ends_) fittings(joint, pieces);
    static std::vector<std::string> const order{"boiler",     "pipe",      "tube",   "insulation", "fitting", "valve",
                                                "circulator", "separator", "vessel", "emitter",    "control"};
    auto const rank = [&](Material const& m) { return std::find(order.begin(), order.end(), m.sort) - order.begin(); };
    std::stable_sort(list_.begin(), list_.end(), [&](auto const& a, auto const& b) { return rank(a) < rank(b); });
    return std::move(list_);
  }

 private:
  void add(std::string const& sort, Words const& what, double quantity, Measure const& m, std::string const& zone) {
    if (quantity <= 0) return;
    auto same = std::find_if(list_.begin(), list_.end(), [&](auto const& l) { return l.sort == sort && is_same(l.what, what); });
    if (same == list_.end()) same = list_.insert(list_.end(), Material{sort, what, 0, m, {}});
    same->quantity += quantity;
    std::string const where = zone.empty() ? "near the boiler" : zone;
    if (std::find(same->where.begin(), same->where.end(), where) == same->where.end()) same->where.push_back(where);
  }
  void count(std::string const& sort, Words const& what, double pieces, std::string const& zone) {
    add(sort, what, pieces, measure::count, zone);
  }

  static bool is_same(Words const& a, Words const& b) {
    return a.in(UnitSystem::us) == b.in(UnitSystem::us) && a.in(UnitSystem::si) == b.in(UnitSystem::si);
  }

  static Value const* find(Piece const& p, std::string_view key) {
    for (std::size_t i = 0; i < p.kind->fields.size(); ++i)
      if (p.kind->fields[i].key == key) return &p.values[i];
    return nullptr;
  }
  static double number(Piece const& p, std::string_view key) {
    auto const* v = find(p, key);
    return v && !v->numbers.empty() ? v->numbers[0] : Field::none;
  }
  static std::string size_of_pipe(Piece const& pipe) {
    if (pipe.kind->name != "pipe") return "";
    auto const* size = find(pipe, "size");
    if (size && !size->text.empty()) return size->text;
    double const bore = number(pipe, "diameter");
    return std::isnan(bore) ? "" : show(bore, measure::diameter, UnitSystem::si);
  }
  /// A size as it is told: its trade name, or the bore of a pipe that has none.
  static Words told(std::string const& size) {
    double millimetres = 0;
    if (find_pipe_size(size) || std::sscanf(size.c_str(), "%lf mm", &millimetres) != 1) return size;
    return say("{} inside", Amount{millimetres * unit::millimetre.scale, measure::diameter});
  }

  /// Of the nearest pipe on the way through pieces that are none, from a joint into a piece; "" if there is none.
  std::string size_into(int piece, std::string joint) const {
    for (int steps = 0; steps < 12; ++steps) {
      auto const& p = in_.pieces[std::size_t(piece)];
      if (auto size = size_of_pipe(p); !size.empty()) return size;
      if (p.ports.size() != 2 || p.kind->role == Role::boiler || p.kind->role == Role::emitter || p.kind->role == Role::tank) return "";
      joint = p.ports[0] == joint ? p.ports[1] : p.ports[0];
      auto const at = ends_.find(joint);
      if (at == ends_.end() || at->second.size() != 2) return "";
      piece = at->second[0] == piece ? at->second[1] : at->second[0];
    }
    return "";
  }
  /// The size of the pipe that a piece stands in: of a neighbor of its own zone before one of the mains that it is taken off, and of
  /// one at a joint of two before one at a tee.
  std::string size_around(Piece const& p) const {
    int const self = int(&p - in_.pieces.data());
    std::string best;
    int rank_of_best = 0;
    for (auto const& joint : p.ports)
      if (auto const at = ends_.find(joint); at != ends_.end())
        for (int const other : at->second) {
          if (other == self) continue;
          auto size = size_into(other, joint);
          int const rank = 1 + (at->second.size() == 2) + 2 * (in_.pieces[std::size_t(other)].zone == p.zone);
          if (!size.empty() && rank > rank_of_best) best = std::move(size), rank_of_best = rank;
        }
    return best;
  }
  Words sized(Piece const& p, std::string const& words) const {
    auto const size = size_around(p);
    return size.empty() ? Words(words) : say("{}, for {}", words, told(size));
  }
  static Words with_cv(Piece const& p, Words words) {
    auto const *cv = find(p, "cv"), *kv = find(p, "kv");
    if (kv && kv->given && !kv->numbers.empty()) return words + fmt::format(", Kv {:.3g}", kv->numbers[0]);
    return cv && cv->given && !cv->numbers.empty() ? words + fmt::format(", Cv {:.3g}", cv->numbers[0]) : words;
  }
  /// "panel radiator, output 22.0 kBtu/h": by the keys without which the kind cannot be told.
  static Words described(Piece const& p) {
    Words words = p.kind->name;
    for (std::size_t i = 0; i < p.values.size(); ++i) {
      auto const& f = p.kind->fields[i];
      auto const& v = p.values[i];
      if (v.numbers.empty() || f.sort != Field::Sort::quantity || !(f.is_required() || (v.given && (f.key == "output" || f.key == "area"))))
        continue;
      auto key = f.key;
      std::replace(key.begin(), key.end(), '_', ' ');
      words += say(", {} {}", key, InEach{words_of(f, v, UnitSystem::us), words_of(f, v, UnitSystem::si)});
    }
    return words;
  }

  void piece(Piece const& p) {
    auto const& kind = p.kind->name;
    if (is_inside_combi(p)) return;
    switch (p.kind->role) {
      case Role::pipe:
        if (kind == "pipe") pipe(p);
        else if (kind == "diverter tee") count("fitting", sized(p, "diverter tee"), 1, p.zone);
        break;
      case Role::circulator:
        circulator(p);
        break;
      case Role::valve:
      case Role::check:
        count("valve", with_cv(p, sized(p, kind == "check valve" ? "flow check" : kind)), 1, p.zone);
        break;
      case Role::emitter:
        count("emitter", described(p), 1, p.zone);
        tube(p);
        break;
      case Role::boiler:
        count("boiler", say("boiler, {} heating input", Amount{number(p, "heating_input"), measure::power}), 1, "");
        break;
      case Role::tank:
        count("vessel",
              say("{}, {}", has_separator_ ? "hydraulic separator" : "buffer tank", Amount{number(p, "volume"), measure::volume}), 1,
              p.zone);
        break;
      case Role::exchanger:
        count("vessel", say("plate heat exchanger, for {}", told(size_around(p))), 1, p.zone);
        break;
      case Role::expansion:
        count("vessel",
              std::isnan(number(p, "volume")) ? Words("expansion tank (size: see Expansion)")
                                              : say("expansion tank, {}", Amount{number(p, "volume"), measure::volume}),
              1, p.zone);
        break;
      case Role::thermostat:
        count("control", "room thermostat", 1, p.zone);
        break;
      case Role::tap:
        count("valve", "mixing tap", 1, p.zone);
        break;
      case Role::cold_main:
        break;
      default:
        if (kind == "supply sensor") count("control", "thermometer in the pipe", 1, p.zone);
        else if (!p.kind->branches.empty()) count("separator", sized(p, kind), 1, p.zone);
    }
  }
  void pipe(Piece const& p) {
    auto const size = size_of_pipe(p);
    add("pipe", told(size), number(p, "length"), measure::length, p.zone);
    if (double const thick = number(p, "insulation"); thick > 0)
      add("insulation",
          say("{} around {}", InEach{fmt::format("{:.3g} in", thick / inch.scale), fmt::format("{:.0f} mm", thick / millimetre.scale)},
              told(size)),
          number(p, "length"), measure::length, p.zone);
    count("fitting", "elbow, " + told(size), number(p, "elbows"), p.zone);
  }
  void circulator(Piece const& p) {
    Words what = p.kind->name;
    double n = 1;
    if (p.kind->name == "circulator") {
      auto const word = [&](char const* key) {
        auto const& field = *std::find_if(p.kind->fields.begin(), p.kind->fields.end(), [&](auto const& f) { return f.key == key; });
        return field.choices.at(std::size_t(number(p, key)));
      };
      what += find(p, "curve")->numbers.empty() ? say(", {} duty", word("duty")) : Words(", by its stated curve");
      what += ", " + word("regulation");
      n = number(p, "in_series") * number(p, "in_parallel");
    }
    count("circulator", what, n, p.zone);
  }
  /// Tube that is laid in a floor, wall or ceiling, or that carries fins.
  void tube(Piece const& p) {
    auto const* size = find(p, "tube");
    double const spacing = number(p, "spacing");
    if (!size || std::isnan(spacing)) return;
    double const area = std::isnan(number(p, "floor_area")) ? number(p, "area") : number(p, "floor_area");
    TubeLoops const loops(size->text, area, spacing, number(p, "tube_length"), int(number(p, "loops")));
    add("tube", say("{}, in {}", size->text.empty() ? std::string(TubeLoops::usual_tube) : size->text, p.kind->name),
        loops.count * loops.length, measure::length, p.zone);
    count("fitting", say("manifold pair, {} loops", loops.count), loops.count > 1 ? 1 : 0, p.zone);
  }

  /// Tees, manifolds and reducers of a joint.
  void fittings(std::string const& joint, std::vector<int> const& pieces) {
    std::vector<std::string> sizes;
    std::string zone = in_.pieces[std::size_t(pieces[0])].zone;
    for (int const p : pieces) {
      auto const& piece = in_.pieces[std::size_t(p)];
      if (piece.kind->role == Role::tank) return;
      if (piece.zone != zone) zone = "";
      if (piece.kind->role == Role::valve && piece.kind->branches.size() > 1) return;  // its own ways meet there
      sizes.push_back(size_into(p, joint));
    }
    auto const bore = [](std::string const& size) {
      auto const pipe = find_pipe_size(size);
      return pipe ? pipe->inside_diameter : 0;
    };
    std::stable_sort(sizes.begin(), sizes.end(), [&](auto const& a, auto const& b) { return bore(a) > bore(b); });
    if (sizes[0].empty()) return;  // no pipe of the graph meets there
    if (is_manifold_ && (joint == "supply header" || joint == "return header")) {
      count("fitting", say("manifold, {} outlets, {}", pieces.size() - 1, told(sizes[0])), 1, "");
    } else if (pieces.size() > 2) {
      for (std::size_t i = 2; i < sizes.size(); ++i)
        count("fitting",
              sizes[i] == sizes[0] || sizes[i].empty() ? "tee, " + told(sizes[0])
                                                       : say("tee, {} with branch {}", told(sizes[0]), told(sizes[i])), 1,
              zone);
    } else if (pieces.size() == 2 && sizes[0] != sizes[1] && is_pipe(pieces[0]) && is_pipe(pieces[1])) {
      count("fitting", say("reducer, {} to {}", told(sizes[0]), told(sizes[1])), 1, zone);
    }
  }

  bool is_pipe(int piece) const { return !size_of_pipe(in_.pieces[std::size_t(piece)]).empty(); }

  Installation const& in_;
  std::map<std::string, std::vector<int>> ends_;  ///< by joint: the pieces that end there
  std::vector<Material> list_;
  bool is_manifold_ = false, has_separator_ = false;
};

}  // namespace

std::vector<Material> materials(Document const& document, Installation const& in, Catalog catalog) {
  return Count{document, in, catalog}.all();
}

namespace {

/// Expansion tanks that closed circuits need and the file does not have.
std::vector<Material> missing_tanks(Job const& job) {
  std::vector<Material> list;
  auto const part = review_pressure(job);
  auto const sizes = std::find_if(part.tables.begin(), part.tables.end(), [](auto const& t) { return t.id == "expansion"; });
  auto const circuits = circuits_of(job.project.installation);
  for (auto const& c : circuits) {
    if (c.tank >= 0 || c.holds("cold main")) continue;
    Words what = "expansion tank (none in the file; size: see Expansion)";
    if (sizes != part.tables.end())
      for (auto const& row : sizes->rows) {
        auto const size = std::find(sizes->columns.begin(), sizes->columns.end(), "tank by diaphragm formula") - sizes->columns.begin();
        if (row[0].shown(UnitSystem::us) == c.name && row[std::size_t(size)].is_number)
          what = say("expansion tank, at least {} (none in the file)", Amount{row[std::size_t(size)].value, measure::volume});
      }
    list.push_back({"vessel", what, 1, measure::count, {circuits.size() > 1 ? c.name : "near the boiler"}});
  }
  return list;
}

}  // namespace

ReviewTable materials_list(Job const& job) {
  auto const section = section_of<MaterialsSection>(job.document, job.catalog);
  ReviewTable table{"materials", "Materials list", {"sort", "what", "quantity", "where"}, {}};
  double const more = std::isnan(*section.waste) ? 1 : 1 + *section.waste;
  auto list = materials(job.document, job.project.installation, job.catalog);
  auto const tanks = missing_tanks(job);
  auto const at = std::find_if(list.begin(), list.end(), [](auto const& m) { return m.sort == "emitter" || m.sort == "control"; });
  list.insert(at, tanks.begin(), tanks.end());
  for (auto const& m : list) {
    bool const is_length = m.measure.us.symbol != measure::count.us.symbol;
    table.rows.push_back(
        {m.sort, m.what, {is_length ? m.quantity * more : m.quantity, m.measure}, fmt::format("{}", fmt::join(m.where, ", "))});
  }
  return table;
}

ReviewPart review_materials(Job const& job) {
  ReviewPart part;
  part.id = "materials", part.title = "Materials list";
  auto const section = section_of<MaterialsSection>(job.document, job.catalog);
  part.tables.push_back(materials_list(job));
  if (std::isnan(*section.waste))
    part.missing.push_back(say("waste in [materials]: lengths are as drawn (usual {} to {} more; {})", Amount{0.05, measure::share},
                               Amount{0.1, measure::share}, common_practice));
  else
    part.sentences.push_back(
        say("Lengths of pipe, tube and insulation include {} for cutting (your input).", Amount{*section.waste, measure::share}));
  part.not_covered = {
      "hangers, clamps, unions, flanges, couplings along straight pipe, adapters, solder, flux, press fittings, sealant and screws",
      "what the piping in the file does not have: isolation, purge, drain and fill valves, backflow preventer, relief valve, gauges, "
      "low-water cutoff, air vents, gas and vent pipe, wire",
      "what a valve or a circulator comes with or needs at its ends: flanges, union ends, reducers",
      "tees that a pipe states in tees_through or tees_branch: they are taken to be those of the joints at its ends",
      "what is inside a manifold: balancing valves and actuators are listed among the valves",
      "what is inside a combi boiler: heat exchanger, diverting valve, flow sensor and flow limiter; and the cold pipes to the taps"};
  part.reminders = {"Sizes of tees follow the pipes that meet there. The header of a manifold may replace several of them."};
  return part;
}

}  // namespace steadyfire

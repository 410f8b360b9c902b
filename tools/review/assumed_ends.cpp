#include "tools/review/assumed_ends.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "sim/core/si_unit.hpp"

namespace steadyfire {
namespace {

/// How far inside its limit, in the limit's unit; below 0 it fails.
double inside_by(Judgement const& j) {
  double const inside = j.limit.value - j.actual.value;
  return j.sense == Judgement::at_most ? inside : -inside;
}

/// The same judgement in another review of the subject: of its id and place, the one that comes as late.
Judgement const* same(std::vector<Judgement> const& judged, std::size_t which, std::vector<Judgement> const& elsewhere) {
  auto const alike = [&](Judgement const& j) { return j.id == judged[which].id && j.place == judged[which].place; };
  auto nth = std::count_if(judged.begin(), judged.begin() + std::ptrdiff_t(which), alike);
  for (auto const& j : elsewhere)
    if (alike(j) && nth-- == 0) return &j;
  return nullptr;
}

/// A bound as it is printed, rounded so that what is printed keeps to it.
InEach rounded(double si, Measure const& m, bool down) {
  auto const in = [&](UnitSystem system) {
    int const digits = system == UnitSystem::us ? m.us_digits : m.si_digits;
    double const step = std::pow(10, -digits), steps = m.unit(system).from_si(si) / step;
    return with_unit(fmt::format("{:.{}f}", (down ? std::floor(steps + 1e-6) : std::ceil(steps - 1e-6)) * step, digits), m.unit(system));
  };
  return {in(UnitSystem::us), in(UnitSystem::si)};
}

class Ends {
 public:
  Ends(Reviewer review, Job const& job, std::vector<AssumedValue> const& assumed)
      : review_{review}, job_{job}, assumed_{assumed}, document_{job.document}, project_{job.project} {}

  ReviewPart write() {
    auto part = review_(job_);
    for (auto const& a : assumed_)
      at_ends_.push_back({at([&] { put(a, a.least); }, [&] { put(a, a.value); }), at([&] { put(a, a.most); }, [&] { put(a, a.value); })});
    part.in_order.clear();
    for (std::size_t i = 0; i < part.judged.size(); ++i) judge(part, i);
    return part;
  }

 private:
  /// What an assumed value does to a judgement at its end that lowers, or lifts, the margin most.
  struct Pull {
    AssumedValue const* assumed;
    double end, change;
  };

  void put(AssumedValue const& a, double value) { a.put(document_, project_.installation, value); }
  std::vector<Judgement> at(auto&& change, auto&& undo) {
    change();
    auto const part = review_({document_, job_.catalog, project_, job_.flows, job_.run, job_.flows_with, job_.run_with});
    undo();
    return part.judged;
  }

  /// Largest first; `lowers`: those that make it worse.
  std::vector<Pull> pulls(std::vector<Judgement> const& judged, std::size_t which, bool lowers) const {
    std::vector<Pull> list;
    double const middle = inside_by(judged[which]);
    for (std::size_t a = 0; a < assumed_.size(); ++a) {
      Pull strongest{&assumed_[a], assumed_[a].value, 0};
      for (int end : {0, 1})
        if (auto const* j = same(judged, which, at_ends_[a][std::size_t(end)])) {
          double const change = inside_by(*j) - middle;
          if (lowers ? change < strongest.change : change > strongest.change)
            strongest.change = change, strongest.end = end ? assumed_[a].most : assumed_[a].least;
        }
      double const noticed = 1e-6 * std::max(std::abs(judged[which].limit.value), std::abs(judged[which].actual.value));
      if (std::abs(strongest.change) > noticed) list.push_back(strongest);
    }
    std::stable_sort(list.begin(), list.end(), [](auto const& x, auto const& y) { return std::abs(x.change) > std::abs(y.change); });
    return list;
  }

  void judge(ReviewPart& part, std::size_t which) {
    auto const& j = part.judged[which];
    bool const holds = j.holds();
    auto const pulled = pulls(part.judged, which, holds);
    double squares = 0;
    for (auto const& p : pulled) squares += p.change * p.change;
    double const together = std::sqrt(squares), rounding = 1e-9 * std::abs(j.limit.value);
    bool const is_open = holds ? inside_by(j) - together < -rounding : inside_by(j) + together >= rounding;
    if (!is_open) {
      if (holds) part.in_order.push_back(j);
      return;
    }
    if (!holds) {
      for (auto& f : part.findings)
        if (f.id == j.id && f.place == j.place && f.figures.size() == 1 && f.figures[0].value == j.actual.value)
          f.words += say(j.consequence.empty() ? ". OK only if {}" : " OK only if {}", conditions(j, pulled));
      return;
    }
    auto words = say("{}: ok only if {}", j.told(), conditions(j, pulled));
    if (auto const worst = worst_of(part.judged, which, pulled); worst) {
      bool const limit_moves = std::abs(worst->actual.value - j.actual.value) < 1e-9 * std::abs(j.actual.value);
      words += limit_moves ? say(". The {} may be {}", j.limit_word(), Amount{worst->limit.value, j.limit.measure})
                           : say(". It may be {} {}", j.sense == Judgement::at_most ? "up to" : "as low as",
                                 Amount{worst->actual.value, j.actual.measure});
    }
    part.find({"assumed.decides", j.place, lighter(j.severity), {j.actual}, j.limit, j.whose, std::move(words), j.order},
              say("Look up {} (manual, plate or supplier) and put {} in the file.", keys(pulled), deciding(pulled) == 1 ? "it" : "them"));
  }

  static Severity lighter(Severity s) { return s == Severity::serious ? Severity::minor : Severity::note; }

  /// How many of them are worth a word: those that make nine tenths of the change.
  static std::size_t deciding(std::vector<Pull> const& pulled) {
    double sum = 0, so_far = 0;
    for (auto const& p : pulled) sum += std::abs(p.change);
    std::size_t n = 0;
    while (n < pulled.size() && so_far < 0.9 * sum) so_far += std::abs(pulled[n++].change);
    return n;
  }
  static Words keys(std::vector<Pull> const& pulled) {
    std::vector<Words> names;
    for (std::size_t i = 0; i < deciding(pulled); ++i) names.push_back(say("{} {}", pulled[i].assumed->key, pulled[i].assumed->of));
    return listed(names);
  }
  /// "elbow_length in [vent] is 5.7 ft or less (assumed 5.0 ft, usual 4.0 to 10.0 ft)".
  static Words conditions(Judgement const& j, std::vector<Pull> const& pulled) {
    double const middle = inside_by(j);
    auto const alone = [&](Pull const& p) { return -middle / p.change <= 1; };  // it crosses the limit with all others in the middle
    bool const any_alone = std::any_of(pulled.begin(), pulled.end(), alone);
    std::vector<Words> list;
    for (std::size_t i = 0; i < deciding(pulled); ++i) {
      if (any_alone && !alone(pulled[i])) continue;
      auto const& [a, end, change] = pulled[i];
      auto const show = [&](double si) { return Amount{si, a->measure}; };
      auto const range = say("(assumed {}, usual {} to {})", show(a->value), show(a->least), show(a->most));
      double const share = -middle / change;  // of the way from the middle to that end where the margin is gone
      if (share > 1) list.push_back(say("{} {} is near {} {}", a->key, a->of, middle >= 0 ? show(a->value) : show(end), range));
      else {
        bool const is_upper = (end > a->value) == (middle >= 0);
        list.push_back(say("{} {} is {} or {} {}", a->key, a->of, rounded(a->value + share * (end - a->value), a->measure, is_upper),
                           is_upper ? "less" : "more", range));
      }
    }
    return list.size() < 2 ? listed(list) : say("{}, each with the others as assumed", listed(list));
  }

  /// The judgement with all of them at their worst.
  std::optional<Judgement> worst_of(std::vector<Judgement> const& judged, std::size_t which, std::vector<Pull> const& pulled) {
    auto const all = at(
        [&] {
          for (auto const& p : pulled) put(*p.assumed, p.end);
        },
        [&] {
          for (auto const& p : pulled) put(*p.assumed, p.assumed->value);
        });
    auto const* j = same(judged, which, all);
    return j ? std::optional(*j) : std::nullopt;
  }

  Reviewer review_;
  Job const& job_;
  std::vector<AssumedValue> const& assumed_;
  Document document_;
  Project project_;
  std::vector<std::array<std::vector<Judgement>, 2>> at_ends_;
};

}  // namespace

namespace {

/// With as many decimals as its range is worth.
Measure shown(Assumption const& a) {
  Measure m = a.measure;
  if ((a.most - a.least) / m.us.scale > 5) m.us_digits = std::min(m.us_digits, 1), m.si_digits = std::min(m.si_digits, 1);
  return m;
}

}  // namespace

std::vector<AssumedValue> assumed_in_pieces(Job const& job, std::initializer_list<Role> roles) {
  std::vector<AssumedValue> list;
  auto const& in = job.project.installation;
  for (auto const& a : in.assumptions) {
    int const piece = in.find(a.place);
    if (piece < 0 || !a.has_range()) continue;
    auto const& kind = *in.pieces[std::size_t(piece)].kind;
    if (std::find(roles.begin(), roles.end(), kind.role) == roles.end()) continue;
    auto const field = std::find_if(kind.fields.begin(), kind.fields.end(), [&](auto const& f) { return f.key == a.key; });
    if (field == kind.fields.end()) continue;
    auto const number = std::size_t(field - kind.fields.begin());
    list.push_back({a.key, kind.home == Home::single ? "in [" + std::string(kind.name) + "]" : "of '" + a.place + "'", a.value, a.least,
                    a.most, shown(a), [piece, number](Document&, Installation& other, double value) {
                      other.pieces[std::size_t(piece)].values[number].numbers = {value};
                    }});
  }
  return list;
}

std::vector<AssumedValue> assumed_in_table(Job const& job, std::string_view kind) {
  std::vector<AssumedValue> list;
  auto const& tables = job.document.tables;
  auto const table = std::find_if(tables.begin(), tables.end(), [&](auto const& t) { return t.kind->name == kind; });
  if (table == tables.end()) return list;
  auto const at = std::size_t(table - tables.begin());
  for (std::size_t i = 0; i < table->values.size(); ++i) {
    auto const& f = table->kind->fields[i];
    auto const& v = table->values[i];
    if (!f.has_typical() || (v.given && !v.unknown) || v.numbers.empty()) continue;
    list.push_back({f.key, "in [" + std::string(kind) + "]", v.numbers[0], f.unit.to_si(f.low), f.unit.to_si(f.high),
                    {f.unit, si_unit(f.unit), 1, 2}, [at, i](Document& other, Installation&, double value) {
                      other.tables[at].values[i].numbers = {value};
                    }});
  }
  return list;
}

ReviewPart at_both_ends(Reviewer review, Job const& job, std::vector<AssumedValue> const& assumed) {
  return Ends{review, job, assumed}.write();
}

}  // namespace steadyfire

#include "tools/study/parameter_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/job/catalog.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/field_words.hpp"
#include "tools/study/study_sections.hpp"

namespace steadyfire {
namespace {

using S = Field::Sort;

bool is_one_of_words(Field const& f) { return f.sort == S::choice || f.sort == S::flag || f.sort == S::text || f.sort == S::reference; }
bool is_written_in_words(Field const& f) { return f.sort == S::text || f.sort == S::reference; }

class ParameterReader {
public:
  ParameterReader(Entry const& entry, Case const& base, PointSort sort, Diagnostics& faults)
      : entry_{entry}, base_{base}, sort_{sort}, faults_{faults} {}

  ReadParameter read() {
    auto& p = read_.parameter;
    p.name = entry_.name;
    auto const& at = value_of<&P::at>(entry_);
    if (at.text.empty()) return read_;  // told already
    try {
      p.turn = base_.turn(at.text);
    } catch (BadAddress const& e) {
      add_fault(faults_, "E351", at.at, entry_.who, e);
      return read_;
    }
    field_ = p.turn.field;
    if (get<&P::as>(entry_) == 1) {
      if (!may_be_factor()) return read_;
      p.as = Parameter::As::factor;
      factor_ = Field{S::quantity, field_->key, "a factor on each own value", nullptr, unit::one};
      factor_.least = read_.axis.least, factor_.most = read_.axis.most;
      field_ = &factor_;
    } else if (is_written_in_words(*field_)) {
      p.as = Parameter::As::word;
    } else {
      read_.axis.least = field_->unit.to_si(field_->least), read_.axis.most = field_->unit.to_si(field_->most);
      if (field_->sort == S::flag) read_.axis.least = 0, read_.axis.most = 1;
    }
    read_.axis.is_whole = field_->sort == S::count;
    numbers();
    return read_;
  }

private:
  using P = ParameterSection;
  template <auto M>
  bool given() const { return value_of<M>(entry_).given; }
  void fault(char const* code, Position at, std::string const& words, std::string expected, std::string hint = "") {
    faults_.add({code, at, entry_.who + ": " + words, std::move(expected), std::move(hint), {}, {}});
  }

  /// Whether shares of own values make sense; the range of shares is then the one that keeps every value in its range.
  bool may_be_factor() {
    auto const& t = read_.parameter.turn;
    auto const at = value_of<&P::as>(entry_).at;
    auto const refuse = [&](std::string const& words, std::string const& expected) {
      fault("E359", at, words, expected, "");
      return false;
    };
    if (t.field->sort != S::quantity && t.field->sort != S::number && t.field->sort != S::list)
      return refuse(t.field->key + " cannot be multiplied", "as = \"value\", with " + wanted(*t.field));
    if (t.field->unit.dimension.point)
      return refuse(t.field->key + " is a temperature; it cannot be multiplied", "as = \"value\", with temperatures");
    read_.axis.least = 0, read_.axis.most = 1e300;
    for (std::size_t i = 0; i < t.own.size(); ++i) {
      if (std::isnan(t.own[i]) || t.own[i] == 0)
        return refuse(fmt::format("{} {} in the scenario", whose(t, i), std::isnan(t.own[i]) ? "is not stated" : "is 0"),
                      "a value in the scenario that can be multiplied, or as = \"value\"");
      double const a = t.field->unit.to_si(t.field->least) / t.own[i], b = t.field->unit.to_si(t.field->most) / t.own[i];
      read_.axis.least = std::max(read_.axis.least, std::min(a, b)), read_.axis.most = std::min(read_.axis.most, std::max(a, b));
    }
    return true;
  }
  std::string whose(Turn const& t, std::size_t i) const {
    if (t.own.size() == 1) return t.field->key;
    int index = -1;
    for (auto const& e : base_.document().tables)
      if (e.kind->home == Home::repeated && table_key(*e.kind) == t.places[i].table && ++index == t.places[i].index)
        return fmt::format("{} of {} '{}'", t.field->key, t.places[i].table, e.name);
    return t.field->key;
  }

  /// What a value of the study says, as a number of a point; NaN with a fault.
  double number(Field const& f, std::string const& words, Position at) {
    try {
      return read_stated(f, words);
    } catch (BadAddress const& e) { add_fault(faults_, "E352", at, entry_.who, e); }
    return std::nan("");
  }
  double number(Value const& v) {
    return v.texts.empty() ? std::nan("") : number(*field_, v.text, v.at);
  }

  void numbers() {
    auto const& spread = value_of<&P::spread>(entry_);
    bool const has_ends = given<&P::from>() || given<&P::to>();
    int const ways = int(given<&P::values>()) + int(has_ends) + int(spread.given);
    if (ways != 1) {
      fault("E353", entry_.at, ways == 0 ? "has no values" : "has its values in two ways",
            sort_ == PointSort::full_grid ? "values = […], or from and to with steps" : "values = […], or from and to, or spread = { … }");
    } else if (given<&P::values>()) list();
    else if (is_one_of_words(*read_.parameter.turn.field))
      fault("E353", (spread.given ? spread : given<&P::from>() ? value_of<&P::from>(entry_) : value_of<&P::to>(entry_)).at,
            read_.parameter.turn.field->key + " is a choice; it has no range", "values = [\"…\", \"…\"]");
    else if (spread.given) spread_over();
    else range();
    if (has_ends) return;
    each_value<&P::steps, &P::step>(entry_, [&](std::string const& key, Value const& v) {
      if (v.given) fault("E353", v.at, fmt::format("'{}' without a range", key), "from and to with it");
    });
  }

  void list() {
    auto const& v = value_of<&P::values>(entry_);
    auto& p = read_.parameter;
    for (std::size_t i = 0; i < v.texts.size(); ++i) {
      if (p.as == Parameter::As::word) {
        if (std::find(p.words.begin(), p.words.end(), v.texts[i]) != p.words.end()) twice(v.texts[i], v.texts_at[i]);
        p.words.push_back(v.texts[i]);
        read_.axis.values.push_back(double(i));
        continue;
      }
      double const x = number(*field_, v.texts[i], v.texts_at[i]);
      if (std::find(read_.axis.values.begin(), read_.axis.values.end(), x) != read_.axis.values.end()) twice(v.texts[i], v.texts_at[i]);
      read_.axis.values.push_back(x);
    }
    if (p.as == Parameter::As::word) try_words(v);
  }
  void twice(std::string const& words, Position at) { fault("E353", at, in_quotes(words) + " appears twice in values", "each value once"); }

  /// Words are understood by the scenario alone: each is tried in it.
  void try_words(Value const& v) {
    auto const& p = read_.parameter;
    for (std::size_t i = 0; i < p.words.size(); ++i) {
      Diagnostics theirs;
      auto const made = read_document(base_.document().file, base_.text_at({p}, {double(i)}), catalog(), theirs);
      if (made.root.kind && theirs.empty()) make_project(made, catalog(), theirs);
      if (theirs.empty()) continue;
      auto const& first = theirs.list().front();
      fault("E352", v.texts_at[i], "the scenario with " + in_quotes(p.words[i]) + ": " + first.message, first.expected, first.hint);
    }
  }

  void range() {
    auto const &from = value_of<&P::from>(entry_), &to = value_of<&P::to>(entry_);
    if (from.given != to.given) {
      auto const *here = from.given ? "from" : "to", *other = from.given ? "to" : "from";
      return fault("E353", (from.given ? from : to).at, fmt::format("'{}' without '{}'", here, other),
                   fmt::format("{} = \"…\" with it", other));
    }
    auto& a = read_.axis;
    a.sort = Axis::Sort::uniform, a.from = number(from), a.to = number(to);
    if (!in_order(to.at, "'to' is not above 'from'", {a.from, a.to})) return;
    auto const &steps = value_of<&P::steps>(entry_), &step = value_of<&P::step>(entry_);
    if (sort_ != PointSort::full_grid) {
      for (auto const* one : {&steps, &step})
        if (one->given)
          fault("E353", one->at, fmt::format("'{}' is for a full grid", one == &steps ? "steps" : "step"),
                "from and to alone, or points = \"full grid\"");
      return;
    }
    if (steps.given == step.given)
      return fault("E353", (steps.given ? steps : from).at,
                   steps.given ? "both 'steps' and 'step' are given" : "a range on a full grid needs 'steps' or 'step'",
                   "steps = 9, the number of values, or step = \"…\" from one to the next");
    a.sort = Axis::Sort::values;
    if (steps.given) by_number(std::size_t(steps.numbers.empty() ? 2 : steps.numbers[0]));
    else by_width(step);
  }
  void by_number(std::size_t count) {
    auto& a = read_.axis;
    for (std::size_t i = 0; i < count; ++i) {
      double const x = std::lerp(a.from, a.to, double(i) / double(count - 1));
      a.values.push_back(a.is_whole ? std::round(x) : x);
    }
    if (std::adjacent_find(a.values.begin(), a.values.end()) != a.values.end())
      fault("E353", value_of<&P::steps>(entry_).at, fmt::format("{} values do not fit between these whole numbers", count),
            "fewer steps");
  }
  void by_width(Value const& step) {
    if (field_->sort == S::clock) return fault("E353", step.at, "'step' is not for times of day", "steps = 9, the number of values");
    Field width = *field_;
    width.key = "step", width.help = "from one value to the next", width.least = 0, width.most = field_->most - field_->least;
    width.unit.offset = 0, width.unit.dimension.point = false;
    double const by = number(width, step.text, step.at);
    if (std::isnan(by)) return;
    auto& a = read_.axis;
    double const count = by > 0 ? (a.to - a.from) / by : 0;
    if (!(by > 0) || count > most_points) return fault("E353", step.at, "step is too small for the range", "a larger step");
    if (std::abs(count - std::round(count)) > 1e-6)
      return fault("E353", step.at, fmt::format("step does not reach 'to': {:.4g} steps from 'from'", count),
                   "a step that divides the range, or steps = 9");
    by_number(std::size_t(std::lround(count)) + 1);
  }

  void spread_over() {
    auto const& v = value_of<&P::spread>(entry_);
    if (!v.entry) return;  // told already
    if (sort_ == PointSort::full_grid)
      return fault("E354", v.at, "a full grid has no spread: it uses each value once",
                   "values, or from and to with steps", "use points = \"Latin hypercube\" to draw from the spread");
    auto const& e = *v.entry;
    auto& a = read_.axis;
    if (e.kind->name == NormalSpread::kind) {
      a.sort = Axis::Sort::normal;
      Field width = *field_;
      if (field_ != &factor_) width.least = 0, width.most = field_->most - field_->least;
      else width.least = 0, width.most = 1e6;
      width.key = "deviation", width.unit.offset = 0, width.unit.dimension.point = false;
      if (width.sort == S::clock) width.sort = S::quantity;
      a.mean = number(value_of<&NormalSpread::mean>(e));
      auto const& deviation = value_of<&NormalSpread::deviation>(e);
      a.deviation = number(width, deviation.text, deviation.at);
      if (a.deviation == 0) fault("E360", deviation.at, "deviation is 0", "a deviation above 0, or values with one value");
      return;
    }
    bool const is_triangular = e.kind->name == TriangularSpread::kind;
    a.sort = is_triangular ? Axis::Sort::triangular : Axis::Sort::uniform;
    if (is_triangular) {
      using T = TriangularSpread;
      a.from = number(value_of<&T::from>(e)), a.to = number(value_of<&T::to>(e)), a.likely = number(value_of<&T::likely>(e));
    } else {
      a.from = number(value_of<&UniformSpread::from>(e)), a.to = number(value_of<&UniformSpread::to>(e));
    }
    if (!in_order(v.at, "'to' of the spread is not above its 'from'", {a.from, a.to})) return;
    if (is_triangular && (a.likely < a.from || a.likely > a.to))
      fault("E360", value_of<&TriangularSpread::likely>(e).at, "'likely' is outside 'from' to 'to'", "a value between them");
  }
  bool in_order(Position at, std::string const& words, std::vector<double> const& rising) {
    for (double const x : rising)
      if (std::isnan(x)) return false;
    if (rising[0] < rising[1]) return true;
    fault("E360", at, words, "'to' above 'from'");
    return false;
  }

  Entry const& entry_;
  Case const& base_;
  PointSort sort_;
  Diagnostics& faults_;
  ReadParameter read_;
  Field factor_{};
  Field const* field_ = nullptr;
};

}  // namespace

void add_fault(Diagnostics& faults, char const* code, Position at, std::string const& who, BadAddress const& e) {
  faults.add({code, at, who + ": " + e.what(), e.expected, e.hint, {}, {}});
}

ReadParameter read_parameter(Entry const& entry, Case const& base, PointSort sort, Diagnostics& faults) {
  return ParameterReader{entry, base, sort, faults}.read();
}

}  // namespace steadyfire

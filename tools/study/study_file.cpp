#include "tools/study/study_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <map>

#include "models/house/section_of.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/scenario/value_reader.hpp"
#include "tools/study/parameter_reader.hpp"
#include "tools/study/study_sections.hpp"
#include "tools/study/usual_pictures.hpp"

namespace steadyfire {
namespace {

class StudyReader {
public:
  StudyReader(std::string const& file, UnitSystem units) : units_{units} {
    study_.file = file, study_.text = read_text(file);
    document_ = read_document(file, study_.text, study_catalog(), faults_);
  }

  Study read() {
    if (!document_.root.kind) refuse();
    study_.title = value_of<&Opening::title>(document_.root).text;
    section_ = document_.find(StudySection::kind);
    if (!section_) {
      faults_.add({"E205", document_.root.at, "[study] is missing", "[study] with scenario = \"house.toml\"", ""});
      refuse();
    }
    open_scenario();
    how_many();
    parameters();
    figures();
    claims();
    pictures();
    if (!faults_.empty()) refuse();
    if (study_.pictures.empty()) study_.pictures = usual_pictures(study_);
    return std::move(study_);
  }

private:
  [[noreturn]] void refuse() { throw BadInput(faults_.render(study_.file, study_.text)); }
  template <auto M>
  Value const& said() const { return value_of<M>(*section_); }

  void open_scenario() {
    auto const& path = said<&StudySection::scenario>();
    if (path.text.empty()) refuse();
    study_.scenario = (std::filesystem::path{study_.file}.parent_path() / path.text).lexically_normal().string();
    if (!std::filesystem::is_regular_file(study_.scenario)) {
      faults_.add({"E350", path.at, fmt::format("study: no scenario file {}", in_quotes(study_.scenario)),
                   "a path from the folder of the study", ""});
      refuse();
    }
    std::vector<Edit> edits;
    auto const carry = [&](Field const& f, Value const& v) {  // into the scenario's [run], which has the same keys
      if (v.given && !v.numbers.empty()) edits.push_back({Edit::Do::set, ValuePlace{"run", 0, {f.key}, ""}, stated(f, v.numbers[0])});
    };
    carry(field_of<&StudySection::duration>(*section_->kind), said<&StudySection::duration>());
    carry(field_of<&StudySection::start_day>(*section_->kind), said<&StudySection::start_day>());
    study_.base = std::make_shared<Case const>(study_.scenario, read_text(study_.scenario), edits, units_);
  }

  void how_many() {
    auto const s = fill<StudySection>(section_->values);
    study_.sort = PointSort(s.points), study_.seed = unsigned(s.seed),
    study_.precision = s.precision == 1 ? Precision::rough : Precision::full;
    auto const& count = said<&StudySection::count>();
    bool const is_grid = study_.sort == PointSort::full_grid;
    if (is_grid && count.given)
      faults_.add(
          {"E361", count.at, "study: 'count' on a full grid", "no count", "a full grid has one point for each combination of values"});
    if (!is_grid && !count.given)
      faults_.add({"E361", section_->at, fmt::format("study: 'count' is missing for {} points", word_for(study_.sort)), "count = 200", ""});
    study_.count = count.numbers.empty() ? 0 : std::size_t(count.numbers[0]);
  }

  void parameters() {
    using Place = std::tuple<std::string, int, std::string, std::vector<std::string>>;
    std::map<Place, Entry const*> varied;
    for (auto const& t : document_.tables) {
      if (t.kind->name != ParameterSection::kind) continue;
      auto read = read_parameter(t, *study_.base, study_.sort, faults_);
      if (faults_.empty()) cut(t, read.axis);
      for (auto const& p : read.parameter.turn.places) {
        auto const [known, is_new] = varied.try_emplace({p.table, p.index, p.name, p.path}, &t);
        if (is_new || known->second == &t) continue;
        faults_.add({"E358",
                     value_of<&ParameterSection::at>(t).at,
                     fmt::format("{} varies the same value as {}", t.who, known->second->who),
                     "one parameter for each value",
                     "",
                     value_of<&ParameterSection::at>(*known->second).at,
                     {}});
        break;
      }
      study_.parameters.push_back(std::move(read.parameter)), study_.axes.push_back(std::move(read.axis));
    }
    if (study_.parameters.empty()) faults_.add({"E205", section_->at, "the study varies nothing", "one [[parameter]] or more", ""});
    bool const is_grid = study_.sort == PointSort::full_grid;
    if (double const size = grid_size(study_.axes); is_grid && faults_.empty() && size > most_points)
      faults_.add({"E357", section_->at, fmt::format("study: the grid has {:.3g} points", size), fmt::format("at most {}", most_points),
                   "use fewer values, or points = \"Sobol\" with a count"});
  }
  void cut(Entry const& t, Axis const& axis) {
    double const off = axis.cut_off();
    if (off > 0.5) {
      faults_.add({"E360", t.at, fmt::format("{}: {:.0f}% of the spread is outside the range of its key", t.who, 100 * off),
                   "a spread with at least half inside the range", ""});
    } else if (off > 1e-9) {
      study_.cut_off.push_back(fmt::format("{}: {:.2g}% of its spread is outside the range of its key and is cut off", t.name, 100 * off));
    }
  }

  std::size_t kept(std::string const& key, Position at, std::string const& who) {
    for (std::size_t i = 0; i < study_.figures.size(); ++i)
      if (study_.figures[i].key == key) return i;
    try {
      study_.figures.push_back(study_.base->figure(key));
    } catch (BadAddress const& e) {
      add_fault(faults_, "E355", at, who, e);
      return std::string::npos;
    }
    return study_.figures.size() - 1;
  }
  void figures() {
    auto const& v = said<&StudySection::figures>();
    if (!v.given) study_.figures = study_.base->known_figures();
    for (std::size_t i = 0; i < v.texts.size(); ++i) kept(v.texts[i], v.texts_at[i], "study");
  }

  void claims() {
    for (auto const& t : document_.tables) {
      if (t.kind->name != ClaimSection::kind) continue;
      using C = ClaimSection;
      auto const &figure = value_of<&C::figure>(t), &most = value_of<&C::at_most>(t), &least = value_of<&C::at_least>(t);
      if (most.given == least.given)
        faults_.add({"E362", most.given ? std::max(most.at, least.at) : t.at,
                     most.given ? "claim: both 'at_most' and 'at_least' are given" : "claim: no limit", "at_most = … or at_least = …", ""});
      if (figure.text.empty()) continue;
      auto const at = kept(figure.text, figure.at, "claim");
      if (at == std::string::npos || most.given == least.given) continue;
      auto const& limit = most.given ? most : least;
      Field f{Field::Sort::quantity, most.given ? "at_most" : "at_least", study_.figures[at].name, nullptr, study_.figures[at].measure.us};
      f.least = f.unit.symbol.empty() ? 0 : -1e9, f.most = 1e9;
      try {
        if (!limit.texts.empty()) study_.claims.push_back({at, most.given, read_stated(f, limit.text)});
      } catch (BadAddress const& e) { add_fault(faults_, "E352", limit.at, "claim", e); }
    }
  }

  /// The key of the column that a picture names by it or by its name.
  template <auto M>
  std::string column(Entry const& t, bool inputs, bool figures) {
    auto const& v = value_of<M>(t);
    if (v.text.empty()) return "";
    std::vector<std::string> known;
    for (auto const& p : study_.parameters) {
      if (inputs && (v.text == p.name || v.text == p.turn.address)) return p.turn.address;
      if (inputs) known.push_back(p.name);
    }
    for (auto const& f : study_.figures) {
      if (figures && (v.text == f.key || v.text == f.name || v.text == f.heading)) return f.key;
      if (figures) known.push_back(f.key);
    }
    faults_.add({"E356", v.at,
                 fmt::format("picture: {} is {}, which is {}", field_of<M>(*t.kind).key, in_quotes(v.text),
                             !figures ? "not a parameter of the study"
                             : inputs ? "neither a parameter nor a kept figure"
                                      : "not a kept figure"),
                 fmt::format("one of: {}", fmt::join(known, ", ")), did_you_mean(v.text, known)});
    return "";
  }
  void pictures() {
    for (auto const& t : document_.tables) {
      if (t.kind->name != PictureSection::kind) continue;
      auto const& kind = value_of<&PictureSection::sort>(t);
      if (kind.numbers.empty()) continue;
      auto const sort =
          std::array{PictureSort::line, PictureSort::heat_map, PictureSort::scatter, PictureSort::influence}[std::size_t(kind.numbers[0])];
      bool const is_scatter = sort == PictureSort::scatter;
      using P = PictureSection;
      PictureRecord p{sort, column<&P::x>(t, true, is_scatter), column<&P::y>(t, true, is_scatter), column<&P::figure>(t, false, true)};
      auto const needs = [&](std::string const& key, Value const& v) {
        if (!v.given)
          faults_.add({"E205", t.at, fmt::format("picture: '{}' is missing for a {}", key, section_words(kind)),
                       fmt::format("{} = \"…\"", key), ""});
      };
      if (sort != PictureSort::influence) each_value<&P::x>(t, needs);
      if (sort == PictureSort::heat_map || is_scatter) each_value<&P::y>(t, needs);
      if (!is_scatter) each_value<&P::figure>(t, needs);
      study_.pictures.push_back(std::move(p));
    }
  }
  static std::string section_words(Value const& kind) { return PictureSection::schema()[0].choices.at(std::size_t(kind.numbers[0])); }

  UnitSystem units_;
  Study study_;
  Document document_;
  Diagnostics faults_;
  Entry const* section_ = nullptr;
};

}  // namespace

Catalog study_catalog() {
  static Kind const kinds[]{section<Opening>(),       section<StudySection>(),     section<ParameterSection>(), section<NormalSpread>(),
                            section<UniformSpread>(), section<TriangularSpread>(), section<ClaimSection>(),     section<PictureSection>()};
  return kinds;
}

Study read_study(std::string const& file, UnitSystem units) { return StudyReader{file, units}.read(); }

}  // namespace steadyfire

#include "tools/study/case.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "tools/job/catalog.hpp"
#include "sim/scenario/value_reader.hpp"
#include "sim/scenario/field_words.hpp"

namespace steadyfire {
namespace {
/// What a factor makes of a place's own value, or of each item of its list.
std::string multiplied(Turn const& t, std::size_t place, double factor) {
  auto const& list = t.lists[place];
  if (list.empty()) return stated(*t.field, t.own[place] * factor);
  std::vector<std::string> items;
  for (double const item : list) items.push_back(toml_text(stated(*t.field, item * factor)));
  return fmt::format("[{}]", fmt::join(items, ", "));
}
}  // namespace

std::string in_a_line(Diagnostics const& faults) {
  auto const& all = faults.list();
  if (all.empty()) return "";
  auto const& d = all.front();
  auto words = d.message;
  if (!d.expected.empty()) words += "; expected: " + d.expected;
  return faults.count() == 1 ? words : fmt::format("{} (and {} more)", words, faults.count() - 1);
}

std::string Parameter::shown(double x, UnitSystem units) const {
  if (as == As::word) return words.at(std::size_t(x));
  if (as == As::factor) return fmt::format("× {:.4g}", x);
  auto const& f = *turn.field;
  if (f.sort != Field::Sort::quantity && f.sort != Field::Sort::list) return stated(f, x);
  return words_of(unit_for(f, units), x);
}

Case::Case(std::string file, std::string text, std::vector<Edit> const& edits, UnitSystem units) : units_{units} {
  Diagnostics faults;
  if (!edits.empty()) text = edited(std::move(text), edits, catalog());
  document_ = read_document(std::move(file), std::move(text), catalog(), faults);
  if (document_.root.kind) project_ = make_project(document_, catalog(), faults);
  if (!faults.empty()) throw BadInput(faults.render(document_.file, document_.text) + project_.file_faults.rendered);
  if (!project_.file_faults.empty()) throw BadInput(project_.file_faults.rendered);
  if (!project_.is_house)
    throw BadInput(
        fmt::format("{}: error[E241]: a piping network without boiler and zones cannot run\n"
                    "  expected  [boiler] and [[zone]]\n  hint      use 'steadyfire flows'\n",
                    document_.file));
  std::vector<std::string> zones;
  for (auto const& z : project_.installation.zones) zones.push_back(z.name);
  known_ = all_figures(zones);
}

AskedFigure const& Case::figure(std::string const& key) const {
  std::vector<std::string> keys;
  for (auto const& f : known_) {
    if (f.key == key) return f;
    keys.push_back(f.key);
  }
  auto const near = did_you_mean(key, keys);
  throw BadAddress{"unknown figure " + in_quotes(key), "a figure, for example \"starts\", \"fuel\" or \"ZONE.mean_room\"",
                   near.empty() ? "'steadyfire reference --study' lists all figures" : near};
}

Turn Case::turn(std::string const& address) const { return find_turn(document_, catalog(), address); }

std::string Case::text_at(std::vector<Parameter> const& parameters, Point const& point) const {
  std::vector<Edit> edits;
  for (std::size_t i = 0; i < parameters.size(); ++i) {
    auto const& p = parameters[i];
    for (std::size_t k = 0; k < p.turn.places.size(); ++k) {
      auto const words = p.as == Parameter::As::word     ? p.words.at(std::size_t(point[i]))
                         : p.as == Parameter::As::factor ? multiplied(p.turn, k, point[i])
                                                         : stated(*p.turn.field, point[i]);
      edits.push_back({Edit::Do::set, p.turn.places[k], words});
    }
  }
  return edits.empty() ? document_.text : edited(document_.text, edits, catalog());
}

namespace {
/// A project with what it needs kept alive.
struct Made {
  Document document;
  Project project;
  Diagnostics faults;
  bool is_good() const { return faults.empty() && project.file_faults.empty(); }
};
Made make(std::string const& file, std::string text) {
  Made m;
  m.document = read_document(file, std::move(text), catalog(), m.faults);
  if (m.document.root.kind) m.project = make_project(m.document, catalog(), m.faults);
  return m;
}
}  // namespace

Outcome Case::run(std::vector<Parameter> const& parameters, Point const& point, std::vector<AskedFigure> const& asked, Precision precision,
                  std::function<bool()> const& interrupted) const {
  Outcome outcome;
  try {
    auto const made = make(document_.file, text_at(parameters, point));
    if (!made.is_good()) {
      outcome.fault = made.faults.empty() ? made.project.file_faults.rendered : in_a_line(made.faults);
      return outcome;
    }
    auto options = options_of(made.project);
    if (precision == Precision::rough) options = roughly(options);
    options.figures_only = true;
    auto const result = run_house(made.project, options, {.interrupted = interrupted});
    if (!result.record.incomplete.empty()) outcome.fault = result.record.incomplete;
    else
      for (auto const& f : asked) outcome.figures.push_back(f.of(result.record));
  } catch (Stopped const& s) { outcome.fault = s.what(); } catch (BadInput const& e) {
    outcome.fault = e.what();
  } catch (BadEdit const& e) { outcome.fault = e.what(); }
  if (auto const end = outcome.fault.find('\n'); end != std::string::npos) outcome.fault.erase(end);
  return outcome;
}

Record Case::record(std::vector<Parameter> const& parameters, Point const& point, Precision precision,
                    std::function<bool()> const& interrupted) const {
  auto const made = make(document_.file, text_at(parameters, point));
  if (!made.faults.empty()) throw BadInput(made.faults, made.document.file, made.document.text);
  if (!made.project.file_faults.empty()) throw BadInput(made.project.file_faults.rendered);
  auto options = options_of(made.project);
  if (precision == Precision::rough) options = roughly(options);
  auto result = run_house(made.project, options, {.interrupted = interrupted});
  if (result.stopped) throw *result.stopped;
  return std::move(result.record);
}

}  // namespace steadyfire

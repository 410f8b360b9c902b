#include <fmt/format.h>
#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/uuid_io.hpp>

#include "sim/core/files.hpp"
#include "tools/study/store.hpp"

namespace steadyfire {
namespace {

/// The files that a scenario names, in its order: whatever table names one does so by the key `file`.
void add_files(Entry const& e, std::filesystem::path const& folder, std::string& text) {
  for (std::size_t i = 0; i < e.values.size(); ++i) {
    auto const& v = e.values[i];
    if (v.entry && v.entry->kind) add_files(*v.entry, folder, text);
    if (e.kind->fields[i].key == "file" && !v.text.empty()) text += "file\n" + read_file(folder / v.text) + "\n";
  }
}

}  // namespace

std::string fingerprint_of(Study const& s, Points const& points) {
  auto const& document = s.base->document();
  std::string text = s.base->text() + "\n";
  for (auto const& t : document.tables) add_files(t, std::filesystem::path{document.file}.parent_path(), text);
  text += fmt::format("{} {} {} {}\n", word_for(s.sort), s.count, s.sort == PointSort::latin_hypercube ? s.seed : 0, int(s.precision));
  for (std::size_t i = 0; i < s.parameters.size(); ++i) {
    auto const& p = s.parameters[i];
    auto const& a = s.axes[i];
    text += fmt::format("{} {} {}\n", p.turn.address, int(p.as), int(a.sort));
    for (auto const& w : p.words) text += w + "\n";
    for (double const x : a.values) text += fmt::format("{} ", x);
    text += fmt::format("{} {} {} {} {} {} {}\n", a.from, a.to, a.likely, a.mean, a.deviation, a.least, a.most);
  }
  for (auto const i : {std::size_t{0}, points.size() / 2, points.size() - 1})
    for (double const x : points.at(i)) text += fmt::format("{:.12g} ", x);  // fewer digits than another machine's library may differ in
  for (auto const& f : s.figures) text += f.key + "\n";
  static boost::uuids::uuid const of_studies = boost::uuids::name_generator_sha1{boost::uuids::ns::dns()}("steadyfire.studies");
  return boost::uuids::to_string(boost::uuids::name_generator_sha1{of_studies}(text));
}

}  // namespace steadyfire

#include "plots/study_parts.hpp"

#include <fmt/format.h>

#include "plots/embedded.hpp"
#include "plots/page_parts.hpp"
#include "plots/study_axis.hpp"

namespace steadyfire {

std::string study_header(std::string const& title, std::vector<std::string> const& line, std::vector<std::string> const& words,
                         std::string const& before_words) {
  std::string below, out = "<header><h1>" + escaped(title) + "</h1>";
  for (auto const& part : line)
    if (!part.empty()) below += (below.empty() ? "" : " · ") + part;
  if (!below.empty()) out += note(below);
  out += before_words;
  for (auto const& w : words) {
    auto sentence = begun_large(w);
    if (!sentence.empty() && std::string_view{".:!?"}.find(sentence.back()) == std::string_view::npos) sentence += '.';
    out += R"(<p class="answer">)" + escaped(sentence) + "</p>";
  }
  return out + "</header>";
}

std::string titled_picture(std::string const& title, std::string const& chart, std::string const& values) {
  auto const table = values.empty() ? "" : "<details><summary>The same in numbers</summary>" + values + "</details>";
  return section(title, chart.empty() ? note("No point has a number here.") : chart + table);
}

std::string study_style() { return std::string{embedded::report_css} + std::string{embedded::study_css}; }

}  // namespace steadyfire

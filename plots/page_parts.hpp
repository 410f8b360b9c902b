#pragma once
/// What our pages are put together from: HTML ready to stand in a page.

#include "plots/page_text.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {

/// "90 s", "12.5 min", "3.1 h", "2.0 d".
std::string span(double seconds);
/// "design_load" → "design load".
std::string spaced(std::string key);
/// A number of a finding as readers know it: "most_of_load" is "140% of design load".
std::string label_of_figure(std::string const& name);

/// A table that scrolls sideways where the page is narrow.
class Table {
 public:
  explicit Table(std::vector<std::string> const& heads, std::string_view look = "");
  void row(std::vector<std::string> const& cells, std::string_view look = "");
  std::string html() const { return html_ + "</tbody></table></div>"; }

 private:
  std::string html_;
};

/// A titled section; nothing where its body is empty.
std::string section(std::string_view title, std::string const& body);
std::string note(std::string_view words);
/// Plain list; nothing without items.
std::string bullets(std::vector<std::string> const&);
/// The weightiest first, each with its figures, its limit and whose it is; `none` where there are none.
std::string finding_list(std::vector<Finding>, UnitSystem, std::string_view none);

}  // namespace steadyfire

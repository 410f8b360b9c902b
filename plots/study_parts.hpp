#pragma once
/// What the pages of studies, fronts and fits have in common.

#include <string>
#include <vector>

namespace steadyfire {

/// Title, a line below it, and what it comes to: what is ready as HTML, then words, a paragraph each.
std::string study_header(std::string const& title, std::vector<std::string> const& line, std::vector<std::string> const& words,
                         std::string const& before_words = "");

/// A picture with the sentence that it shows as its title; `chart` is its place or "".
std::string titled_picture(std::string const& title, std::string const& chart, std::string const& values);

/// The style of these pages: that of reports, and their own.
std::string study_style();

}  // namespace steadyfire

#pragma once
/// Files of the page, put into the program when it is built.

#include <span>
#include <string_view>

namespace steadyfire::embedded {

extern std::string_view const page_html;         ///< tools/web/page/index.html
extern std::string_view const page_js, page_css; ///< tools/web/page/src, bundled with its libraries

struct File { std::string_view name, bytes; };
extern std::span<File const> const scenarios;  ///< the folder scenarios and the weather in it, by name

}  // namespace steadyfire::embedded

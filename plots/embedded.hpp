#pragma once
/// Files that reports carry inside them, put into the program when it is built.

#include <string_view>

namespace steadyfire::embedded {

extern std::string_view const uplot_css;   ///< plots/node_modules/uplot/dist/uPlot.min.css
extern std::string_view const report_js;   ///< plots/report.ts and all that it imports, uPlot too
extern std::string_view const report_css;  ///< plots/report.css
extern std::string_view const study_js;    ///< plots/study.ts and all that it imports, Observable Plot too
extern std::string_view const study_css;   ///< plots/study.css: what studies add to report.css

}  // namespace steadyfire::embedded

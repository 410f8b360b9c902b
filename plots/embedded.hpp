#pragma once
/// Files that reports carry inside them, put into the program when it is built.

#include <string_view>

namespace steadyfire::embedded {

extern std::string_view const uplot_js, uplot_css;    ///< plots/node_modules/uplot/dist/uPlot.iife.min.js, uPlot.min.css
extern std::string_view const report_js, report_css;  ///< plots/report.js, plots/report.css

}  // namespace steadyfire::embedded

#pragma once
/// A call that cannot be understood, told as bad input is.

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace steadyfire::cli {

/// "error: flows has no option --jsn", what it has, and the nearest.
std::string explain_usage(CLI::App const& app, CLI::ParseError const&, std::vector<std::string> const& arguments);

}  // namespace steadyfire::cli

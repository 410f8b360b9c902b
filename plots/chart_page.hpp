#pragma once
/// A page that carries its charts inside: their tables as JSON, and the script that draws them.

#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

namespace steadyfire {

class ChartPage {
public:
  /// A place on the page that the script fills with a chart; charts are numbered in the order of these calls.
  std::string chart(std::string_view kind, nlohmann::json table, std::string_view caption);
  /// The same without the place: for a piece of the page that takes its table by the number given back.
  size_t table(std::string_view kind, nlohmann::json table);
  /// The whole page: nothing of it is fetched, and no text of a table can end its script.
  std::string html(std::string_view title, std::string_view style, std::string_view body, std::string_view script) const;

private:
  nlohmann::json charts_ = nlohmann::json::array();
};

}  // namespace steadyfire

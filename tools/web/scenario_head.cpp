#include "tools/web/scenario_head.hpp"

#include "sim/scenario/toml.hpp"

namespace steadyfire::web {

std::optional<std::string> title_of_scenario(std::string_view text) {
  try {
    auto const root = parse_toml(text);
    if (!root["format"].is_integer() || root.contains("house") || root.contains("readings")) return std::nullopt;
    return root["title"].value_or(std::string{});
  } catch (toml::parse_error const&) {
    return "";
  }
}

std::vector<std::string> files_named(std::string_view text) {
  std::vector<std::string> found;
  try {
    auto const root = parse_toml(text);
    std::vector<toml::node const*> left{&root};
    while (!left.empty()) {
      auto const* node = left.back();
      left.pop_back();
      if (auto const* list = node->as_array())
        for (auto const& item : *list) left.push_back(&item);
      if (auto const* table = node->as_table())
        for (auto const& [key, item] : *table) {
          left.push_back(&item);
          if (auto const file = item.value<std::string>(); file && key.str() == "file") found.push_back(*file);
        }
    }
  } catch (toml::parse_error const&) {}
  return found;
}

}  // namespace steadyfire::web

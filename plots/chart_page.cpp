#include "plots/chart_page.hpp"

#include <fmt/format.h>

#include "plots/page_text.hpp"

namespace steadyfire {

size_t ChartPage::table(std::string_view kind, nlohmann::json table) {
  charts_.push_back({{"kind", kind}, {"table", std::move(table)}});
  return charts_.size() - 1;
}

std::string ChartPage::chart(std::string_view kind, nlohmann::json table, std::string_view caption) {
  return fmt::format(R"(<figure><div class="chart" data-chart="{}"></div><figcaption>{}</figcaption></figure>)",
                     this->table(kind, std::move(table)), escaped(caption));
}

std::string ChartPage::html(std::string_view title, std::string_view style, std::string_view body, std::string_view script) const {
  std::string data = charts_.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace), safe;
  safe.reserve(data.size());
  for (char c : data)  // no text can end the script
    if (c == '<') safe += "\\u003c";
    else safe += c;
  return fmt::format(
      R"(<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">)"
      R"(<meta name="color-scheme" content="light dark"><title>{}</title><style>{}</style></head><body><main>{}</main>)"
      R"(<script type="application/json" id="charts">{}</script><script>{}</script></body></html>)",
      escaped(title), style, body, safe, script);
}

}  // namespace steadyfire

#include <algorithm>
#include <array>

#include "tools/web/asks/asks.hpp"

namespace steadyfire::web {

std::span<Ask const> asks() {
  static std::array const all{
      Ask{"describe", false, describe},
      Ask{"look", false, look},
      Ask{"edit", false, edit},
      Ask{"start", false, start},
      Ask{"knobs", false, knobs},
      Ask{"run", true, run},
      Ask{"compare", true, compare},
      Ask{"document", true, document},
  };
  return all;
}

Json answer(std::string_view name, Json const& request, Listener const& listener) {
  auto const all = asks();
  auto const found = std::find_if(all.begin(), all.end(), [&](Ask const& a) { return a.name == name; });
  if (found == all.end())
    throw BadRequest("unknown request '" + std::string(name) + "'", "reload the page; it is from another version of steadyfire");
  if (!request.is_object()) throw BadRequest("the request is not an object", "");
  return found->answer(request, listener);
}

}  // namespace steadyfire::web

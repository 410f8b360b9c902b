#include "tools/web/edits.hpp"

#include "tools/job/catalog.hpp"

namespace steadyfire::web {
namespace {

Edit edit_of(Json const& one) {
  auto const what = text_under(one, "do");
  if (what == "set") return {Edit::Do::set, place_of(object_under(one, "at")), text_under(one, "value")};
  Place at{text_under(one, "table"), 0, {}};
  if (what == "add") {
    Edit e{Edit::Do::add, at, text_under(one, "name")};
    if (one.contains("like")) e.like = count_under(one, "like");
    return e;
  }
  at.index = count_under(one, "index");
  if (what == "remove") return {Edit::Do::remove, at, ""};
  if (what == "rename") return {Edit::Do::rename, at, text_under(one, "name")};
  throw BadRequest("unknown edit '" + what + "'", "one of: set, add, remove, rename");
}

}  // namespace

std::string with_edits(Json const& request, std::string const& text) {
  if (!request.contains("edits")) return text;
  std::vector<Edit> edits;
  for (auto const& one : list_under(request, "edits")) edits.push_back(edit_of(one));
  try {
    return edited(text, edits, catalog());
  } catch (BadEdit const& e) {
    throw BadRequest(e.what(), "reload the page; it may show an older text");
  }
}

}  // namespace steadyfire::web

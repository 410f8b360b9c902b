#pragma once
/// The asks, each in its file.

#include "tools/web/engine.hpp"

namespace steadyfire::web {

Json describe(Json const& request, Listener const&);
Json look(Json const& request, Listener const&);
Json edit(Json const& request, Listener const&);
Json start(Json const& request, Listener const&);
Json knobs(Json const& request, Listener const&);
Json run(Json const& request, Listener const&);
Json compare(Json const& request, Listener const&);
Json document(Json const& request, Listener const&);

}  // namespace steadyfire::web

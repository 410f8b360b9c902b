// A scenario's text with some values changed.

#include "tools/web/asks/asks.hpp"
#include "tools/web/edits.hpp"

namespace steadyfire::web {

Json edit(Json const& request, Listener const&) {
  auto scenario = scenario_of(request);
  try {
    scenario.text = with_edits(request, scenario.text);
  } catch (BadInput const&) {  // what TOML cannot parse is not edited; its fault is told below
  }
  return {{"text", scenario.text}, {"faults", read(scenario).faults_json()}};
}

}  // namespace steadyfire::web

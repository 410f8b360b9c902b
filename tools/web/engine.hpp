#pragma once
/// What the page asks of the engine: a name and plain JSON, answered by plain JSON. Shapes: tools/web/page/src/interface.ts.

#include <functional>
#include <span>
#include <stdexcept>
#include <string_view>

#include <nlohmann/json.hpp>

namespace steadyfire::web {

using Json = nlohmann::json;

/// Who hears of a long answer while it is made. Either may be empty.
struct Listener {
  std::function<void(Json const& part)> tell;
  std::function<bool()> stop;  ///< asked now and then; true ends the work by Halted
};

/// Nobody waits for the answer any more.
struct Halted : std::runtime_error {
  Halted() : std::runtime_error{"stopped on request"} {}
};

/// A request that is no scenario's fault: a key that lacks, a wrong type, an ask that nobody knows.
struct BadRequest : std::runtime_error {
  BadRequest(std::string words, std::string hint) : std::runtime_error{std::move(words)}, hint{std::move(hint)} {}
  std::string hint;
};

/// One thing that can be asked. It remembers nothing and touches no state: asks may run at once on several threads.
struct Ask {
  std::string_view name;
  bool is_long;  ///< takes as long as a run: waits in the queue of runs, and tells parts
  Json (*answer)(Json const& request, Listener const&);
};

/// All of them. To add one: its file in tools/web/asks, a line in asks.cpp, its shapes in interface.ts.
std::span<Ask const> asks();

/// Errors  BadRequest, Halted. Faults of a scenario are part of the answer; so is a run that had to stop.
Json answer(std::string_view ask, Json const& request, Listener const& = {});

}  // namespace steadyfire::web

#include "models/arrangements/mixing.hpp"

namespace steadyfire {

std::string mixing_name(std::string const& zone) { return zone + "/mixing"; }

MixedZone add_mixing(Builder& builder, Entry const& stated, std::string const& zone, Headers const& headers, std::string const& size,
                     std::vector<Setting> wired) {
  std::string const mixed = zone + " mixed", returned = zone + " returned", cold = zone + " cold", name = mixing_name(zone);
  bool const is_valve = stated.kind->branches.size() == 2;
  std::vector<std::string> ports{headers.supply, mixed};
  if (is_valve) ports.insert(ports.end(), {cold, mixed});
  int const device = builder.add(stated.kind->name, name, std::move(ports), std::move(wired), &stated);
  auto const pipe = [&](std::string piece, std::string to) {
    builder.add("pipe", std::move(piece), {returned, std::move(to)}, {{"length", unit::foot.scale}, {"size", size}, {"elbows", 0.0}});
  };
  pipe(name + " bypass", is_valve ? cold : mixed);
  pipe(name + " return", headers.return_);
  return {mixed, returned, device};
}

}  // namespace steadyfire

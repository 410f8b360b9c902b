#include "models/arrangements/headers.hpp"

#include "models/arrangements/names.hpp"
#include "models/arrangements/row.hpp"

namespace steadyfire {

std::vector<Headers> add_headers(Builder& builder, HeadersSection const& section, Headers const& ends,
                                 std::vector<std::string> const& zones, std::string const& size) {
  std::size_t const n = zones.size();
  std::vector<Headers> all(n, ends);
  auto const pipe = [&](std::string name, double length, std::string from, std::string to) {
    builder.add("pipe", std::move(name), {std::move(from), std::move(to)}, {{"length", length}, {"size", size}});
  };
  double const spacing = *section.spacing;
  auto const back = [&](double usual) { return std::isnan(*section.back_length) ? usual : *section.back_length; };
  switch (section.arrangement) {
    case HeadersSection::direct_return:
    case HeadersSection::reverse_return: {
      bool const reverse = section.arrangement == HeadersSection::reverse_return && n > 1;
      for (std::size_t i = 0; i < n; ++i) {
        if (i > 0) all[i].supply = zones[i] + " supply";
        if (i > 0 || reverse) all[i].return_ = zones[i] + " return";
        if (i > 0) pipe(std::string(named::to_zone) + zones[i], spacing, all[i - 1].supply, all[i].supply);
        if (i > 0 && !reverse) pipe(std::string(named::from_zone) + zones[i], spacing, all[i].return_, all[i - 1].return_);
        if (i > 0 && reverse) pipe(std::string(named::from_zone) + zones[i - 1], spacing, all[i - 1].return_, all[i].return_);
      }
      if (reverse) pipe("headers/back", back(spacing * double(n - 1)), all[n - 1].return_, ends.return_);
      break;
    }
    case HeadersSection::single_pipe: {
      Row main{builder, ends.supply};
      for (std::size_t i = 0; i < n; ++i) {
        if (i > 0) main.add("pipe", std::string(named::to_zone) + zones[i], zones[i] + " supply", {{"length", spacing}, {"size", size}});
        all[i] = {main.joint(), zones[i] + " return"};
        main.add("diverter tee", std::string(named::past_zone) + zones[i], all[i].return_, {{"size", size}}, &section.diverter_tee);
      }
      main.add("pipe", "headers/back", ends.return_, {{"length", back(spacing)}, {"size", size}});
      break;
    }
    default: break;  // one point and manifold
  }
  return all;
}

}  // namespace steadyfire

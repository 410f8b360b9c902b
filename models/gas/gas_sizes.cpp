#include "models/gas/gas_sizes.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace steadyfire {
namespace {

struct Bore { std::string_view name; double bore; };  // inches
constexpr std::array steel{Bore{"1/2 in steel 40", 0.622},   Bore{"3/4 in steel 40", 0.824},   Bore{"1 in steel 40", 1.049},
                           Bore{"1-1/4 in steel 40", 1.380}, Bore{"1-1/2 in steel 40", 1.610}, Bore{"2 in steel 40", 2.067},
                           Bore{"2-1/2 in steel 40", 2.469}, Bore{"3 in steel 40", 3.068},     Bore{"4 in steel 40", 4.026}};
constexpr std::array copper_K{Bore{"1/4 in copper K", 0.305}, Bore{"3/8 in copper K", 0.402}, Bore{"1/2 in copper K", 0.527},
                              Bore{"5/8 in copper K", 0.652}, Bore{"3/4 in copper K", 0.745}, Bore{"1 in copper K", 0.995},
                              Bore{"1-1/4 in copper K", 1.245}, Bore{"1-1/2 in copper K", 1.481}, Bore{"2 in copper K", 1.959}};
constexpr std::array copper_L{Bore{"1/4 in copper L", 0.315}, Bore{"3/8 in copper L", 0.430}, Bore{"1/2 in copper L", 0.545},
                              Bore{"5/8 in copper L", 0.666}, Bore{"3/4 in copper L", 0.785}, Bore{"1 in copper L", 1.025},
                              Bore{"1-1/4 in copper L", 1.265}, Bore{"1-1/2 in copper L", 1.505}, Bore{"2 in copper L", 1.985}};

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

template <class F>
void for_each_material(F&& f) { f(steel), f(copper_K), f(copper_L); }

}  // namespace

std::optional<GasPipeSize> find_gas_pipe_size(std::string_view name) {
  for (auto const& size : gas_sizes_beside(name))
    if (same_word(size.name, name)) return size;
  return std::nullopt;
}

std::vector<GasPipeSize> gas_sizes_beside(std::string_view name) {
  std::vector<GasPipeSize> sizes;
  for_each_material([&](auto const& rows) {
    if (std::none_of(rows.begin(), rows.end(), [&](Bore const& r) { return same_word(r.name, name); })) return;
    for (auto const& row : rows) sizes.push_back({row.name, row.bore * 0.0254});
  });
  return sizes;
}

std::vector<std::string> gas_pipe_size_names() {
  std::vector<std::string> names;
  for_each_material([&](auto const& rows) { for (auto const& row : rows) names.emplace_back(row.name); });
  return names;
}

}  // namespace steadyfire

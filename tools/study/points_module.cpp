#include "tools/study/points_module.hpp"

#define BOOST_DLL_USE_STD_FS
#include <fmt/format.h>

#include <algorithm>
#include <boost/dll/runtime_symbol_info.hpp>
#include <boost/dll/shared_library.hpp>
#include <cmath>
#include <filesystem>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {
namespace {

boost::dll::shared_library const& module() {
  // Never unloaded: what the library keeps to the end would then be code that is gone.
  static auto const* const loaded = new boost::dll::shared_library{[] {
    auto const here = boost::dll::program_location().parent_path();
    std::string why;
    for (auto const& folder : {here, here / "../lib/steadyfire"}) {
      auto const file = folder / "steadyfire_points.so";
      if (!std::filesystem::exists(file)) continue;
      std::error_code refused;
      boost::dll::shared_library library{file, refused};
      if (!refused) return library;
      why = ": " + refused.message();
    }
    throw BadInput(
        fmt::format("error[{}]: steadyfire_points.so, which draws points and ranks influences, cannot be loaded{}\n"
                    "  expected  it beside the program, or in ../lib/steadyfire, with Debian's libopenturns\n"
                    "  hint      build and install the whole program; of a full grid and of Sobol points only influences need it\n", "E366",
                    why));
  }()};
  return *loaded;
}

}  // namespace

std::vector<double> latin_hypercube(std::size_t count, std::size_t dimensions, unsigned seed) {
  std::vector<double> points(count * dimensions);
  std::string words;
  if (!module().get<SteadyfireLatinHypercube>("steadyfire_latin_hypercube")(count, dimensions, seed, points.data(), &words))
    throw InternalError("points cannot be drawn: " + words);
  return points;
}

std::vector<RankInfluence> rank_influences(std::vector<double> const& inputs, std::vector<double> const& output) {
  std::size_t const rows = output.size(), columns = rows == 0 ? 0 : inputs.size() / rows;
  std::vector<RankInfluence> all(columns, {std::nan(""), std::nan("")});
  auto const varies = [&](auto const& at) {
    for (std::size_t i = 1; i < rows; ++i)
      if (at(i) != at(0)) return true;
    return false;
  };
  std::vector<std::size_t> turned;
  for (std::size_t k = 0; k < columns; ++k)
    if (varies([&](std::size_t i) { return inputs[i * columns + k]; })) turned.push_back(k);
  if (turned.empty() || rows <= turned.size() + 1 || !varies([&](std::size_t i) { return output[i]; })) return all;
  std::vector<double> x, correlations(turned.size()), shares(turned.size());
  x.reserve(rows * turned.size());
  for (std::size_t i = 0; i < rows; ++i)
    for (auto const k : turned) x.push_back(inputs[i * columns + k]);
  std::string words;
  if (!module().get<SteadyfireRankInfluences>("steadyfire_rank_influences")(rows, turned.size(), x.data(), output.data(),
                                                                            correlations.data(), shares.data(), &words))
    throw InternalError("influences cannot be ranked: " + words);
  for (std::size_t i = 0; i < turned.size(); ++i) all[turned[i]] = {correlations[i], std::clamp(shares[i], 0.0, 1.0)};
  return all;
}

}  // namespace steadyfire

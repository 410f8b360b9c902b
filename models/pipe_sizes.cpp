#include "models/pipe_sizes.hpp"

#include <algorithm>
#include <cctype>
#include <numbers>
#include <regex>

namespace steadyfire {

namespace {

// Roughness: public hydraulics table (drawn tubing, commercial steel). Copper is C12200; conductivity,
// density and specific heat are handbook values from memory.
struct PipeMaterial { double roughness, conductivity, heat_per_volume, emissivity; };  // m, W/(m·K), J/(m³·K)
constexpr PipeMaterial copper{1.5e-6, 339, 8940 * 385, 0.5}, pex{1.5e-6, 0.38, 940 * 2300, 0.9}, steel{4.5e-5, 50, 7850 * 480, 0.9};

struct SizeRow { std::string_view name; double inside, outside; PipeMaterial const& material; };  // inches
constexpr std::array rows{
    SizeRow{"1/2 in copper L", 0.545, 0.625, copper},       SizeRow{"3/4 in copper L", 0.785, 0.875, copper},
    SizeRow{"1 in copper L", 1.025, 1.125, copper},         SizeRow{"1-1/4 in copper L", 1.265, 1.375, copper},
    SizeRow{"1-1/2 in copper L", 1.505, 1.625, copper},     SizeRow{"2 in copper L", 1.985, 2.125, copper},
    SizeRow{"1/2 in copper M", 0.569, 0.625, copper},       SizeRow{"3/4 in copper M", 0.811, 0.875, copper},
    SizeRow{"1 in copper M", 1.055, 1.125, copper},         SizeRow{"1-1/4 in copper M", 1.291, 1.375, copper},
    SizeRow{"1-1/2 in copper M", 1.527, 1.625, copper},     SizeRow{"2 in copper M", 2.009, 2.125, copper},
    SizeRow{"1/2 in PEX", 0.475, 0.625, pex},               SizeRow{"3/4 in PEX", 0.671, 0.875, pex},
    SizeRow{"1 in PEX", 0.863, 1.125, pex},                 SizeRow{"1-1/4 in PEX", 1.054, 1.375, pex},
    SizeRow{"1-1/2 in PEX", 1.244, 1.625, pex},             SizeRow{"2 in PEX", 1.629, 2.125, pex},
    SizeRow{"1/2 in PEX min wall", 0.485, 0.625, pex},      SizeRow{"3/4 in PEX min wall", 0.681, 0.875, pex},
    SizeRow{"1 in PEX min wall", 0.875, 1.125, pex},        SizeRow{"1-1/4 in PEX min wall", 1.069, 1.375, pex},
    SizeRow{"1-1/2 in PEX min wall", 1.263, 1.625, pex},    SizeRow{"2 in PEX min wall", 1.653, 2.125, pex},
    SizeRow{"1/2 in steel 40", 0.622, 0.840, steel},        SizeRow{"3/4 in steel 40", 0.824, 1.050, steel},
    SizeRow{"1 in steel 40", 1.049, 1.315, steel},          SizeRow{"1-1/4 in steel 40", 1.380, 1.660, steel},
    SizeRow{"1-1/2 in steel 40", 1.610, 1.900, steel},      SizeRow{"2 in steel 40", 2.067, 2.375, steel},
};

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

}  // namespace

std::optional<PipeSize> find_pipe_size(std::string_view name) {
  auto const row = std::find_if(rows.begin(), rows.end(), [&](SizeRow const& r) { return same_word(r.name, name); });
  if (row == rows.end()) return std::nullopt;
  double const inside = row->inside * 0.0254, outside = row->outside * 0.0254;
  double const wall = std::numbers::pi / 4 * (outside * outside - inside * inside);
  auto const& m = row->material;
  return PipeSize{row->name, inside, outside, m.roughness, m.conductivity, wall * m.heat_per_volume, m.emissivity};
}

std::vector<std::string> pipe_size_names() {
  std::vector<std::string> names;
  for (auto const& row : rows) names.emplace_back(row.name);
  return names;
}

std::string pipe_size_meant(std::string_view said, std::vector<std::string> const& names) {
  std::string s;
  for (char c : said) s += char(std::tolower(static_cast<unsigned char>(c)));
  static std::regex const shape{R"(\s*(?:nominal )?((?:\d+[- ])?\d+(?:/\d+)?)\s*(?:in\.?|inch|"|″)?[\s,]+(.*?)\s*)"};
  std::smatch found;
  if (s.size() > 60 || !std::regex_match(s, found, shape)) return "";
  auto nominal = found[1].str(), rest = found[2].str();
  std::replace(nominal.begin(), nominal.end(), ' ', '-');
  auto const has = [&](std::string_view word) { return rest.find(word) != rest.npos; };
  std::vector<std::string_view> materials;  // the likelier first
  if (has("black") || has("iron") || has("steel") || has("galv") || has("sch")) materials = {"steel 40"};
  else if (has("pex")) materials = {"PEX"};
  else if (has("copper") || has("cu"))
    materials = has("type k") || rest.ends_with(" k")   ? std::vector<std::string_view>{"copper K"}
                : has("type l") || rest.ends_with(" l") ? std::vector<std::string_view>{"copper L"}
                                                        : std::vector<std::string_view>{"copper M", "copper L"};
  for (auto const material : materials)
    if (auto name = nominal + " in " + std::string(material); std::find(names.begin(), names.end(), name) != names.end()) return name;
  return "";
}

void check_pipe_size(Value const& size, std::string const& who, Diagnostics& faults) {
  if (size.text.empty() || find_pipe_size(size.text)) return;
  auto const meant = pipe_size_meant(size.text, pipe_size_names());
  auto const near = meant.empty() ? nearest(size.text, pipe_size_names()) : meant;
  faults.add({"E221", size.at, who + ": unknown pipe size \"" + size.text + "\"",
      "nominal size, material and type, such as \"3/4 in copper M\"",
              near.empty() ? "known sizes: 1/2 to 2 in copper L, copper M, PEX and steel 40" : "did you mean \"" + near + "\"?"});
}

}  // namespace steadyfire

/// What every kind in the catalog promises to whoever writes a file.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "tools/job/catalog.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/table_reader.hpp"

using namespace steadyfire;

TEST(Catalog, EveryUnitShownCanBeWrittenAndMeansTheSame) {
  for (auto const& k : catalog())
    for (auto const& f : k.fields)
      for (auto const& u : {f.unit, f.unit_y}) {
        if (u.symbol.empty()) continue;
        auto const parsed = parse_unit(u.symbol, u.dimension);
        ASSERT_TRUE(parsed) << k.name << ", " << f.key << ": " << u.symbol;
        EXPECT_NEAR(parsed->scale / u.scale, 1, 1e-13) << k.name << ", " << f.key << ": " << u.symbol;
        EXPECT_NEAR(parsed->offset, u.offset, 1e-12) << k.name << ", " << f.key;
        EXPECT_FALSE(word_for(u.dimension).starts_with("a quantity in"))
            << k.name << ", " << f.key << " measures " << word_for(u.dimension);
      }
}

TEST(Catalog, KeysOfATableAreUniqueAndNoneHidesAPort) {
  for (auto const& k : catalog()) {
    std::set<std::string> ports;  // branches may share one
    if (!k.branches.empty() && k.home != Home::nested)
      for (auto const& key : port_keys(k)) ports.insert(key);
    std::vector<std::string> keys(ports.begin(), ports.end());
    if (k.home == Home::repeated) keys.push_back("name");
    for (auto const& f : k.fields) keys.push_back(f.key);
    auto sorted = keys;
    std::sort(sorted.begin(), sorted.end());
    EXPECT_EQ(std::adjacent_find(sorted.begin(), sorted.end()), sorted.end()) << k.name;
  }
}

TEST(Catalog, StandardAndUsualValuesLieInTheirRanges) {
  for (auto const& k : catalog())
    for (auto const& f : k.fields) {
      if (!std::isnan(f.standard) && f.most > f.least) {
        EXPECT_GE(f.standard, f.least) << k.name << ", " << f.key;
        EXPECT_LE(f.standard, f.most) << k.name << ", " << f.key;
      }
      if (!f.has_typical()) continue;
      EXPECT_LE(f.low, f.standard) << k.name << ", " << f.key;
      EXPECT_LE(f.standard, f.high) << k.name << ", " << f.key;
      EXPECT_LE(f.least, f.low) << k.name << ", " << f.key;
      EXPECT_GE(f.most, f.high) << k.name << ", " << f.key;
    }
}

TEST(Catalog, EveryFamilyNamedByANestedFieldHasKinds) {
  for (auto const& k : catalog())
    for (auto const& f : k.fields)
      if (f.sort == Field::Sort::entry) {
        EXPECT_NO_THROW(nested_kinds(catalog(), f.refers_to)) << k.name << ", " << f.key;
      }
}

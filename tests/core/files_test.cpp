#include "sim/core/files.hpp"

#include <gtest/gtest.h>

#include "models/csv_table.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

TEST(Files, AnotherSourceStandsForTheDiskUntilItIsTakenAway) {
  std::string const here = in_source("/LICENSE");
  EXPECT_EQ(refusal_of(here), "");
  EXPECT_EQ(refusal_of(here + "s"), "there is no file");
  EXPECT_EQ(refusal_of(in_source()), "there is no file");
  set_file_source([](std::filesystem::path const& file) -> std::string {
    if (file == "a/b.csv") return "1,2\n";
    throw NoFile("elsewhere lies");
  });
  EXPECT_EQ(read_file("a/b.csv"), "1,2\n");
  EXPECT_EQ(refusal_of("a/b.csv"), "");
  EXPECT_EQ(refusal_of(here), "elsewhere lies");
  EXPECT_THROW(read_table(here), BadInput);
  set_file_source({});
  EXPECT_FALSE(read_file(here).empty());
  EXPECT_THROW(read_file(here + "s"), NoFile);
}

}  // namespace
}  // namespace steadyfire

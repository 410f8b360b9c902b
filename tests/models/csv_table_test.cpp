// A number in a cell is the double that lies next to it, as the C library reads it.

#include "models/csv_table.hpp"

#include <gmock/gmock.h>

#include <bit>
#include <cstdint>
#include <cstdlib>

namespace steadyfire {
namespace {

TEST(CsvNumber, IsTheNearestDouble) {
  std::vector<std::string> texts{"0", "-0", "21.3", "-40.25", "+7", ".5", "1e3", "0.1", "999999999999999", "9007199254740993",
                                 "12345678.9012345", "0.000000000000001", "100000000000000.5"};
  for (std::uint64_t i = 1; i < 20000; ++i) {  // some digits, a point somewhere among them
    std::string digits = std::to_string(i * 6364136223846793005u % 10000000000000000u);
    if (auto const at = i % (digits.size() + 1); at > 0 && at < digits.size()) digits.insert(at, ".");
    texts.push_back(i % 3 == 0 ? "-" + digits : digits);
  }
  for (auto const& text : texts) {
    auto const read = read_number(text);
    ASSERT_TRUE(read) << text;
    EXPECT_EQ(std::bit_cast<std::uint64_t>(*read), std::bit_cast<std::uint64_t>(std::strtod(text.c_str(), nullptr))) << text;
  }
}

TEST(CsvNumber, AndNothingBesides) {
  for (std::string const text : {"", "-", "+", ".", "1 ", " 1", "1,5", "1.2.3", "12a", "--1", "nan", "n/a"})
    EXPECT_FALSE(read_number(text)) << text;
}

}  // namespace
}  // namespace steadyfire

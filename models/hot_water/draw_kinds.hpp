#pragma once
/// The kinds of `draws` that a house with taps may have, beside the uses of each tap.

#include <functional>

#include "models/hot_water/draw.hpp"
#include "models/hot_water/draw_patterns.hpp"
#include "sim/component/kind.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {

namespace detail {
template <std::size_t N>
std::vector<std::string> words_of(std::string_view const (&names)[N]) { return {names, names + N}; }
}  // namespace detail

/// A day as the European Union's rules test water heaters.
struct ProfileDraws {
  int profile;
  std::string tap;
  static constexpr std::string_view kind = "tapping profile", family = "draws", summary = "a standard EU test day for water heaters";
  static std::vector<Field> schema() {
    return {choice<&ProfileDraws::profile>("profile", detail::words_of(tapping_profiles),
        "tapping profile of (EU) 814/2013; M is a small household"),
            text<&ProfileDraws::tap>("tap", "tap with all the draws").optional("the first")};
  }
};

/// A day as the rules of the United States test water heaters.
struct PatternDraws {
  int use;
  std::string tap;
  static constexpr std::string_view kind = "draw pattern", family = "draws", summary = "a standard US test day for water heaters";
  static std::vector<Field> schema() {
    auto const day = [](double gallons) { return Amount{unit::gallon.to_si(gallons), measure::whole_volume}; };
    return {choice<&PatternDraws::use>("use", detail::words_of(draw_patterns),
                                      say("{}, {}, {} or {} a day of water at {}", day(10), day(38), day(55), day(84),
                                          Amount{unit::degF.to_si(125), measure::temperature})),
            text<&PatternDraws::tap>("tap", "tap with all the draws").optional("the first")};
  }
};

/// Days of a family that nobody watched, each different.
struct FamilyDraws {
  int people, seed;
  Volume water;
  VolumeFlow shower, bath, kitchen, basin;
  static constexpr std::string_view kind = "family", family = "draws", summary = "random days of a family, each different";
  static std::vector<Field> schema() {
    using namespace unit;
    return {count<&FamilyDraws::people>("people", 1, 40, "people in the house"),
            count<&FamilyDraws::seed>("seed", 0, 1000000, "another seed gives other days").otherwise(1),
            field<&FamilyDraws::water>("water", gallon, 1, 100, "warm water at the taps per person and day").typical(10, 18, 30),
            field<&FamilyDraws::shower>("shower_flow", gpm, 0.5, 10, "flow at taps with \"shower\" in their names").typical(1.5, 2, 2.5),
            field<&FamilyDraws::bath>("bath_flow", gpm, 0.5, 20, "flow at taps with \"bath\" or \"tub\" in their names").typical(3, 4, 6),
            field<&FamilyDraws::kitchen>("kitchen_flow", gpm, 0.2, 10, "flow at taps with \"kitchen\" in their names").typical(1, 1.5, 2.2),
            field<&FamilyDraws::basin>("basin_flow", gpm, 0.2, 10, "flow at taps with \"basin\", \"lavatory\" or \"sink\" in their names")
                .typical(0.5, 1.2, 2.2)};
  }
};

/// A family's own list.
struct ListedDraws {
  std::string file;
  static constexpr std::string_view kind = "list", family = "draws", summary = "your own list of draws from a CSV file";
  static std::vector<Field> schema() { return {text<&ListedDraws::file>("file", "path of the file, relative to the scenario")}; }
};

struct DealtDraws {
  std::vector<DrawList> by_tap;
  FileFaults file_faults;  ///< those of a list's file; then nothing is drawn
};

/// What stands in `draws = { … }`, dealt out among the taps of the house.
///
/// Shape   a profile and a pattern are drawn at one tap. Of a family each draw goes to a tap whose name holds the
///         fixture's word, by turns where there are several, and to the first tap where there is none.
/// Errors  adds E301 where a list has no file, E320 for a tap that is not there; of a file see read_draws.
/// `assume` tells a usual value that nobody stated and returns what is taken; `clock` is the time of day of the
/// run's start and `duration` its length [s].
DealtDraws deal_draws(Entry const& stated, std::vector<std::string> const& taps, std::string const& scenario_file, double clock,
                      double duration, std::function<double(Assumption)> const& assume, Diagnostics& faults);

}  // namespace steadyfire

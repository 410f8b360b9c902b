#pragma once
/// What a tuning found, told.

#include <nlohmann/json_fwd.hpp>

#include "sim/record/front_record.hpp"
#include "tools/study/tune.hpp"

namespace steadyfire::cli {

/// The whole answer: what was turned, before and after, the front, how flat it is.
std::string tuning_words(Tuned const&, std::string const& to_paste, UnitSystem);
/// The lines of a text that are not in another, each behind two spaces.
std::string changed_lines(std::string const& before, std::string const& after);
/// Everything, SI beside the words of each setting.
nlohmann::ordered_json tuning_json(Tuned const&, std::string const& scenario);
/// For pictures: the first two aims of all trials.
FrontRecord front_record(Tuned const&, std::string const& scenario, std::string const& title, UnitSystem);

}  // namespace steadyfire::cli

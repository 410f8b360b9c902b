// Long asks, answered as the command line answers.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "sim/core/files.hpp"
#include "sim/core/measure.hpp"
#include "tools/web/engine.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {
namespace {

using testing::Contains, testing::ElementsAre, testing::HasSubstr, testing::IsEmpty, testing::Not, testing::SizeIs;
using Clock = std::chrono::steady_clock;

std::string file_of(std::string const& name) { return in_source("/scenarios/") + name + ".toml"; }
Json scenario(std::string const& name) { return {{"text", read_file(file_of(name))}, {"file", file_of(name)}, {"units", "us"}}; }

/// A scenario with one value set to another.
std::string with(std::string text, std::string const& from, std::string const& to) {
  auto const at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

/// The JSON of `steadyfire run`.
Json by_command(std::string const& name) {
  auto const line = std::string(paths::program) + " run '" + file_of(name) + "' --json -";
  FILE* pipe = popen(line.c_str(), "r");
  std::string text;
  char buffer[4096];
  for (std::size_t n; (n = fread(buffer, 1, sizeof buffer, pipe)) > 0;) text.append(buffer, n);
  pclose(pipe);
  return Json::parse(text);
}
std::string figure(Json const& list, std::string const& name) {
  for (auto const& f : list)
    if (f.at("name") == name) return f.at("words");
  return "no " + name;
}
/// The number in words.
double number(std::string const& words) { return std::stod(words); }
/// Page and command line print units differently; numbers are what is compared.
double as_number(double si, Measure const& m) { return number(show(si, m, UnitSystem::us)); }

TEST(Answers, OfARunAreThoseOfTheCommand) {
  auto const command = by_command("four_zone_house");
  auto const run = answer("run", scenario("four_zone_house"));
  ASSERT_THAT(run.at("faults"), IsEmpty());
  auto const& key = run.at("key");
  EXPECT_EQ(figure(key, "burner starts"), std::to_string(command.at("burner").at("starts").get<long>()));
  EXPECT_EQ(number(figure(key, "fuel")), as_number(command.at("energy").at("fuel_J"), measure::fuel));
  EXPECT_EQ(number(figure(key, "electricity")), as_number(command.at("energy").at("electricity_J"), measure::electricity));
  EXPECT_EQ(number(figure(key, "median burn")), as_number(command.at("burner").at("burn_s").at("median"), measure::minutes));
  ASSERT_EQ(run.at("zones").size(), command.at("zones").size());
  for (auto const& zone : run.at("zones")) {
    auto const& room = command.at("zones").at(zone.at("name").get<std::string>()).at("room_degC");
    EXPECT_EQ(number(figure(zone.at("figures"), "average")), as_number(room.at("mean").get<double>() + 273.15, measure::fine_temperature));
  }
  std::vector<std::string> ids, command_ids;
  for (auto const& f : run.at("findings")) ids.push_back(f.at("id"));
  for (auto const& f : command.at("findings")) command_ids.push_back(f.at("id"));
  EXPECT_EQ(ids, command_ids);
  EXPECT_EQ(run.at("incomplete"), "");
  EXPECT_EQ(run.at("events").size() + run.at("events_left_out").get<std::size_t>(),
            command.at("events").size() + command.at("events_left_out").get<std::size_t>());
}

TEST(Answers, HaveWhatThePageDraws) {
  auto const run = answer("run", scenario("oversized_burner"));
  auto const& over_time = run.at("over_time");
  auto const bins = over_time.at("bins").get<std::size_t>();
  EXPECT_NEAR(over_time.at("step").get<double>() * double(bins), 86400, over_time.at("step").get<double>());
  for (auto const& panel : over_time.at("panels"))
    for (auto const& series : panel.at("series")) EXPECT_THAT(series.at("mean"), SizeIs(bins)) << series.at("label");
  EXPECT_THAT(run.at("svg").get<std::string>(), HasSubstr("piece:"));
  EXPECT_THAT(run.at("repaintings").at("moments"), Not(IsEmpty()));
  EXPECT_THAT(run.at("why"), Not(IsEmpty()));
}

TEST(Answers, TellFaultsInTheirPlace) {
  auto request = scenario("four_zone_house");
  request["edits"] = {{{"do", "set"}, {"at", {{"table", "boiler"}, {"index", 0}, {"path", {"heating_input"}}}}, {"value", "80 gpm"}}};
  auto const run = answer("run", request);
  ASSERT_THAT(run.at("faults"), SizeIs(1));
  EXPECT_THAT(run.at("faults")[0].at("at").at("path"), ElementsAre("heating_input"));
  EXPECT_THAT(run.at("text").get<std::string>(), HasSubstr("80 gpm"));
  EXPECT_FALSE(run.contains("key"));
  request.erase("edits");
  request["text"] = "title = ";
  EXPECT_THAT(answer("run", request).at("faults"), Not(IsEmpty()));
  request["text"] = read_file(file_of("two_loops"));
  auto const bare = answer("run", request);
  ASSERT_THAT(bare.at("faults"), SizeIs(1));
  EXPECT_EQ(bare.at("faults")[0].at("code"), "E241");
}

TEST(Answers, EditsAreRun) {
  auto request = scenario("oversized_burner");
  auto const as_it_is = answer("run", request);
  request["edits"] = {{{"do", "set"}, {"at", {{"table", "boiler"}, {"index", 0}, {"path", {"minimum_input"}}}}, {"value", "8 kBtu/h"}}};
  auto const mended = answer("run", request);
  EXPECT_LT(number(figure(mended.at("key"), "burner starts")), number(figure(as_it_is.at("key"), "burner starts")));
  request["text"] = mended.at("text"), request.erase("edits");
  EXPECT_EQ(answer("run", request), mended);
}

TEST(Answers, AQuickLookIsNearTheRun) {
  auto request = scenario("four_zone_house");
  auto const full = answer("run", request);
  request["quick"] = true;
  auto const quick = answer("run", request);
  EXPECT_EQ(full.at("quick"), "");
  EXPECT_THAT(quick.at("quick").get<std::string>(), HasSubstr("uick"));
  EXPECT_FALSE(quick.contains("svg"));
  double const starts = number(figure(full.at("key"), "burner starts"));
  EXPECT_NEAR(number(figure(quick.at("key"), "burner starts")), starts, std::ceil(0.05 * starts));  // as its words promise
  double const fuel = number(figure(full.at("key"), "fuel"));
  EXPECT_NEAR(number(figure(quick.at("key"), "fuel")), fuel, 0.01 * fuel);
  EXPECT_NEAR(number(figure(quick.at("key"), "coldest room, average")), number(figure(full.at("key"), "coldest room, average")), 0.15);
}

TEST(Answers, TellPartsThatGrow) {
  auto request = scenario("four_zone_house");
  request["quick"] = true;
  request["text"] = with(request["text"], "\"1 d\"", "\"7 d\"");
  std::vector<double> shares, ends;
  auto const run = answer("run", request, {[&](Json const& part) {
                                             shares.push_back(part.at("share"));
                                             auto const& t = part.at("over_time");
                                             ends.push_back(t.at("step").get<double>() * t.at("bins").get<double>());
                                           },
                                           {}});
  ASSERT_THAT(run.at("faults"), IsEmpty());
  ASSERT_GT(shares.size(), 1u);
  EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
  EXPECT_TRUE(std::is_sorted(ends.begin(), ends.end()));
  EXPECT_LE(shares.back(), 1);
}

TEST(Answers, StopAtOnce) {
  auto request = scenario("cold_coast_year");
  auto const begin = Clock::now();
  auto const stop = [&] { return Clock::now() - begin > std::chrono::milliseconds(300); };
  EXPECT_THROW(answer("run", request, {{}, stop}), Halted);
  EXPECT_LT(Clock::now() - begin, std::chrono::seconds(2));  // some ms, and what a busy machine adds
  Listener const gone{{}, [] { return true; }};
  request["what"] = "review";
  EXPECT_THROW(answer("document", request, gone), Halted);
  request["name"] = "a year";
  EXPECT_THROW(answer("compare", {{"units", "us"}, {"variants", {request}}}, gone), Halted);
}

Json comparison(std::vector<std::pair<std::string, std::string>> const& variants) {
  Json list = Json::array();
  for (auto const& [name, text] : variants) list.push_back({{"name", name}, {"text", text}, {"file", file_of("oversized_burner")}});
  return answer("compare", {{"units", "us"}, {"variants", list}});
}

TEST(Comparisons, TellDifferencesToTheFirst) {
  auto const text = read_file(file_of("oversized_burner"));
  auto const c = comparison({{"as it is", text}, {"low fire", with(text, "\"38 kBtu/h\"", "\"8 kBtu/h\"")}, {"again", text}});
  ASSERT_THAT(c.at("faults"), IsEmpty());
  ASSERT_THAT(c.at("changes"), SizeIs(1));
  EXPECT_THAT(c.at("changes")[0].at("what").get<std::string>(), HasSubstr("minimum_input"));
  EXPECT_THAT(c.at("changes")[0].at("values"), ElementsAre("38 kBtu/h", "8 kBtu/h", "38 kBtu/h"));
  for (auto const& row : c.at("rows")) {
    auto const &values = row.at("values"), &differences = row.at("differences");
    EXPECT_EQ(values[0], values[2]) << row;
    EXPECT_TRUE(differences[2] == "same" || differences[2] == "") << row;
    if (row.at("what") != "burner starts") continue;
    double const by = number(values[0]) - number(values[1]);
    EXPECT_GT(by, 0);
    EXPECT_EQ(differences[1], fmt::format("−{:.0f}", by));
    EXPECT_THAT(c.at("table").get<std::string>(),
                HasSubstr(fmt::format("burner starts\t{}\t{}\t", values[0].get<std::string>(), values[1].get<std::string>())));
  }
  ASSERT_THAT(c.at("over_time"), SizeIs(3));
  EXPECT_EQ(c.at("over_time")[0], c.at("over_time")[2]);
  for (auto const& t : c.at("over_time")) EXPECT_EQ(t.at("step"), c.at("over_time")[0].at("step"));
  EXPECT_THAT(c.at("words"), Contains("again: no difference from as it is"));
  EXPECT_THAT(c.at("words").dump(), HasSubstr("fewest starts: low fire"));
}

TEST(Comparisons, StandOnOneTimeAxis) {
  auto const text = read_file(file_of("oversized_burner"));
  auto const c = comparison({{"a day", text}, {"two days", with(text, "\"1 d\"", "\"2 d\"")}});
  ASSERT_THAT(c.at("faults"), IsEmpty());
  auto const& t = c.at("over_time");
  EXPECT_EQ(t[0].at("step"), t[1].at("step"));
  EXPECT_EQ(2 * t[0].at("bins").get<int>(), t[1].at("bins").get<int>());
}

TEST(Comparisons, SayWhereNothingDiffers) {
  auto const text = read_file(file_of("oversized_burner"));
  auto const c = comparison({{"one", text}, {"two", text}});
  EXPECT_THAT(c.at("words").dump(), HasSubstr("no difference from"));
  EXPECT_THAT(c.at("changes"), IsEmpty());
}

TEST(Comparisons, TellWhoseFaultItIs) {
  auto const c = comparison({{"broken", "format = 1"}});
  ASSERT_THAT(c.at("faults"), Not(IsEmpty()));
  EXPECT_THAT(c.at("faults")[0].at("message").get<std::string>(), HasSubstr("broken: "));
  EXPECT_THROW(comparison({}), BadRequest);
}

TEST(Documents, AreWhatTheCommandWrites) {
  auto request = scenario("oversized_burner");
  auto const asked = [&](char const* what) {
    request["what"] = what;
    auto d = answer("document", request);
    EXPECT_THAT(d.at("faults"), IsEmpty()) << what;
    return d;
  };
  auto const by_command = [&](std::string const& arguments) {
    auto const out = std::filesystem::temp_directory_path() / fmt::format("steadyfire_answers_{}", getpid());
    auto const line = fmt::format("{} {} '{}' --quiet > /dev/null", paths::program, arguments, out.string());
    EXPECT_EQ(std::system(line.c_str()) & 0xff, 0);
    auto const text = read_file(out);
    std::filesystem::remove(out);
    return text;
  };
  auto const file = "'" + file_of("oversized_burner") + "'";
  EXPECT_EQ(asked("report").at("text"), by_command("run " + file + " --report"));
  EXPECT_EQ(asked("review").at("text"), by_command("check " + file + " --report"));
  EXPECT_EQ(asked("materials").at("text"), by_command("check " + file + " --materials"));
  EXPECT_EQ(asked("schematic").at("text"), by_command("draw " + file + " --out"));
  EXPECT_EQ(asked("scenario").at("text"), request.at("text"));
  EXPECT_EQ(asked("report").at("name"), "oversized_burner-report.html");
  request["file"] = "";
  EXPECT_EQ(asked("schematic").at("name"), "the-same-house-with-an-oversized-burner-schematic.svg");
  request["what"] = "poem";
  EXPECT_THROW(answer("document", request), BadRequest);
}

}  // namespace
}  // namespace steadyfire::web

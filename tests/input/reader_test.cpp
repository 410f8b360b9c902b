/// The reader over toy kinds: what is read, and every fault's whole message.
///
/// toy/*.toml stand beside the message expected of them, toy/*.expected, each written
/// or reviewed by hand; STEADYFIRE_UPDATE=1 rewrites them for a new review.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "sim/scenario/reader.hpp"
#include "tests/input/toy_kinds.hpp"
#include "tests/paths.hpp"
#include "tests/told.hpp"

using namespace steadyfire;

namespace {
std::filesystem::path const top{in_source()}, here = top / "tests/input";

std::string contents(std::filesystem::path const& p) {
  std::ifstream in{p, std::ios::binary};
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

/// The only pump of a file without faults.
struct Read {
  Document document;
  Diagnostics faults;
  Entry const& pump() const { return *document.find("toy pump"); }
  Value const& operator[](std::string_view key) const { return value_under(pump(), key); }
};
Read read(std::string const& pump_keys, std::string const& others = "") {
  Read r;
  r.document = read_document(
      "x.toml", "format = 1\n[[toy_pump]]\nname = \"P1\"\nfrom = \"a\"\nto = \"b\"\nflow = \"8 gpm\"\n" + pump_keys + "\n" + others,
      toy::catalog(), r.faults);
  EXPECT_EQ(r.faults.render("x.toml", r.document.text), "");
  return r;
}
std::string faults_of(std::string text) {
  Diagnostics faults;
  auto const d = read_document("x.toml", text, toy::catalog(), faults);
  return faults.render("x.toml", text);
}
std::string codes_of(std::string text) {
  Diagnostics faults;
  read_document("x.toml", std::move(text), toy::catalog(), faults);
  std::string codes;
  for (auto const& d : faults.list()) codes += (codes.empty() ? "" : " ") + d.code;
  return codes;
}
std::string with_pump(std::string const& keys) {
  return "format = 1\n[[toy_pump]]\nname = \"P1\"\nfrom = \"a\"\nto = \"b\"\nflow = \"8 gpm\"\n" + keys;
}
}  // namespace

TEST(Reader, QuantitiesBecomeSi) {
  auto const r = read("speed = \"70 %\"\nlimit = \"60 degC\"\ndifferential = \"9 degF\"\nlengths = [\"10 ft\", \"2 m\"]");
  EXPECT_NEAR(r["flow"].numbers.at(0), 8 * 3.785411784e-3 / 60, 1e-18);
  EXPECT_DOUBLE_EQ(r["speed"].numbers.at(0), 0.7);
  EXPECT_DOUBLE_EQ(r["limit"].numbers.at(0), 333.15);
  EXPECT_DOUBLE_EQ(r["differential"].numbers.at(0), 5);
  EXPECT_EQ(r["lengths"].numbers, (std::vector{3.048, 2.0}));
  EXPECT_EQ(r["lengths"].at.line, 10);
  EXPECT_EQ(r.pump().ports, (std::vector<std::string>{"a", "b"}));
}

TEST(Reader, WordsFlagsClocksAndNamesAreRead) {
  auto const r = read(
      "drive = \"fixed_speed\"\ncheck_valve = false\nstart = \"22:30\"\ncount = 3\nratio = 1.5\nnote = \"n\"\ncaller = \"T1\"\nsources = "
      "[\"T1\", \"T2\"]");
  EXPECT_EQ(r["drive"].numbers, std::vector{0.0});
  EXPECT_EQ(r["check_valve"].numbers, std::vector{0.0});
  EXPECT_EQ(r["start"].numbers, std::vector{81000.0});
  EXPECT_EQ(r["count"].numbers, std::vector{3.0});
  EXPECT_EQ(r["ratio"].numbers, std::vector{1.5});
  EXPECT_EQ(r["note"].text, "n");
  EXPECT_EQ(r["caller"].texts, std::vector<std::string>{"T1"});
  EXPECT_EQ(r["sources"].texts, (std::vector<std::string>{"T1", "T2"}));
  EXPECT_EQ(read("lengths = \"10 ft\"")["lengths"].numbers, std::vector{3.048});
  EXPECT_EQ(read("sources = \"T1\"")["sources"].texts, std::vector<std::string>{"T1"});
}

TEST(Reader, AbsentKeysTakeTheirStandardAndOptionalOnesStayEmpty) {
  auto const r = read("efficiency = \"unknown\"");
  EXPECT_FALSE(r["speed"].given);
  EXPECT_DOUBLE_EQ(r["speed"].numbers.at(0), 1);
  EXPECT_DOUBLE_EQ(r["start"].numbers.at(0), 6.5 * 3600);
  EXPECT_TRUE(r["limit"].numbers.empty());
  EXPECT_EQ(r["wall"].entry, nullptr);
  EXPECT_TRUE(r["efficiency"].given && r["efficiency"].unknown);
  EXPECT_DOUBLE_EQ(r["efficiency"].numbers.at(0), 0.25);
  auto const piece = fill<toy::Pump>(r.pump().values);
  EXPECT_DOUBLE_EQ(*piece.efficiency, 0.25);
  EXPECT_TRUE(std::isnan(*piece.limit));
  EXPECT_EQ(piece.drive, toy::Pump::fixed);
}

TEST(Reader, CurvesKeepTheirShapeInOtherUnits) {
  double const gpm = unit::gpm.scale, ft = 0.3048;
  auto const points = Curve::from(read("curve = { flow = \"gpm\", head = \"ft\", points = [[0, 20], [5, 15], [10, 4]] }")["curve"].numbers);
  EXPECT_NEAR(points(5 * gpm), 15 * ft, 1e-12);
  auto const quadratic = Curve::from(read("curve = { flow = \"m3/h\", head = \"m\", coefficients = [6, 0.5, -0.25] }")["curve"].numbers);
  for (double q : {0.0, 1.0, 3.0}) EXPECT_NEAR(quadratic(q / 3600), 6 + 0.5 * q - 0.25 * q * q, 1e-12);
}

TEST(Reader, CoefficientsOverATemperatureScaleAreShifted) {
  Field f = curve<&toy::Pump::curve>("c", "t", unit::degF, "flow", unit::gpm, "a curve over temperature");
  Kind const kinds[]{{"scenario", "scenario", "", {f}, {}, {}}};
  Diagnostics faults;
  auto const d = read_document("x", "format = 1\nc = { t = \"degF\", flow = \"gpm\", coefficients = [1, 2, 3] }", kinds, faults);
  ASSERT_TRUE(faults.empty());
  auto const c = Curve::from(d.root.values.at(0).numbers);
  for (double t : {0.0, 70.0})
    EXPECT_NEAR(c(unit::degF.scale * t + unit::degF.offset) / unit::gpm.scale, 1 + 2 * t + 3 * t * t, 1e-8 * (1 + t * t));
}

TEST(Reader, CurvesThatConversionWouldBreakAreRefused) {
  auto const curve = [](std::string const& rest) { return with_pump("curve = { flow = \"L/s\", head = \"km\", " + rest + " }"); };
  EXPECT_EQ(codes_of(curve("points = [[0, 1e306], [1, 1]]")), "E208");
  EXPECT_EQ(codes_of(curve("points = [[0, 1], [1e-323, 1]]")), "E208");
  EXPECT_EQ(codes_of(curve("coefficients = [1, 1e306]")), "E208");
}

TEST(Reader, NestedTablesAreChosenByKind) {
  auto const r = read("wall = { kind = \"very_rough\", height = \"1 mm\" }\ncover = { thickness = \"1/2 in\" }");
  EXPECT_EQ(r["wall"].entry->kind->name, "very rough");
  EXPECT_DOUBLE_EQ(r["wall"].entry->values.at(0).numbers.at(0), 1e-3);
  EXPECT_DOUBLE_EQ(r["cover"].entry->values.at(0).numbers.at(0), 0.0127);
  EXPECT_EQ(read("wall = \"smooth\"")["wall"].entry->kind->name, "smooth");
  EXPECT_EQ(read("[toy_pump.wall]\nkind = \"smooth\"")["wall"].entry->kind->name, "smooth");
  EXPECT_EQ(codes_of(with_pump("wall = \"very rough\"")), "E205");
}

TEST(Reader, TablesStandInFileOrder) {
  auto const r = read("",
                      "[[zone]]\nname = \"z\"\n[site]\n[[toy_exchanger]]\nname = \"x\"\nhot_in = \"a\"\nhot_out = \"b\"\ncold_in = "
                      "\"c\"\ncold_out = \"d\"");
  std::string order;
  for (auto const& t : r.document.tables) order += t.kind->name + " ";
  EXPECT_EQ(order, "toy pump zone site toy exchanger ");
  EXPECT_EQ(r.document.tables.back().ports, (std::vector<std::string>{"a", "b", "c", "d"}));
}

TEST(Reader, PiecesOfAnArrangementMayBeChangedWithoutTheirRequiredKeys) {
  std::string const change = "[[toy_pump]]\nname = \"P1\"\nspeed = \"50 %\"\n";
  EXPECT_EQ(codes_of("format = 1\n" + change + "[[zone]]\nname = \"z\"\n"), "");
  EXPECT_EQ(codes_of("format = 1\n" + change), "E219 E205");
  EXPECT_EQ(codes_of("format = 1\n" + change + "from = \"a\"\n[[zone]]\nname = \"z\"\n"), "E219 E205");
}

TEST(Reader, NamesAreUniqueAmongPiecesButSectionsHaveTheirOwn) {
  std::string const zone = "[[zone]]\nname = \"P1\"\n", pump = "[[toy_pump]]\nname = \"P1\"\nflow = \"1 gpm\"\n",
                    exchanger = "[[toy_exchanger]]\nname = \"P1\"\n";
  EXPECT_EQ(codes_of("format = 1\n" + zone + pump), "");
  EXPECT_EQ(codes_of("format = 1\n" + zone + pump + exchanger), "E215");
  EXPECT_EQ(codes_of("format = 1\n" + zone + zone), "E215");
}

TEST(Reader, RulesOfAKindAreAskedOnlyOfATableWithoutOtherFaults) {
  EXPECT_EQ(codes_of(with_pump("limit = \"100 degF\"\nratio = 1\n")), "E222");
  EXPECT_EQ(codes_of(with_pump("limit = \"100 degF\"\nratio = 5\n")), "E204");
}

TEST(Reader, LinesMayEndInReturnAndNewline) {
  auto text = with_pump("speed = \"70 %\"\n");
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos; at += 2) text.insert(at, "\r");
  EXPECT_EQ(codes_of(text), "");
  auto const found = text.find("70 %");
  text.replace(found, 4, "170 %");
  EXPECT_NE(faults_of(text).find("    7 | speed = \"170 %\"\n      |         ^^^^^^^\n"), std::string::npos);
}

TEST(Reader, LimitsThemselvesAreInRangeInEveryUnit) {
  EXPECT_EQ(codes_of(with_pump("limit = \"0 degC\"")), "");  // 32 degF
  EXPECT_EQ(codes_of(with_pump("limit = \"394.2611111111111 K\"")), "");
  EXPECT_EQ(codes_of(with_pump("limit = \"-0.01 degC\"")), "E204");
}

TEST(Reader, WhatIsNotATextIsRefused) {
  EXPECT_EQ(codes_of(""), "E104");
  EXPECT_EQ(codes_of(" \n\t\r\n"), "E104");
  EXPECT_EQ(codes_of(std::string("format = 1\n\0", 12)), "E103");
  EXPECT_EQ(codes_of("format = 1\ntitle = \"\xff\xfe\"\n"), "E105");
  EXPECT_EQ(codes_of("format = 1 #" + std::string(5'000'000, ' ')), "E102");
  EXPECT_EQ(codes_of("x = " + std::string(100'000, '[')), "E110");
  for (auto const* found_by_fuzzing : {"[[[x]]\n", "[&", "[[=", "title\u03bcm ` 1\n", "\ufcffao\"?\n"})
    EXPECT_EQ(codes_of(found_by_fuzzing), "E105");
}

TEST(Reader, FilesThatCannotBeReadAreRefused) {
  auto const code = [](std::string const& file) {
    try { return read_text(file), std::string("read"); }
    catch (BadInput const& e) { return std::string(e.what()); }
  };
  EXPECT_EQ(code("no/such.toml"), "no/such.toml: error[E101]: file not found\n  expected  the name of a scenario file\n");
  EXPECT_NE(code(here.string()).find("E101"), std::string::npos);
  auto const large = std::filesystem::temp_directory_path() / "steadyfire_large_test.toml";
  std::ofstream{large} << std::string(5'000'001, '#');
  EXPECT_NE(code(large.string()).find("E102"), std::string::npos);
  std::ofstream{large} << std::string(5'000'000, '#');
  EXPECT_EQ(code(large.string()), "read");
  std::filesystem::remove(large);
}

TEST(Reader, EveryFaultIsToldInItsWholeMessage) {
  std::set<std::string> seen;
  for (auto const& file : std::filesystem::directory_iterator{here / "toy"}) {
    if (file.path().extension() != ".toml") continue;
    auto const text = contents(file.path()), name = file.path().filename().string();
    Diagnostics faults;
    read_document(name, text, toy::catalog(), faults);
    for (auto const& d : faults.list()) seen.insert(d.code);
    auto expected = file.path();
    expected.replace_extension(".expected");
    auto const message = faults.render(name, text);
    if (std::getenv("STEADYFIRE_UPDATE")) std::ofstream{expected} << message;
    EXPECT_FALSE(faults.empty()) << name;
    EXPECT_EQ(message, contents(expected)) << name;
  }
  // Every code of the reader is shown by a toy file; E101 to E104 have tests of their own.
  std::set<std::string> wanted{"E105", "E106", "E107"};
  for (int i = 201; i <= 220; ++i) wanted.insert("E" + std::to_string(i));
  for (auto const& code : wanted) EXPECT_TRUE(seen.contains(code)) << code;
}

TEST(Errors, EveryCodeInTheSourcesHasAnEntryAndEveryEntryIsUsed) {
  std::set<std::string> used, listed;
  auto const gather = [](std::string const& text, std::regex const& pattern, std::set<std::string>& into) {
    for (std::sregex_iterator i{text.begin(), text.end(), pattern}, end; i != end; ++i) into.insert((*i)[1]);
  };
  for (auto const* folder : {"sim", "models", "tools", "plots"})
    for (auto const& file : std::filesystem::recursive_directory_iterator{top / folder})
      if (auto const x = file.path().extension(); x == ".cpp" || x == ".hpp")
        gather(contents(file.path()), std::regex{R"rx("(E[0-9]{3})")rx"}, used);
  gather(contents(top / "sim/core/errors.md"), std::regex{R"(\n\| (E[0-9]{3}) \|)"}, listed);
  for (auto const& code : used) EXPECT_TRUE(listed.contains(code)) << code << " has no entry in sim/core/errors.md";
  for (auto const& code : listed) EXPECT_TRUE(used.contains(code)) << code << " is listed but no source uses it";
}

TEST(Errors, NearestWordForgivesSlips) {
  std::vector<std::string> const known{"speed", "flow", "length"};
  EXPECT_EQ(nearest("spede", known), "speed");
  EXPECT_EQ(nearest("lenght", known), "length");
  EXPECT_EQ(nearest("Flow", known), "flow");
  EXPECT_EQ(nearest("temperature", known), "");
  EXPECT_EQ(nearest("", known), "");
}

TEST(Errors, AStoppedRunTellsTimePlaceAndReason) {  // the shape of the style guide
  Stopped const s{"E410",        3 * 3600 + 12 * 60, "no hydraulic solution", "loop P1 → R3 → P1", "valve V2 closed while P1 runs",
                  "add a bypass"};
  EXPECT_STREQ(s.what(),
               "error[E410]: no hydraulic solution at t = 3 h 12 min\n  where     loop P1 → R3 → P1\n  likely    valve V2 closed while P1 "
               "runs\n  hint      add a bypass\n");
  EXPECT_EQ(std::string(s.of_state("with bath, kitchen calling").what()).substr(0, 65),
            "error[E410]: no hydraulic solution with bath, kitchen calling\n  w");
}

TEST(Errors, LongLinesShowThePartAroundTheFaultAndNoControlCharacters) {
  Diagnostics faults;
  std::string const line = std::string(5000, 'a') + "X" + std::string(5000, 'b') + "\x1b[2J";
  faults.add({"E999", {1, 5001, 1}, "m", "", ""});
  faults.add({"E999", {1, 10002, 4}, "m", "", ""});
  auto const out = faults.render("f", line);
  EXPECT_LT(out.size(), 600u);
  EXPECT_EQ(out.find('\x1b'), std::string::npos);
  std::istringstream lines{out};
  std::string heading, source, carets;
  std::getline(lines, heading), std::getline(lines, source), std::getline(lines, carets);
  EXPECT_EQ(source[carets.find('^')], 'X');
}

TEST(Errors, BytesThatAreNoUtf8AreNotEchoed) {
  auto const out = faults_of("format = 1\ntitle = \"\xff\xc3\x28 \xc3\xa9\"\n");
  EXPECT_NE(out.find("title = \"?" "?( \u00e9\""), std::string::npos) << out;
}

TEST(EditorSchema, DescribesEveryKeyWithTypeAndUnit) {
  auto const schema = nlohmann::json::parse(editor_schema(toy::catalog()));
  auto const& pump = schema.at("properties").at("toy_pump").at("items").at("properties");
  for (auto const& f : find_kind(toy::catalog(), "toy pump")->fields) EXPECT_TRUE(pump.contains(f.key)) << f.key;
  EXPECT_EQ(pump.at("drive").at("enum").size(), 2u);
  EXPECT_EQ(pump.at("speed").at("default"), "100%");
  EXPECT_EQ(pump.at("start").at("default"), "06:30");
  EXPECT_EQ(pump.at("count").at("maximum"), 9);
  EXPECT_NE(pump.at("flow").at("description").get<std::string>().find("0 to 100 gpm"), std::string::npos);
  EXPECT_EQ(schema.at("properties").at("format").at("const"), 1);
  EXPECT_EQ(schema.at("additionalProperties"), false);
}

TEST(ReferencePage, NamesEveryTableAndKey) {
  auto const page = reference_page(toy::catalog());
  for (auto const& k : toy::catalog())
    for (auto const& f : k.fields) {
      EXPECT_NE(page.find("| `" + f.key + "` |"), std::string::npos) << f.key;
      EXPECT_NE(page.find(us(f.help)), std::string::npos) << us(f.help);
    }
  EXPECT_NE(page.find("## `[[toy_pump]]`"), std::string::npos);
  EXPECT_NE(page.find("a flow (gpm)"), std::string::npos);
  EXPECT_NE(reference_page(toy::catalog(), UnitSystem::si).find("a flow (L/s, m³/h)"), std::string::npos);
  EXPECT_NE(page.find("; usually 15 to 45% (common practice, no published source)"), std::string::npos);
}

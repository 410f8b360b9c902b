#include "tools/web/folder.hpp"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <fstream>
#include <sstream>

#include "sim/core/diagnostic.hpp"

namespace steadyfire::web {
namespace {

namespace fs = std::filesystem;

std::string const house = "format = 1\ntitle = \"A house\"\n";

/// A folder `open` to be opened, in one of its own.
class FolderTest : public testing::Test {
 protected:
  FolderTest() {
    fs::create_directories(open / "jobs");
    write(open / "house.toml", house);
  }
  ~FolderTest() override { fs::remove_all(around); }

  static void write(fs::path const& file, std::string const& text) { std::ofstream{file, std::ios::binary} << text; }
  static std::string content(fs::path const& file) {
    std::ifstream in{file, std::ios::binary};
    return (std::ostringstream{} << in.rdbuf()).str();
  }
  static int refusal(std::function<void()> const& what) {
    try {
      what();
      return 200;
    } catch (Refused const& e) {
      EXPECT_EQ(std::string(e.what()).find("secret"), std::string::npos) << e.what();
      return e.status;
    }
  }

  fs::path const around = fs::canonical(fs::temp_directory_path()) / ("steadyfire-folder-" + std::to_string(::getpid()) +
                                                                      testing::UnitTest::GetInstance()->current_test_info()->name());
  fs::path const open = around / "open";
};

TEST_F(FolderTest, ListsScenariosAndNothingElse) {
  write(open / "jobs/barn.toml", "format = 1\ntitle = \"A barn\"");
  write(open / "pyproject.toml", "[project]\nname = \"x\"");
  write(open / "slip.toml", "format = = 1");
  write(open / "notes.txt", "format = 1");
  write(open / "answers.toml", "format = 1\n[house]\nfloor_area = \"2000 ft2\"");
  fs::create_directories(open / ".git");
  write(open / ".git/hidden.toml", house);
  std::vector<std::string> found;
  for (auto const& f : Folder{open}.list()) found.push_back(f.name + ": " + f.title);
  EXPECT_EQ(found, (std::vector<std::string>{"house.toml: A house", "jobs/barn.toml: A barn", "slip.toml: "}));
}

TEST_F(FolderTest, ListEndsAtItsDepthAndNumber) {
  auto deep = open;
  for (int i = 0; i < 8; ++i) fs::create_directories(deep /= "d"), write(deep / "deep.toml", house);
  EXPECT_EQ(Folder{open}.list().size(), 5u);  // house.toml, and four folders down
  for (int i = 0; i < 1100; ++i) write(open / ("h" + std::to_string(i) + ".toml"), house);
  EXPECT_EQ(Folder{open}.list().size(), 1000u);
}

TEST_F(FolderTest, OneFileOpensItsFolderAlone) {
  write(open / "annex.toml", house), write(open / "jobs/barn.toml", house);
  Folder folder{open / "house.toml"};
  auto const files = folder.list();
  ASSERT_EQ(files.size(), 2u);
  EXPECT_EQ(files[0].name, "house.toml");
  EXPECT_TRUE(files[0].opened);
  EXPECT_EQ(files[1].name, "annex.toml");
  EXPECT_EQ(refusal([&] { folder.save("jobs/new.toml", house, std::nullopt); }), 403);
}

TEST_F(FolderTest, WhatIsNoFolderNorScenarioIsBadInput) {
  write(open / "notes.txt", "");
  for (auto const* what : {"nowhere", "notes.txt"}) EXPECT_THROW(Folder{open / what}, BadInput) << what;
  EXPECT_THROW(Folder{"/dev/null"}, BadInput);
}

TEST_F(FolderTest, NamesLeadNowhereElse) {
  write(around / "secret.toml", house);
  Folder folder{open};
  for (std::string const name :
       {"../secret.toml", "jobs/../../secret.toml", "/etc/secret.toml", "", "/", ".toml", "./house.toml", "jobs//x.toml", "jobs/",
        "..\\secret.toml", "house.toml\n", "%2e%2e/secret.toml/", "house.txt", "jobs/.hidden.toml", "house.toml/."}) {
    EXPECT_EQ(refusal([&] { folder.read(name); }), 400) << name;
    EXPECT_EQ(refusal([&] { folder.save(name, house, std::nullopt); }), 400) << name;
  }
  EXPECT_EQ(refusal([&] { folder.read(std::string("house.toml\0.toml", 16)); }), 400);
  EXPECT_EQ(refusal([&] { folder.read(std::string(600, 'a') + ".toml"); }), 400);
  EXPECT_EQ(refusal([&] { folder.read("%2e%2e/secret.toml"); }), 404);  // a name like any other
}

TEST_F(FolderTest, LinksOutOfTheFolderAreRefused) {
  write(around / "secret.toml", house);
  fs::create_directory(around / "secrets");
  fs::create_symlink(around / "secret.toml", open / "out.toml");
  fs::create_symlink(around / "none.toml", open / "dangling.toml");
  fs::create_directory_symlink(around / "secrets", open / "way");
  fs::create_symlink(open / "house.toml", open / "within.toml");
  Folder folder{open};
  EXPECT_EQ(refusal([&] { folder.read("out.toml"); }), 403);
  EXPECT_EQ(refusal([&] { folder.read("dangling.toml"); }), 403);
  EXPECT_EQ(refusal([&] { folder.read("way/x.toml"); }), 403);
  for (auto const* name : {"out.toml", "dangling.toml", "way/x.toml"})
    EXPECT_EQ(refusal([&] { folder.save(name, "1", std::nullopt); }), 403) << name;
  EXPECT_EQ(content(around / "secret.toml"), house);
  EXPECT_FALSE(fs::exists(around / "none.toml") || fs::exists(around / "secrets/x.toml"));
  EXPECT_EQ(folder.list().size(), 2u);
  EXPECT_FALSE(folder.save("within.toml", "# one\n", folder.read("within.toml").stamp).changed);
  EXPECT_TRUE(fs::is_symlink(open / "within.toml"));
  EXPECT_EQ(content(open / "house.toml"), "# one\n");
}

TEST_F(FolderTest, FilesBesideAScenarioLieInTheFolder) {
  write(around / "secret.csv", "1"), write(open / "jobs/weather.csv", "2");
  fs::create_symlink(around / "secret.csv", open / "out.csv");
  Folder const folder{open};
  EXPECT_EQ(folder.read_beside("jobs/weather.csv"), "2");
  EXPECT_EQ(folder.read_beside("jobs/../jobs/weather.csv"), "2");
  EXPECT_EQ(folder.read_beside(open / "jobs/weather.csv"), "2");
  for (auto const* name : {"../secret.csv", "../nothing.csv", "/etc/passwd", "/nothing/there", "out.csv", "jobs/../../secret.csv"})
    EXPECT_EQ(refusal([&] { folder.read_beside(name); }), 403) << name;
  EXPECT_EQ(refusal([&] { folder.read_beside("nothing.csv"); }), 404);
}

TEST_F(FolderTest, WhatIsNoTextIsRefused) {
  write(open / "latin.toml", "title = \"caf\xe9\"");
  write(open / "huge.toml", std::string(5'000'001, '#'));
  ASSERT_EQ(::mkfifo((open / "pipe.toml").c_str(), 0600), 0);
  fs::create_directory(open / "folder.toml");
  Folder folder{open};
  EXPECT_EQ(refusal([&] { folder.read("latin.toml"); }), 415);
  EXPECT_EQ(refusal([&] { folder.read("huge.toml"); }), 413);
  EXPECT_EQ(refusal([&] { folder.read("pipe.toml"); }), 404);  // and doesn't wait for a writer
  EXPECT_EQ(refusal([&] { folder.read("folder.toml"); }), 404);
  EXPECT_EQ(refusal([&] { folder.save("new.toml", std::string(5'000'001, '#'), std::nullopt); }), 413);
}

TEST_F(FolderTest, TheSecondOfTwoSaversIsTold) {
  Folder folder{open};
  auto const read = folder.read("house.toml");
  auto const first = folder.save("house.toml", house + "# first\n", read.stamp);
  EXPECT_FALSE(first.changed);
  EXPECT_EQ(first.stamp, folder.read("house.toml").stamp);
  auto const second = folder.save("house.toml", house + "# second\n", read.stamp);
  ASSERT_TRUE(second.changed);
  EXPECT_EQ(second.changed->text, house + "# first\n");
  EXPECT_EQ(content(open / "house.toml"), house + "# first\n");
  EXPECT_FALSE(folder.save("house.toml", house + "# both\n", second.changed->stamp).changed);
  EXPECT_EQ(content(open / "house.toml"), house + "# both\n");
}

TEST_F(FolderTest, NewFilesAreNeverMadeOverOthers) {
  Folder folder{open};
  ASSERT_TRUE(folder.save("house.toml", "", std::nullopt).changed);
  EXPECT_EQ(content(open / "house.toml"), house);
  EXPECT_FALSE(folder.save("jobs/new.toml", house, std::nullopt).changed);
  EXPECT_EQ(content(open / "jobs/new.toml"), house);
  EXPECT_EQ(refusal([&] { folder.save("nowhere/new.toml", house, std::nullopt); }), 404);
  fs::remove(open / "house.toml");
  auto const gone = folder.save("house.toml", house, stamp_of(house));
  ASSERT_TRUE(gone.changed);
  EXPECT_EQ(gone.changed->stamp, "");
  EXPECT_FALSE(fs::exists(open / "house.toml"));
}

TEST_F(FolderTest, AddsFilesWithTheirFolders) {
  fs::create_directory_symlink(around, open / "way");
  Folder folder{open};
  EXPECT_TRUE(folder.add("jobs/weather/town.csv", "1"));
  EXPECT_FALSE(folder.add("jobs/weather/town.csv", "2"));
  EXPECT_EQ(content(open / "jobs/weather/town.csv"), "1");
  for (auto const* name : {"../town.csv", "way/town.csv", "way/new/town.csv", "jobs/../../town.csv"})
    EXPECT_EQ(refusal([&] { folder.add(name, "1"); }), 403) << name;
  EXPECT_EQ(refusal([&] { folder.add(around / "town.csv", "1"); }), 403);
  EXPECT_FALSE(fs::exists(around / "town.csv") || fs::exists(around / "new"));
}

TEST_F(FolderTest, SavingKeepsTheModeAndLeavesNothingBeside) {
  fs::permissions(open / "house.toml", fs::perms(0640));
  Folder folder{open};
  ASSERT_FALSE(folder.save("house.toml", "# new\n", folder.read("house.toml").stamp).changed);
  EXPECT_EQ(fs::status(open / "house.toml").permissions(), fs::perms(0640));
  EXPECT_EQ(std::distance(fs::directory_iterator{open}, {}), 2);
}

TEST(Stamp, ChangesWithTheText) {
  EXPECT_EQ(stamp_of(house), stamp_of(std::string(house)));
  EXPECT_NE(stamp_of(house), stamp_of(house + " "));
  EXPECT_NE(stamp_of("ab"), stamp_of("ba"));
  // FNV-1a of "a", from the table of test vectors in draft-eastlake-fnv.
  EXPECT_EQ(stamp_of("a"), "af63dc4c8601ec8c-1");
}

}  // namespace
}  // namespace steadyfire::web

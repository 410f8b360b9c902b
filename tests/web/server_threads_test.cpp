// The queue of runs and the server, by asks of its own; tools/test --all runs this under the thread sanitizer.

#include "tools/web/server.hpp"

#include <arpa/inet.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <fstream>
#include <iterator>
#include <thread>

#include "tools/job/catalog.hpp"
#include "models/house/house.hpp"

#include "tools/web/run_queue.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {
namespace {

using namespace std::chrono_literals;
using testing::HasSubstr, testing::Not, testing::StartsWith;
namespace fs = std::filesystem;

std::atomic<int> at_work = 0, ended = 0;

struct AtWork {
  AtWork() { ++at_work; }
  ~AtWork() { --at_work, ++ended; }
};

/// Works until it is stopped.
Json endless(Json const&, Listener const& listener) {
  AtWork const now;
  for (int i = 0;; ++i) {
    if (listener.stop && listener.stop()) throw Halted();
    if (listener.tell) listener.tell({{"share", i}});
    std::this_thread::sleep_for(1ms);
  }
}
Json echo(Json const& asked, Listener const&) { return asked; }
Json in_parts(Json const& asked, Listener const& listener) {
  listener.tell({{"share", 0.5}});
  std::this_thread::sleep_for(20ms);
  return asked;
}
Json unlike(Json const& asked, Listener const&) {
  if (asked.contains("memory")) throw std::bad_alloc{};
  if (asked.contains("invariant")) throw std::logic_error{"x is 3"};
  if (asked.contains("number")) return asked.at("number").get<int>();
  throw BadRequest("no 'text'", "send one");
}
Json bytes(Json const&, Listener const&) { return "\xff\xfe"; }
Json large(Json const&, Listener const&) { return std::string(300'000, 'x'); }

/// What the reader has to say of a scenario.
Json faults(Json const& asked, Listener const&) {
  Diagnostics faults;
  auto const document = read_document(asked.at("file").get<std::string>(), asked.at("text").get<std::string>(), catalog(), faults);
  auto const project = make_project(document, catalog(), faults);
  std::string all = project.file_faults.rendered;
  for (auto const& f : faults.list()) all += f.code + ' ' + f.message + '\n';
  return all;
}

Ask const known[] = {{"endless", true, endless}, {"in_parts", true, in_parts}, {"unlike_run", true, unlike}, {"echo", false, echo},
                     {"unlike", false, unlike},  {"bytes", false, bytes},      {"large", false, large},      {"faults", false, faults}};

template <class Condition>
bool soon(Condition&& holds, std::chrono::milliseconds patience = 10s) {
  for (auto const end = std::chrono::steady_clock::now() + patience; std::chrono::steady_clock::now() < end;
       std::this_thread::sleep_for(2ms))
    if (holds()) return true;
  return holds();
}

/// One connection to this machine.
class Caller {
 public:
  explicit Caller(int port) : socket_{::socket(AF_INET, SOCK_STREAM, 0)} {
    sockaddr_in there{};
    there.sin_family = AF_INET, there.sin_port = htons(std::uint16_t(port)), there.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    timeval const patience{20, 0};
    ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    EXPECT_EQ(::connect(socket_, reinterpret_cast<sockaddr*>(&there), sizeof there), 0);
    port_ = port;
  }
  ~Caller() { close(); }
  Caller(Caller const&) = delete;
  void close() {
    if (socket_ >= 0) ::close(std::exchange(socket_, -1));
  }
  void send(std::string const& text) { EXPECT_EQ(::send(socket_, text.data(), text.size(), MSG_NOSIGNAL), ssize_t(text.size())); }
  void ask(std::string const& name, std::string const& body = "{}") {
    send("POST /ask/" + name + " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port_) +
         "\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body);
  }
  /// All that comes until `end`, or until the other side closes.
  std::string hear(std::string const& end = "") {
    std::string all;
    char some[4096];
    while (end.empty() || all.find(end) == std::string::npos) {
      auto const count = ::recv(socket_, some, sizeof some, 0);
      if (count <= 0) break;
      all.append(some, std::size_t(count));
    }
    return all;
  }

 private:
  int socket_, port_;
};

class Served : public testing::Test {
 protected:
  explicit Served(ServerOptions options = {}) : folder{make(place)} {
    options.port = 0, options.asks = known;
    if (options.runs == 0) options.runs = 2;
    server.emplace(folder, options);
    auto const address = server->address();
    port = std::stoi(address.substr(address.rfind(':') + 1));
    listening = std::thread{[this] { server->serve(); }};
    ended = 0;
  }
  ~Served() override {
    server->stop();
    listening.join();
    fs::remove_all(place);
  }
  static fs::path const& make(fs::path const& place) {
    fs::create_directories(place);
    return place;
  }
  std::string answer(std::string const& name, std::string const& body = "{}") {
    Caller caller{port};
    caller.ask(name, body);
    return caller.hear();
  }

  fs::path const place = fs::temp_directory_path() / ("steadyfire-served-" + std::to_string(::getpid()) +
                                                      testing::UnitTest::GetInstance()->current_test_info()->name());
  Folder folder;
  std::optional<Server> server;
  int port;
  std::thread listening;
};

TEST_F(Served, ShortAsksAnswerInJson) {
  auto const said = answer("echo", R"({"b": [1, 2.5, "ü"]})");
  EXPECT_THAT(said, StartsWith("HTTP/1.1 200 "));
  EXPECT_THAT(said, HasSubstr("Content-Type: application/json\r\n"));
  EXPECT_THAT(said, testing::EndsWith("\r\n\r\n{\"b\":[1,2.5,\"ü\"]}"));
}

TEST_F(Served, LongAsksTellPartsAndThenTheAnswer) {
  auto const said = answer("in_parts", R"({"a": 1})");
  EXPECT_THAT(said, HasSubstr("Content-Type: text/event-stream\r\n"));
  auto const part = said.find("event: part\ndata: {\"share\":0.5}\n\n"), last = said.find("event: answer\ndata: {\"a\":1}\n\n");
  EXPECT_LT(part, last);
  EXPECT_NE(last, std::string::npos) << said;
}

TEST_F(Served, AFailureIsTold) {
  EXPECT_THAT(answer("unlike"), testing::AllOf(StartsWith("HTTP/1.1 400 "), HasSubstr(R"({"error":"no 'text'","hint":"send one"})")));
  EXPECT_THAT(answer("unlike", R"({"number": "three"})"), StartsWith("HTTP/1.1 400 "));
  EXPECT_THAT(answer("unlike", R"({"memory": 1})"), testing::AllOf(StartsWith("HTTP/1.1 500 "), HasSubstr("not enough memory")));
  EXPECT_THAT(answer("unlike", R"({"invariant": 1})"), testing::AllOf(StartsWith("HTTP/1.1 500 "), HasSubstr("x is 3")));
  EXPECT_THAT(answer("unlike_run"), HasSubstr("event: failed\ndata: {\"error\":\"no 'text'\",\"hint\":\"send one\",\"status\":400}\n\n"));
  EXPECT_THAT(answer("unlike_run", R"({"invariant": 1})"), HasSubstr("\"status\":500"));
  EXPECT_THAT(answer("bytes"), HasSubstr("\"\xef\xbf\xbd\xef\xbf\xbd\""));
  EXPECT_THAT(answer("nothing"), StartsWith("HTTP/1.1 404 "));
  EXPECT_THAT(answer("echo", "[1]"), StartsWith("HTTP/1.1 400 "));
  EXPECT_THAT(answer("echo"), StartsWith("HTTP/1.1 200 "));
}

TEST_F(Served, ARunEndsWithItsConnection) {
  Caller caller{port};
  caller.ask("endless");
  EXPECT_THAT(caller.hear("\"share\":"), HasSubstr("event: part\n"));
  EXPECT_EQ(at_work, 1);
  caller.close();
  EXPECT_TRUE(soon([] { return at_work == 0; }, 2s));
}

TEST_F(Served, MoreThanTheLineHoldsIsRefusedUntilOneEnds) {
  std::vector<std::unique_ptr<Caller>> callers;
  for (int i = 0; i < 2 + 8; ++i) {  // two workers, and the line behind them
    callers.push_back(std::make_unique<Caller>(port));
    callers.back()->ask("endless");
    EXPECT_THAT(callers.back()->hear("\r\n\r\n"), StartsWith("HTTP/1.1 200 "));
  }
  EXPECT_TRUE(soon([] { return at_work == 2; }));
  auto const refused = answer("in_parts");
  EXPECT_THAT(refused, StartsWith("HTTP/1.1 503 "));
  EXPECT_THAT(refused, HasSubstr("Retry-After: "));
  EXPECT_THAT(answer("echo"), StartsWith("HTTP/1.1 200 "));  // short asks go on
  callers.back()->close();  // one that waited: its place is free, and it is never begun
  EXPECT_TRUE(soon([&] {
    Caller next{port};
    next.ask("in_parts");
    return next.hear("\r\n\r\n").starts_with("HTTP/1.1 200 ");
  }));
  callers.clear();
  EXPECT_TRUE(soon([] { return at_work == 0; }));
  EXPECT_THAT(answer("in_parts"), HasSubstr("event: answer\n"));
}

TEST_F(Served, TheEngineReadsInTheFolderAlone) {
  std::ifstream in{in_source("/scenarios/cold_coast_year.toml")};
  std::string const year{std::istreambuf_iterator<char>{in}, {}};
  auto const with = [&](std::string const& weather, std::string const& file) {
    std::string const named = "weather/invented_cold_coast.csv";
    auto text = year;
    text.replace(text.find(named), named.size(), weather);
    auto const said = answer("faults", to_text({{"text", text}, {"file", file}}));
    return said.substr(said.find("\r\n\r\n") + 4);
  };
  std::string const own = "weather/invented_cold_coast.csv";
  EXPECT_EQ(with(own, "shipped:/cold_coast_year.toml"), "\"\"");
  EXPECT_THAT(with(own, "year.toml"), HasSubstr("E301 site, weather: there is no file"));
  fs::create_directories(place / "jobs/weather");
  fs::copy_file(fs::path(in_source()) / "scenarios" / own, place / "jobs/weather/here.csv");
  EXPECT_EQ(with("weather/here.csv", "jobs/year.toml"), "\"\"");
  EXPECT_EQ(with("../jobs/weather/here.csv", "jobs/year.toml"), "\"\"");
  fs::create_symlink("/etc/passwd", place / "link.csv");
  for (std::string const out : {"../../../../../../etc/passwd", "/etc/passwd", "/nothing/there", "link.csv", "/proc/self/environ"}) {
    auto const said = with(out, "year.toml");
    EXPECT_THAT(said, HasSubstr("E301 site, weather: outside the opened folder")) << out;
    EXPECT_THAT(said, Not(HasSubstr("root"))) << out;
  }
  EXPECT_THAT(with("../../etc/passwd", "shipped:/cold_coast_year.toml"), HasSubstr("E301"));
  EXPECT_THAT(with(own, "../../../../etc/x.toml"), HasSubstr("outside the opened folder"));
}

TEST_F(Served, IdleConnectionsBlockNobody) {
  std::vector<std::unique_ptr<Caller>> idle;
  for (int i = 0; i < 70; ++i) idle.push_back(std::make_unique<Caller>(port));
  auto const begin = std::chrono::steady_clock::now();
  EXPECT_THAT(answer("echo"), StartsWith("HTTP/1.1 200 "));
  EXPECT_LT(std::chrono::steady_clock::now() - begin, 4s);  // one second, and a slow machine
}

TEST_F(Served, ManyAtOnceAreAllAnswered) {
  std::vector<std::thread> people;
  std::atomic<int> good = 0;
  for (int i = 0; i < 12; ++i)
    people.emplace_back([&, i] {
      for (int k = 0; k < 10; ++k) {
        auto const body = R"({"n":)" + std::to_string(100 * i + k) + "}";
        good += answer(k % 5 ? "echo" : "large", body).find(k % 5 ? body : "xxxx") != std::string::npos;
      }
    });
  for (auto& p : people) p.join();
  EXPECT_EQ(good, 120);
}

TEST_F(Served, OfTwoSaversOneWins) {
  std::ofstream{place / "house.toml"} << "format = 1\n";
  auto const stamp = folder.read("house.toml").stamp;
  std::atomic<int> won = 0, told = 0;
  std::vector<std::thread> savers;
  for (int i = 0; i < 8; ++i)
    savers.emplace_back([&, i] {
      auto const body = R"({"text": "format = 1 # )" + std::to_string(i) + R"("})";
      Caller caller{port};
      caller.send("PUT /files/house.toml HTTP/1.1\r\nHost: localhost:" + std::to_string(port) + "\r\nIf-Match: \"" + stamp +
                  "\"\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body);
      auto const said = caller.hear();
      won += said.starts_with("HTTP/1.1 200 "), told += said.starts_with("HTTP/1.1 412 ");
    });
  for (auto& s : savers) s.join();
  EXPECT_EQ(won, 1);
  EXPECT_EQ(told, 7);
}

TEST_F(Served, AStopEndsRunsToo) {
  Caller caller{port};
  caller.ask("endless");
  caller.hear("event: part");
  server->stop();
  listening.join();
  server.reset();
  EXPECT_EQ(at_work, 0);
  ServerOptions another;
  another.port = 0;
  server.emplace(folder, another);  // for the end of the test
  listening = std::thread{[this] { server->serve(); }};
}

class ServedBriefly : public Served {
 protected:
  ServedBriefly() : Served{briefly()} {}
  static ServerOptions briefly() {
    ServerOptions options;
    options.longest = 100ms;
    return options;
  }
};

TEST_F(ServedBriefly, ALongRunEndsWithWords) {
  EXPECT_THAT(answer("endless"), testing::AllOf(HasSubstr("event: failed\n"), HasSubstr("stopped: it took longer than 0.1 s")));
  EXPECT_EQ(at_work, 0);
}

TEST(RunQueue, OnlyTheLastPartIsKeptForASlowListener) {
  RunQueue queue{1, 1, 1min};
  auto const answer = queue.start([](Listener const& listener) {
    for (int i = 0; i < 100; ++i) listener.tell(i);
    return Json("done");
  });
  ASSERT_TRUE(answer);
  ASSERT_TRUE(soon([&] { return queue.start([](auto const&) { return Json(); }) != nullptr; }));
  std::this_thread::sleep_for(50ms);
  auto const part = answer->wait(10s), last = answer->wait(10s);
  ASSERT_TRUE(part && last);
  EXPECT_EQ(part->data, "99");
  EXPECT_EQ(last->event + last->data, "answer\"done\"");
  EXPECT_FALSE(answer->wait(1ms));
}

}  // namespace
}  // namespace steadyfire::web

// Graphviz keeps some of its own memory to the end.
extern "C" char const* __lsan_default_suppressions() { return "leak:libgvc.so\n"; }
// cpp-httplib's own code is not watched, so that its tables, made once under a guard, look unguarded: what it hands to memcmp and memcpy
// itself is left out. Handlers that it calls are watched.
extern "C" char const* __tsan_default_suppressions() { return "called_from_lib:libcpp-httplib.so\n"; }

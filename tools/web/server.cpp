#include "tools/web/server.hpp"

#include <arpa/inet.h>
#include <sys/socket.h>
#include <unistd.h>
#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <cerrno>
#include <condition_variable>
#include <cstring>
#include <mutex>

#include "sim/core/diagnostic.hpp"
#include "sim/core/files.hpp"
#include "tools/web/connection.hpp"
#include "tools/web/embedded.hpp"
#include "tools/web/run_queue.hpp"
#include "tools/web/scenario_head.hpp"

namespace steadyfire::web {
namespace {

using namespace std::chrono_literals;
using httplib::Request, httplib::Response;

constexpr std::size_t most_body = 6'000'000, longest_path = 1000;
constexpr int deepest_json = 50;
constexpr std::size_t threads = 64;
// Browsers open connections ahead of need: they may wait this long for their first request.
constexpr auto idle = 1s;
constexpr auto request_within = 30s;

// Styles within elements are how pieces of the drawing are coloured; all else is the page's own files.
constexpr char const* policy =
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self'; "
    "frame-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// gzip, as HTTP calls it. Level 1 takes about 1 ms for 100 kB: the default brotli of httplib takes 100.
std::string pack(std::string_view text, int level) {
  z_stream z{};
  if (deflateInit2(&z, level, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) != Z_OK) throw std::bad_alloc{};
  std::string packed(deflateBound(&z, uLong(text.size())), '\0');
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data())), z.avail_in = uInt(text.size());
  z.next_out = reinterpret_cast<Bytef*>(packed.data()), z.avail_out = uInt(packed.size());
  int const end = deflate(&z, Z_FINISH);
  packed.resize(z.total_out);
  deflateEnd(&z);
  if (end != Z_STREAM_END) throw InternalError{"an answer is not packed"};
  return packed;
}

bool accepts_gzip(Request const& request) {
  auto const accepted = request.get_header_value("Accept-Encoding");
  auto const at = accepted.find("gzip");
  return at != std::string::npos && accepted.compare(at + 4, 4, ";q=0") != 0;
}

/// By a provider of known length, as httplib packs all other content by itself, slowly.
void give(Response& response, int status, std::string const& type, std::shared_ptr<std::string const> content) {
  response.status = status;
  response.set_content_provider(content->size(), type, [content](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
    return sink.write(content->data() + offset, length);
  });
}

void give_json(Request const& request, Response& response, int status, Json const& json) {
  auto text = to_text(json);
  response.set_header("Vary", "Accept-Encoding");
  bool const packed = text.size() > 1000 && accepts_gzip(request);
  if (packed) response.set_header("Content-Encoding", "gzip");
  if (!response.has_header("Cache-Control")) response.set_header("Cache-Control", "no-store");
  give(response, status, "application/json", std::make_shared<std::string const>(packed ? pack(text, 1) : std::move(text)));
}

void give_failure(Response& response, Json const& failure) {
  Request const plain;
  give_json(plain, response, failure.at("status"), {{"error", failure.at("error")}, {"hint", failure.at("hint")}});
}

/// True where the browser has it already: then there is nothing to give.
bool is_known(Request const& request, Response& response, std::string const& stamp) {
  response.set_header("ETag", '"' + stamp + '"');
  response.set_header("Cache-Control", "no-cache");  // kept, but asked for each time whether it still holds
  if (request.get_header_value("If-None-Match").find('"' + stamp + '"') == std::string::npos) return false;
  response.status = 304;
  return true;
}

/// A file of the page, packed once.
class Asset {
 public:
  Asset(std::string type, std::string_view bytes)
      : type_{std::move(type)}, stamp_{stamp_of(bytes)}, plain_{std::make_shared<std::string const>(bytes)},
        packed_{std::make_shared<std::string const>(pack(bytes, 6))} {}
  void give(Request const& request, Response& response) const {
    response.set_header("Vary", "Accept-Encoding");
    if (is_known(request, response, stamp_)) return;
    bool const packed = accepts_gzip(request);
    if (packed) response.set_header("Content-Encoding", "gzip");
    web::give(response, 200, type_, packed ? packed_ : plain_);
  }

 private:
  std::string type_, stamp_;
  std::shared_ptr<std::string const> plain_, packed_;
};

Json to_json(FileText const& f, std::string const& file) {
  return {{"name", f.name}, {"file", file}, {"text", f.text}, {"stamp", f.stamp}};
}

Json list_of(Folder const& folder) {
  static Json const shipped = [] {
    auto all = Json::array();
    for (auto const& f : embedded::scenarios)
      if (f.name.ends_with(".toml") && f.name.find('/') == std::string_view::npos)
        if (auto const title = title_of_scenario(f.bytes))
          all.push_back({{"name", f.name}, {"title", *title}, {"shipped", true}, {"opened", false}});
    return all;
  }();
  auto all = Json::array();
  for (auto const& f : folder.list()) all.push_back({{"name", f.name}, {"title", f.title}, {"shipped", false}, {"opened", f.opened}});
  for (auto const& f : shipped) all.push_back(f);
  return all;
}

embedded::File const* shipped_file(std::string_view name) {
  auto const found = std::find_if(embedded::scenarios.begin(), embedded::scenarios.end(), [&](auto const& f) { return f.name == name; });
  return found == embedded::scenarios.end() ? nullptr : &*found;
}

FileText shipped(std::string const& name) {
  if (auto const* f = shipped_file(name); f && name.ends_with(".toml")) return {name, std::string(f->bytes), stamp_of(f->bytes)};
  throw Refused(404, "no sample scenario has this name");
}

Json parse(std::string const& body) {
  try {
    return Json::parse(body, [](int depth, Json::parse_event_t, Json&) {
      if (depth > deepest_json) throw BadRequest("the request is nested too deeply", "");
      return true;
    });
  } catch (Json::parse_error const& e) {
    throw BadRequest(fmt::format("the request is not valid JSON (byte {})", e.byte), "");
  }
}

/// The whole body, or Refused.
std::string read_body(Request const& request, httplib::ContentReader const& reader) {
  auto const is_json = [&] {
    auto type = request.get_header_value("Content-Type");
    type = type.substr(0, type.find(';'));
    while (type.ends_with(' ')) type.pop_back();
    return type == "application/json";
  };
  if (request.get_header_value_count("Content-Type") != 1 || !is_json())
    throw Refused(415, "the request is not application/json", "this keeps forms of other web pages out");
  if (!request.has_header("Content-Length") && !request.has_header("Transfer-Encoding"))
    throw Refused(411, "the request has no length");
  if (request.has_header("Content-Encoding")) throw Refused(415, "the request is compressed", "send it uncompressed");
  std::string body;
  bool too_large = request.get_header_value<std::uint64_t>("Content-Length") > most_body;  // then httplib skips it
  bool const whole = reader([&](char const* some, std::size_t size) {
    too_large = too_large || body.size() + size > most_body;
    if (!too_large) body.append(some, size);
    return !too_large;
  });
  if (too_large)
    throw Refused(413, fmt::format("the request is larger than {} MB", most_body / 1'000'000), "a scenario takes a few kilobytes");
  if (!whole) throw Refused(400, "the request is incomplete or too slow");
  return body;
}

/// An entity tag without its quotes.
std::string unquoted(std::string const& tag) {
  if (tag.size() < 2 || tag.front() != '"' || tag.back() != '"') throw Refused(400, "If-Match is not a stamp in quotes");
  return tag.substr(1, tag.size() - 2);
}

/// Short asks: some are answered at once, a short line waits, and more are refused, so that they take no more of the machine than runs.
class Gate {
 public:
  Gate(unsigned at_once, unsigned waiting) : free_{at_once}, room_{waiting} {}
  class Passage {
   public:
    /// Errors  Refused 503 where the line is full.
    explicit Passage(Gate& gate) : gate_{gate} {
      std::unique_lock lock{gate.mutex_};
      if (gate.free_ == 0 && gate.room_ == 0) throw Refused(503, "too many requests are waiting", "try again in a moment");
      if (gate.free_ == 0) {
        --gate.room_;
        gate.freed_.wait(lock, [&] { return gate.free_ > 0; });
        ++gate.room_;
      }
      --gate.free_;
    }
    ~Passage() {
      {
        std::lock_guard const lock{gate_.mutex_};
        ++gate_.free_;
      }
      gate_.freed_.notify_one();
    }
    Passage(Passage const&) = delete;

   private:
    Gate& gate_;
  };

 private:
  std::mutex mutex_;
  std::condition_variable freed_;
  unsigned free_, room_;
};

class Threads final : public httplib::ThreadPool {
 public:
  using ThreadPool::ThreadPool;
  void enqueue(std::function<void()> work) override {
    ThreadPool::enqueue([work = std::move(work)] {
      try {
        work();
      } catch (...) {}  // out of memory before anything could be answered: this connection ends, not the program
    });
  }
};

/// httplib's server with our connections.
class Listening final : public httplib::Server {
 public:
  /// Lets more than httplib's five wait to be accepted: the sixth of a burst would come again a second later.
  void widen() { ::listen(svr_sock_, 128); }

 protected:
  bool process_and_close_socket(socket_t socket) override {
    struct Closer {
      socket_t socket;
      ~Closer() { ::shutdown(socket, SHUT_RDWR), ::close(socket); }
    } const closer{socket};
    auto const connection = std::make_unique<Connection>(socket, most_body + 200'000, request_within);
    for (auto waited = 0ms; !connection->has_request(50ms); waited += 50ms)
      if (waited >= idle || svr_sock_ == INVALID_SOCKET || !connection->is_open()) return false;
    bool closed = false;
    // A part of an answer is never given: this version reads past the end of content for ranges beyond it.
    return process_request(*connection, true, closed, [](Request& request) { request.ranges.clear(); });
  }
};

/// A file that a scenario names: of the opened folder, or beside a shipped one.
std::string read_for_engine(Folder const& folder, std::filesystem::path const& file) {
  auto const path = file.lexically_normal().generic_string();
  if (path.starts_with(shipped_prefix)) {
    auto const* f = shipped_file(std::string_view(path).substr(shipped_prefix.size()));
    if (!f) throw NoFile("no such file among the samples:");
    return std::string(f->bytes);
  }
  try {
    return folder.read_beside(file);
  } catch (Refused const& e) {
    throw NoFile(e.status == 404   ? "there is no file"
                 : e.status == 403 ? "outside the opened folder:"
                 : e.status == 415 ? "not a table (.csv):"
                                   : "too large:");
  }
}

[[noreturn]] void refuse_start(char const* code, std::string const& where, std::string words, std::string expected, std::string hint) {
  Diagnostics faults;
  faults.add({code, {}, std::move(words), std::move(expected), std::move(hint)});
  throw BadInput(faults.render(where, ""));
}

}  // namespace

struct Server::Inside {
  Folder& folder;
  ServerOptions options;
  int port = 0;
  RunQueue runs;
  Gate short_asks;
  Asset html{"text/html; charset=utf-8", embedded::page_html}, script{"text/javascript; charset=utf-8", embedded::page_js},
      style{"text/css; charset=utf-8", embedded::page_css};
  std::atomic<bool> has_ended = false;
  Listening http;  // last: ends before what it uses

  Inside(Folder& folder, ServerOptions o)
      : folder{folder}, options{std::move(o)},
        runs{options.runs ? options.runs : std::thread::hardware_concurrency(), options.waiting, options.longest},
        short_asks{std::max(1u, std::thread::hardware_concurrency()), options.waiting_short} {
    http.new_task_queue = [] { return new Threads(threads); };
    http.set_payload_max_length(most_body);
    http.set_tcp_nodelay(true);  // else the second piece of an answer waits 40 ms for the first to be acknowledged
    // httplib's default lets two programs share a port.
    http.set_socket_options([](socket_t socket) {
      int const yes = 1;
      ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    http.set_default_headers({{"Content-Security-Policy", policy},
                              {"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Cross-Origin-Resource-Policy", "same-origin"},
                              {"Accept-Ranges", "none"}});
    using Answer = httplib::Server::HandlerResponse;
    http.set_pre_routing_handler([this](Request const& request, Response& response) {
      try {
        check(request);
        if (request.method == "POST" || request.method == "PUT") return Answer::Unhandled;
        if (request.method != "GET" && request.method != "HEAD") refuse_method(response, "GET, HEAD, POST, PUT");
        get(request, response);
      } catch (...) {
        give_failure(response, explain_failure());
      }
      return Answer::Handled;
    });
    auto const with_body = [](auto handle) {
      return [handle](Request const& request, Response& response, httplib::ContentReader const& reader) {
        try {
          handle(request, response, reader);
        } catch (...) {
          give_failure(response, explain_failure());
        }
      };
    };
    http.Post("[^]*", with_body([this](auto const& request, auto& response, auto const& reader) { post(request, response, reader); }));
    http.Put("[^]*", with_body([this](auto const& request, auto& response, auto const& reader) { put(request, response, reader); }));
    // What httplib refuses by itself.
    http.set_error_handler(httplib::Server::HandlerWithResponse([](Request const&, Response& response) {
      if (response.content_provider_) return Answer::Unhandled;
      auto const words = response.status == 414   ? "the address is too long"
                         : response.status == 413 ? "the request is larger than 6 MB"
                         : response.status >= 500 ? "program fault"
                                                  : "the request is not valid";
      response.body.clear();
      give_failure(response, {{"error", words}, {"hint", ""}, {"status", response.status}});
      return Answer::Handled;
    }));
    listen();
    set_file_source([&folder](std::filesystem::path const& file) { return read_for_engine(folder, file); });
  }
  ~Inside() { set_file_source({}); }

  void listen() {
    in6_addr some;
    bool const is_address = options.address == "localhost" || ::inet_pton(AF_INET, options.address.c_str(), &some) == 1 ||
                            ::inet_pton(AF_INET6, options.address.c_str(), &some) == 1;
    if (!is_address)
      refuse_start("E121", "--address " + options.address, "not an IP address",
                   "127.0.0.1 for this computer only, or an address of this computer",
                   "0.0.0.0 means all its addresses: anyone who can reach it can then read and change the folder");
    int const wanted = options.port.value_or(usual_port);
    errno = 0;
    port = wanted == 0 ? http.bind_to_any_port(options.address) : http.bind_to_port(options.address, wanted) ? wanted : -1;
    int const why = errno;
    if (port < 0 && !options.port && why != EADDRNOTAVAIL) port = http.bind_to_any_port(options.address);
    if (port > 0) return http.widen();
    if (why == EADDRINUSE || why == EACCES)
      refuse_start("E122", fmt::format("--port {}", wanted),
                   why == EACCES ? "this port needs administrator rights" : "another program uses this port",
                   "a free port from 1024 to 65535", "leave out --port to use a free one");
    refuse_start("E121", "--address " + options.address, fmt::format("cannot listen on this address: {}", std::strerror(why)),
                 "127.0.0.1 for this computer only, or an address of this computer", "");
  }

  std::string host() const {
    auto const& a = options.address;
    return fmt::format("{}:{}", a.find(':') == std::string::npos ? a : '[' + a + ']', port);
  }

  /// A page of another machine, or of a name that was bent to this one, gets nothing.
  void check(Request const& request) const {
    if (request.path.size() > longest_path) throw Refused(414, "the address is too long");
    if (std::any_of(request.path.begin(), request.path.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
      throw Refused(400, "the address has a control character");
    auto const& here = request.local_addr;
    auto const told = request.get_header_value("Host");
    auto const is_ours = [&](std::string const& name) {
      auto const host = name.find(':') == std::string::npos ? name : '[' + name + ']';
      return told == fmt::format("{}:{}", host, port) || (port == 80 && told == host);
    };
    if (request.get_header_value_count("Host") != 1 ||
        !(is_ours("localhost") || is_ours("127.0.0.1") || is_ours("::1") || is_ours(options.address) || is_ours(here)))
      throw Refused(403, "the request names another host", "open the address that steadyfire printed");
    if (request.has_header("Origin") &&
        (request.get_header_value_count("Origin") != 1 || request.get_header_value("Origin") != "http://" + told))
      throw Refused(403, "the request comes from another web page", "open the address that steadyfire printed");
  }

  [[noreturn]] static void refuse_method(Response& response, char const* allowed) {
    response.set_header("Allow", allowed);
    throw Refused(405, "this method is not allowed here", fmt::format("one of: {}", allowed));
  }
  [[noreturn]] static void refuse_path(std::string const& path) { throw Refused(404, fmt::format("nothing at '{}'", path)); }

  void get(Request const& request, Response& response) {
    auto const& path = request.path;
    if (path == "/") return html.give(request, response);
    if (path == "/page.js") return script.give(request, response);
    if (path == "/page.css") return style.give(request, response);
    if (path == "/files") return give_json(request, response, 200, list_of(folder));
    bool const from_folder = path.starts_with("/files/");
    if (from_folder || path.starts_with("/shipped/")) {
      auto const name = path.substr(from_folder ? 7 : 9);
      auto const file = from_folder ? folder.read(name) : shipped(name);
      if (!is_known(request, response, file.stamp))
        give_json(request, response, 200, to_json(file, (from_folder ? "" : std::string(shipped_prefix)) + name));
      return;
    }
    if (path.starts_with("/ask/")) refuse_method(response, "POST");
    refuse_path(path);
  }

  void put(Request const& request, Response& response, httplib::ContentReader const& reader) {
    if (!request.path.starts_with("/files/")) {
      if (request.path.starts_with("/ask/")) refuse_method(response, "POST");
      if (request.path.starts_with("/shipped/")) refuse_method(response, "GET, HEAD");
      refuse_path(request.path);
    }
    auto const asked = parse(read_body(request, reader));
    if (!asked.is_object() || !asked.contains("text") || !asked["text"].is_string())
      throw BadRequest("the request has no text to write", R"({"text": "…"})");
    std::optional<std::string> stamp;
    if (request.has_header("If-Match"))
      stamp = unquoted(request.get_header_value("If-Match"));
    else if (request.get_header_value("If-None-Match") != "*")
      throw Refused(428, "the request does not say which version of the file it changes",
                    "If-Match: \"stamp\", or If-None-Match: * for a new file");
    auto const name = request.path.substr(7);
    auto const text = asked["text"].get<std::string>();
    auto const also = stamp || folder.has(name) ? Json::array() : add_shipped(name, text);
    auto const saved = folder.save(name, text, stamp);
    if (saved.changed) return give_json(request, response, 412, to_json(*saved.changed, name));
    response.set_header("ETag", '"' + saved.stamp + '"');
    give_json(request, response, 200, {{"stamp", saved.stamp}, {"also", also}});
  }

  /// A shipped scenario under a new name names files that came with it: they are put beside it, where there are none. Their names.
  Json add_shipped(std::string const& name, std::string const& text) {
    auto added = Json::array();
    for (auto const& file : files_named(text))
      if (auto const* f = shipped_file(file))
        if (auto const path = std::filesystem::path(name).parent_path() / file; folder.add(path, f->bytes))
          added.push_back(path.generic_string());
    return added;
  }

  void post(Request const& request, Response& response, httplib::ContentReader const& reader) {
    if (!request.path.starts_with("/ask/")) {
      if (request.path.starts_with("/files")) refuse_method(response, "GET, HEAD, PUT");
      refuse_path(request.path);
    }
    auto const name = request.path.substr(5);
    auto const asked = parse(read_body(request, reader));
    if (!asked.is_object()) throw BadRequest("the request is not an object", "");
    auto const ask = std::find_if(options.asks.begin(), options.asks.end(), [&](Ask const& a) { return a.name == name; });
    if (ask == options.asks.end())
      throw Refused(404, fmt::format("unknown request '{}'", name), "reload the page; it is from another version of steadyfire");
    if (!ask->is_long) {
      Gate::Passage const passage{short_asks};
      return give_json(request, response, 200, ask->answer(asked, {}));
    }
    auto const run = runs.start([asked, answer = ask->answer](Listener const& listener) { return answer(asked, listener); });
    if (!run) {
      response.set_header("Retry-After", "2");
      throw Refused(503, fmt::format("{} runs are waiting", options.waiting), "wait until one has finished");
    }
    stream(response, run);
  }

  static void stream(Response& response, std::shared_ptr<LongAnswer> const& run) {
    response.status = 200;
    response.set_header("Cache-Control", "no-store");
    auto const hear = [run, silent = 0ms](std::size_t, httplib::DataSink& sink) mutable {
      try {
        constexpr auto patience = 50ms;
        auto const news = run->wait(patience);
        silent = news ? 0ms : silent + patience;
        std::string text;
        if (news)
          text = "event: " + news->event + "\ndata: " + news->data + "\n\n";
        else if (silent >= 1s)  // a remark, which browsers skip: writing alone shows some connections to be gone
          text = ": waiting\n\n", silent = 0ms;
        if (!sink.is_writable() || (!text.empty() && !sink.write(text.data(), text.size()))) return false;
        if (news && news->is_last()) sink.done();
        return true;
      } catch (...) {
        return false;  // out of memory: this connection ends
      }
    };
    response.set_chunked_content_provider("text/event-stream", hear, [run](bool) { run->stop(); });
  }
};

Server::Server(Folder& folder, ServerOptions options) : inside_{std::make_unique<Inside>(folder, std::move(options))} {}
Server::~Server() = default;

std::string Server::address() const { return "http://" + inside_->host() + '/'; }

bool Server::is_loopback() const {
  auto const& a = inside_->options.address;
  return a == "localhost" || a == "::1" || a.starts_with("127.");
}

void Server::serve() {
  inside_->http.listen_after_bind();
  inside_->has_ended = true;
}

void Server::stop() {
  while (!inside_->http.is_running() && !inside_->has_ended) std::this_thread::sleep_for(1ms);
  inside_->http.stop();
}

}  // namespace steadyfire::web

#pragma once
/// The page, the files of the opened folder and the engine's asks, over HTTP on this machine.

#include <chrono>
#include <memory>
#include <optional>
#include <string>

#include "tools/web/engine.hpp"
#include "tools/web/folder.hpp"

namespace steadyfire::web {

/// What stands before the name of a shipped scenario, where an ask tells its file.
constexpr std::string_view shipped_prefix = "shipped:/";

struct ServerOptions {
  std::string address = "127.0.0.1";  ///< an IP address, or localhost
  std::optional<int> port;            ///< 0: any free one; absent: `usual_port`, or a free one where that is taken
  unsigned runs = 0;                  ///< long asks at once; 0: one for each processor
  unsigned waiting = 8;               ///< long asks in the line behind them
  unsigned waiting_short = 32;        ///< the same of short asks, of which each processor answers one
  std::chrono::milliseconds longest = std::chrono::minutes(15);  ///< of one long ask
  std::span<Ask const> asks = web::asks();
};

/// Shape
///   GET  /, /page.js, /page.css
///   POST /ask/NAME                  JSON to JSON; a long ask answers text/event-stream: `part` events, then `answer` or `failed`,
///                                   and is stopped when the connection closes
///   GET  /files, /files/NAME, /shipped/NAME
///   PUT  /files/NAME {"text": …}    with If-Match: "stamp", or If-None-Match: * for a new file; 412 tells the file as it stands
/// Every other answer is {"error": words, "hint": words}.
///
/// Valid   one request a connection, so what is left of a refused one is never taken for another (a form of a strange page could
///         hide one so), and no idle connection keeps a thread. Asks and PUT want the Host that was bound, the same Origin if one
///         is told, and application/json. Requests of at most 6 MB, within 30 s.
class Server {
 public:
  static constexpr int usual_port = 8417;

  /// Begins to listen; from then on files that scenarios name are read from the folder alone (sim/core/files.hpp).
  /// Errors: BadInput E121 (no such address), E122 (the port is taken or not allowed).
  Server(Folder&, ServerOptions);
  ~Server();

  std::string address() const;  ///< "http://127.0.0.1:8417/"
  bool is_loopback() const;
  void serve();  ///< until `stop`
  void stop();   ///< from any thread, once `serve` is called or about to be
 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace steadyfire::web

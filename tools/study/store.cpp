#include "tools/study/store.hpp"

#include <fcntl.h>
#include <fmt/chrono.h>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <sqlite3.h>
#include <SQLiteCpp/SQLiteCpp.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <nlohmann/json.hpp>
#include <system_error>

#include "tools/study/study_columns.hpp"

namespace steadyfire {
namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

constexpr int format_of_today = 1;
constexpr int application_mark = 0x53746446;  // "StdF" in the file's header: it is ours
constexpr std::chrono::milliseconds between_commits{500};
constexpr double worth_a_commit = 0.05;  // [s] that a point took: a commit is then less than a thousandth of it

[[noreturn]] void refuse(fs::path const& file, char const* code, std::string const& words, std::string const& expected,
                         std::string const& hint) {
  throw BadInput(fmt::format("{}: error[{}]: {}\n  expected  {}\n  hint      {}\n", file.string(), code, words, expected, hint));
}
char const* const other_store = "use --store OTHER.store for another file, or --afresh to start over and keep this one under another name";

/// Faults of the disk are the machine's, all others ours.
template <class Work>
auto guarded(fs::path const& file, SQLite::Database const* db, Work const& work) {
  auto const disk = [&](int otherwise) {
    int const told = db ? sqlite3_system_errno(db->getHandle()) : 0;
    return std::system_error(told != 0 ? told : otherwise, std::generic_category(), file.string());
  };
  try {
    return work();
  } catch (SQLite::Exception const& e) {
    switch (e.getErrorCode() & 0xff) {
      case SQLITE_FULL:
        throw std::system_error(ENOSPC, std::generic_category(), file.string());
      case SQLITE_IOERR:
        throw disk(EIO);
      case SQLITE_READONLY:
      case SQLITE_PERM:
      case SQLITE_CANTOPEN:
        throw disk(EACCES);
      case SQLITE_BUSY:
        refuse(file, "E365", "another program has the store open", "a store that no other program uses", "close the other program");
      case SQLITE_NOTADB:
      case SQLITE_CORRUPT:
        refuse(file, "E364", fmt::format("not a store of a study: {}", e.what()), "a file written by `sweep`", other_store);
      default:
        throw InternalError(fmt::format("the store {}: {}", file.string(), e.what()));
    }
  }
}

std::string quoted(std::string name) {
  for (std::size_t at = 0; (at = name.find('"', at)) != name.npos; at += 2) name.insert(at, 1, '"');
  return '"' + name + '"';
}
std::string numbered(char const* letter, std::size_t count, char const* end = "") {
  std::vector<std::string> names;
  for (std::size_t i = 1; i <= count; ++i) names.push_back(fmt::format("{}{}{}", letter, i, end));
  return fmt::format("{}", fmt::join(names, ", "));
}

/// A name in the same folder that nothing has yet.
fs::path free_name(fs::path const& file) {
  for (int i = 1;; ++i)
    if (auto const name = fs::path{fmt::format("{}.before-{}", file.string(), i)}; !fs::exists(name)) return name;
}

}  // namespace

/// One process a store: the kernel lets go of it whatever ends the process.
class Store::Lock {
public:
  explicit Lock(fs::path const& file) : number_{::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)} {
    if (number_ < 0) throw std::system_error(errno, std::generic_category(), file.string());
    if (::flock(number_, LOCK_EX | LOCK_NB) == 0) return;
    ::close(number_);
    refuse(file, "E365", "another sweep is writing to this store", "one sweep at a time for each store",
           "wait for it, or use --store OTHER.store");
  }
  ~Lock() { ::close(number_); }
  Lock(Lock const&) = delete;

private:
  int number_;
};

class Store::File {
public:
  fs::path path;
  SQLite::Database db;
  std::optional<SQLite::Statement> insert{};
  bool is_begun = false;
  Clock::time_point committed = Clock::now();

  explicit File(fs::path const& p) : path{p}, db{p.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, 2000} {
    db.exec("PRAGMA journal_mode = WAL");
    db.exec("PRAGMA synchronous = NORMAL");
  }

  void begin() {
    if (!is_begun) db.exec("BEGIN IMMEDIATE");
    is_begun = true;
  }
  void commit() {
    if (is_begun) db.exec("COMMIT");
    is_begun = false, committed = Clock::now();
  }

  void create(Study const& s, Points const& points) {
    begin();
    db.exec(fmt::format("PRAGMA application_id = {}", application_mark));
    db.exec(
        "CREATE TABLE study (title TEXT, study_file TEXT, study_text TEXT, scenario_file TEXT, scenario_text TEXT, points INTEGER, "
        "fingerprint TEXT, program_version TEXT, store_format INTEGER)");
    SQLite::Statement about{db, "INSERT INTO study VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"};
    about.bind(1, s.title), about.bind(2, s.file), about.bind(3, s.text), about.bind(4, s.scenario), about.bind(5, s.base->text());
    about.bind(6, int64_t(points.size())), about.bind(7, fingerprint_of(s, points)), about.bind(8, STEADYFIRE_VERSION);
    about.bind(9, format_of_today);
    about.exec();
    db.exec(
        "CREATE TABLE columns (name TEXT PRIMARY KEY, role TEXT, key TEXT, words TEXT, SI_unit TEXT, trade_unit TEXT, "
        "SI_per_trade_unit REAL, SI_at_trade_zero REAL, choices TEXT)");
    SQLite::Statement column{db, "INSERT INTO columns VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"};
    std::vector<std::string> shown;
    auto const add = [&](std::string const& name, char const* role, StudyColumn const& c) {
      auto const& unit = c.measure.us;
      column.reset(), column.clearBindings();
      column.bind(1, name), column.bind(2, role), column.bind(3, c.key), column.bind(4, c.name);
      column.bind(5, c.is_factor ? "of own value" : si_unit(c.measure)), column.bind(6, std::string(unit.symbol));
      column.bind(7, unit.scale), column.bind(8, unit.offset);
      if (!c.words.empty()) column.bind(9, nlohmann::json(c.words).dump());
      column.exec();
      auto const value = c.words.empty() ? fmt::format("({} - {:.17g}) / {:.17g}", name, unit.offset, unit.scale)
                                         : fmt::format(
                                               "(SELECT json_extract(choices, '$[' || CAST({0} AS INTEGER) || ']') "
                                               "FROM columns WHERE name = '{0}')",
                                               name);
      shown.push_back(value + " AS " + quoted(heading_of(c, UnitSystem::us)));
    };
    auto const columns = columns_of(s);
    for (std::size_t i = 0; i < columns.inputs.size(); ++i) add(fmt::format("x{}", i + 1), "turned", columns.inputs[i]);
    for (std::size_t i = 0; i < columns.figures.size(); ++i) add(fmt::format("y{}", i + 1), "figure", columns.figures[i]);
    db.exec(
        fmt::format("CREATE TABLE points (number INTEGER PRIMARY KEY, {}, {}, fault TEXT NOT NULL, seconds REAL, rank INTEGER, "
                    "program_version TEXT, finished TEXT)",
                    numbered("x", columns.inputs.size(), " REAL"), numbered("y", columns.figures.size(), " REAL")));
    db.exec(fmt::format("CREATE VIEW readable AS SELECT number, {}, fault, seconds, finished FROM points", fmt::join(shown, ", ")));
    commit();
  }

  void check(Study const& s, Points const& points) {
    if (db.execAndGet("PRAGMA application_id").getInt() != application_mark)
      refuse(path, "E364", "not a store of a study", "a file written by `sweep`", other_store);
    SQLite::Statement about{db, "SELECT store_format, program_version, fingerprint, title FROM study"};
    if (!about.executeStep()) refuse(path, "E364", "the store has no study in it", "a file written by `sweep`", other_store);
    if (int const format = about.getColumn(0).getInt(); format != format_of_today)
      refuse(path, "E364", fmt::format("the store has format {}", format), fmt::format("format {}", format_of_today), other_store);
    if (std::string const version = about.getColumn(1).getString(); version != STEADYFIRE_VERSION)
      refuse(path, "E364",
             fmt::format("the points in the store are from version {} of steadyfire, this is {}", version, STEADYFIRE_VERSION),
             "points of one version; others cannot be compared", other_store);
    if (about.getColumn(2).getString() != fingerprint_of(s, points))
      refuse(path, "E363",
             fmt::format("the store has points of another study{}: scenario, parameters, points, figures or precision differ",
                         about.getColumn(3).getString() == s.title ? "" : ", \"" + about.getColumn(3).getString() + "\""),
             "the store of this study", other_store);
  }
};

Store::Store(fs::path path, Study const& study, Points const& points, bool afresh) : size_{points.size()}, figures_{study.figures.size()} {
  lock_ = std::make_unique<Lock>(path);
  if (afresh && fs::file_size(path) > 0) {
    auto const aside = free_name(path);
    for (auto const* end : {"", "-wal", "-shm"})
      if (fs::exists(path.string() + end)) fs::rename(path.string() + end, aside.string() + end);
    put_aside_ = aside.string();
    lock_ = std::make_unique<Lock>(path);
  }
  guarded(path, file_ ? &file_->db : nullptr, [&] {
    file_ = std::make_unique<File>(path);
    bool const is_new = file_->db.execAndGet("SELECT count(*) FROM sqlite_master").getInt64() == 0;
    if (is_new) file_->create(study, points);
    else file_->check(study, points);
    auto const columns = study.parameters.size() + figures_ + 6;
    std::vector<std::string> marks(columns, "?");
    file_->insert.emplace(file_->db, fmt::format("INSERT INTO points VALUES ({})", fmt::join(marks, ", ")));
  });
}

Store::~Store() = default;

std::vector<std::size_t> Store::missing() const {
  std::vector<bool> is_there(size_);
  guarded(file_->path, &file_->db, [&] {
    SQLite::Statement numbers{file_->db, "SELECT number FROM points"};
    while (numbers.executeStep())
      if (auto const n = std::size_t(numbers.getColumn(0).getInt64()); n < size_) is_there[n] = true;
  });
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < size_; ++i)
    if (!is_there[i]) all.push_back(i);
  return all;
}

std::size_t Store::count() const {
  return guarded(file_->path, &file_->db, [&] { return std::size_t(file_->db.execAndGet("SELECT count(*) FROM points").getInt64()); });
}

void Store::keep(Worked const& one, std::vector<double> const& inputs) {
  guarded(file_->path, &file_->db, [&] {
    file_->begin();
    auto& row = *file_->insert;
    row.reset();
    int at = 0;
    row.bind(++at, int64_t(one.number));
    for (double const x : inputs) row.bind(++at, x);
    for (std::size_t i = 0; i < figures_; ++i) row.bind(++at, one.outcome.fault.empty() ? one.outcome.figures.at(i) : std::nan(""));
    row.bind(++at, one.outcome.fault), row.bind(++at, one.seconds), row.bind(++at, one.rank), row.bind(++at, STEADYFIRE_VERSION);
    row.bind(++at, fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr))));
    row.exec();
    if (one.seconds >= worth_a_commit || Clock::now() - file_->committed >= between_commits) file_->commit();
  });
}

void Store::commit() {
  guarded(file_->path, &file_->db, [&] { file_->commit(); });
}

void Store::each(std::function<void(KeptPoint&&)> const& take) const {
  guarded(file_->path, &file_->db, [&] {
    SQLite::Statement rows{file_->db, fmt::format("SELECT number, fault, {} FROM points ORDER BY number", numbered("y", figures_))};
    while (rows.executeStep()) {
      KeptPoint p{std::size_t(rows.getColumn(0).getInt64()), {}, rows.getColumn(1).getString()};
      if (p.fault.empty())
        for (std::size_t i = 0; i < figures_; ++i) {
          auto const y = rows.getColumn(int(i + 2));
          p.figures.push_back(y.isNull() ? std::nan("") : y.getDouble());
        }
      take(std::move(p));
    }
  });
}

}  // namespace steadyfire

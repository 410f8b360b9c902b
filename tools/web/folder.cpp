#include "tools/web/folder.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>

#include "sim/core/diagnostic.hpp"
#include "sim/core/text.hpp"
#include "tools/web/scenario_head.hpp"

namespace steadyfire::web {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t most_bytes = 5'000'000, most_listed = 1000, most_visited = 20'000, longest_name = 500;
constexpr int deepest = 5;

class Descriptor {
 public:
  explicit Descriptor(int number) : number{number} {}
  ~Descriptor() { if (number >= 0) ::close(number); }
  Descriptor(Descriptor const&) = delete;
  int const number;
};

[[noreturn]] void refuse_disk(std::string const& name) {
  throw Refused(507, fmt::format("'{}' cannot be written: {}", name, std::strerror(errno)),
                "the file is unchanged; save under another name");
}

bool lies_in(fs::path const& root, fs::path const& path) {
  return std::mismatch(root.begin(), root.end(), path.begin(), path.end()).first == root.end();
}

void check_name(std::string const& name) {
  auto const refuse = [&](std::string const& why) {
    throw Refused(400, "not a valid file name: " + why, "for example 'house.toml'");
  };
  if (name.size() > longest_name) refuse("it is too long");
  if (std::any_of(name.begin(), name.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f || c == '\\'; }))
    refuse("it has a character that is not allowed in a name");
  if (!name.ends_with(".toml")) refuse("it does not end in .toml");
  for (std::size_t begin = 0; begin <= name.size();) {
    auto const end = std::min(name.find('/', begin), name.size());
    if (end == begin) refuse("it has an empty part");
    if (name[begin] == '.') refuse("a part of it starts with a dot");
    begin = end + 1;
  }
}

/// A plain file's bytes. Never waits, as opening a pipe would.
std::string read_plain(fs::path const& path, std::string const& name, std::size_t most) {
  Descriptor const file{::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK)};
  struct stat about{};
  if (file.number < 0 || ::fstat(file.number, &about) != 0)
    throw Refused(404, fmt::format("'{}' cannot be read: {}", name, std::strerror(errno)));
  if (!S_ISREG(about.st_mode)) throw Refused(404, fmt::format("'{}' is not a file", name));
  std::string text;
  char some[1 << 16];
  for (;;) {
    auto const count = ::read(file.number, some, sizeof some);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) throw Refused(404, fmt::format("'{}' cannot be read: {}", name, std::strerror(errno)));
    if (count == 0) return text;
    text.append(some, std::size_t(count));
    if (text.size() > most) throw Refused(413, fmt::format("'{}' is larger than {} MB", name, most / 1'000'000));
  }
}

void write_all(int file, std::string_view text, std::string const& name) {
  while (!text.empty()) {
    auto const count = ::write(file, text.data(), text.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) refuse_disk(name);
    text.remove_prefix(std::size_t(count));
  }
}

/// To a file beside it first. `before` is the file that it replaces; without one, false where there is one by now.
bool write_whole(fs::path const& path, std::string_view text, std::string const& name, struct stat const* before) {
  auto const beside = path.parent_path() / fmt::format(".{}.{}.part", path.filename().string(), ::getpid());
  struct Remover {
    fs::path const& file;
    ~Remover() { ::unlink(file.c_str()); }
  };
  ::unlink(beside.c_str());
  Remover const remover{beside};
  {
    Descriptor const file{::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0666)};
    if (file.number < 0) refuse_disk(name);
    write_all(file.number, text, name);
    if (before && ::fchown(file.number, before->st_uid, before->st_gid) != 0) errno = 0;  // another's file becomes the writer's
    if (before && ::fchmod(file.number, before->st_mode & 07777) != 0) refuse_disk(name);
    if (::fsync(file.number) != 0) refuse_disk(name);
  }
  if (!before) {
    if (::renameat2(AT_FDCWD, beside.c_str(), AT_FDCWD, path.c_str(), RENAME_NOREPLACE) == 0) return true;
    if (errno == EEXIST) return false;
    if (errno != EINVAL && errno != ENOSYS) refuse_disk(name);  // else a file system without that: the look before has to do
  }
  if (::rename(beside.c_str(), path.c_str()) != 0) refuse_disk(name);
  return true;
}

}  // namespace

std::string stamp_of(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325;  // FNV-1a
  for (unsigned char c : text) hash = (hash ^ c) * 0x100000001b3;
  return fmt::format("{:016x}-{:x}", hash, text.size());
}

Folder::Folder(fs::path const& what) {
  auto const refuse = [&](std::string words, std::string hint) {
    Diagnostics faults;
    faults.add({"E101", {}, std::move(words), "a folder, or the name of a scenario file", std::move(hint)});
    throw BadInput(faults.render(what.string(), ""));
  };
  std::error_code error;
  auto const whole = fs::canonical(what, error);
  if (error) refuse("no such file or folder", "'steadyfire new house.toml' writes a sample house");
  bool const is_folder = fs::is_directory(whole, error);
  if (!is_folder && !fs::is_regular_file(whole, error)) refuse("not a file or a folder", "");
  if (!is_folder && (what.extension() != ".toml" || whole.extension() != ".toml"))
    refuse("not a scenario file", "scenario files end in .toml");
  // The folder in which the file was named, even where it is a link to one elsewhere in it.
  root_ = is_folder ? whole : fs::canonical(fs::absolute(what).parent_path());
  if (!is_folder) {
    opened_ = what.filename().string();
    if (!lies_in(root_, whole)) refuse("a link to a file in another folder", "open the file itself");
  }
  if (::access(root_.c_str(), R_OK | X_OK) != 0) refuse("no permission to read this folder", "");
}

fs::path Folder::inside(fs::path const& relative, bool may_lack) const {
  auto const outside = [] {
    return Refused(403, "this file is outside the opened folder",
                   "open its folder: steadyfire serve FOLDER");
  };
  auto const path = (root_ / relative).lexically_normal();
  if (!lies_in(root_, path)) throw outside();
  std::error_code error;
  auto const whole = fs::canonical(path, error);
  if (!error) {
    if (!lies_in(root_, whole)) throw outside();
    return whole;
  }
  // Not there: its folder must be, and it must be no link to nowhere.
  auto const above = fs::canonical(path.parent_path(), error);
  if (!error && !lies_in(root_, above)) throw outside();
  if (fs::is_symlink(fs::symlink_status(path, error))) throw outside();
  if (may_lack && fs::is_directory(above, error)) return above / path.filename();
  throw Refused(404, may_lack ? "no such folder" : "no such file");
}

std::vector<FileEntry> Folder::list() const {
  std::vector<FileEntry> found;
  std::error_code error;
  std::size_t visited = 0;
  fs::recursive_directory_iterator walk{root_, fs::directory_options::skip_permission_denied, error};
  for (; !error && walk != fs::recursive_directory_iterator{} && ++visited < most_visited && found.size() < most_listed;
       walk.increment(error)) {
    auto const file = walk->path().filename().string();
    bool const is_folder = walk->is_directory(error);
    if (is_folder && (!opened_.empty() || walk.depth() + 1 >= deepest || file.starts_with('.') || file == "node_modules"))
      walk.disable_recursion_pending();
    if (is_folder || !file.ends_with(".toml")) continue;
    try {
      auto const name = walk->path().lexically_relative(root_).generic_string();
      auto const text = read(name).text;
      if (auto const title = title_of_scenario(text); title || name == opened_)
        found.push_back({name, title.value_or(""), name == opened_});
    } catch (Refused const&) {}  // what cannot be read is not offered
  }
  std::sort(found.begin(), found.end(),
            [](auto const& a, auto const& b) { return std::tie(b.opened, a.name) < std::tie(a.opened, b.name); });
  return found;
}

bool Folder::has(std::string const& name) const {
  check_name(name);
  return fs::exists(inside(name, true));
}

FileText Folder::read(std::string const& name) const {
  check_name(name);
  auto text = read_plain(inside(name, false), name, most_bytes);
  if (!is_utf8(text)) throw Refused(415, fmt::format("'{}' is not UTF-8 text", name), "save it as UTF-8 in a text editor");
  auto stamp = stamp_of(text);
  return {name, std::move(text), std::move(stamp)};
}

Folder::Saved Folder::save(std::string const& name, std::string const& text, std::optional<std::string> const& stamp) {
  check_name(name);
  if (!opened_.empty() && name.find('/') != std::string::npos)
    throw Refused(403, "only files next to the opened file can be written", "open the folder: steadyfire serve FOLDER");
  if (text.size() > most_bytes) throw Refused(413, "the text is larger than 5 MB");
  std::lock_guard const one_at_a_time{saving_};
  auto const path = inside(name, true);

  struct stat before{};
  bool const is_there = ::stat(path.c_str(), &before) == 0;
  if (is_there) {
    auto now = read(name);
    if (!stamp || now.stamp != *stamp) return {std::move(now), ""};
  } else if (stamp) {
    return {FileText{name, "", ""}, ""};  // it was taken away
  }

  if (is_there) {
    write_whole(path, text, name, &before);
  } else if (!write_whole(path, text, name, nullptr)) {
    return {read(name), ""};
  }
  return {std::nullopt, stamp_of(text)};
}

bool Folder::add(fs::path const& file, std::string_view content) {
  auto const path = (root_ / file).lexically_normal();
  auto above = path.parent_path();
  std::error_code error;
  while (!fs::exists(fs::symlink_status(above, error)) && above != above.parent_path()) above = above.parent_path();
  (void)inside(above, false);  // so no link on the way leads out
  if (!lies_in(root_, path)) throw Refused(403, "this file is outside the opened folder");
  std::lock_guard const one_at_a_time{saving_};
  fs::create_directories(path.parent_path(), error);
  return !fs::exists(fs::symlink_status(path, error)) && write_whole(path, content, file.string(), nullptr);
}

std::string Folder::read_beside(fs::path const& file) const {
  auto const path = inside(file, false), relative = path.lexically_relative(root_);
  auto ending = path.extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) { return char(std::tolower(c)); });
  bool const is_hidden = std::any_of(relative.begin(), relative.end(), [](auto const& part) { return part.string().starts_with('.'); });
  if (ending != ".csv" || is_hidden) throw Refused(415, fmt::format("'{}' is not a table", file.string()), "tables end in .csv");
  return read_plain(path, file.string(), 50'000'000);
}

}  // namespace steadyfire::web

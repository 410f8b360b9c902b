#include "sim/core/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <mutex>
#include <set>
#include <sstream>
#include <system_error>

namespace steadyfire {
namespace fs = std::filesystem;
namespace {

std::function<std::string(fs::path const&)> source;

using Identity = std::pair<dev_t, ino_t>;
std::set<Identity> files_read;
std::mutex reading;

std::string read_from_disk(fs::path const& file) {
  std::ifstream in{file, std::ios::binary};
  std::ostringstream text;
  if (in) text << in.rdbuf();
  if (!in || (text.fail() && !fs::is_regular_file(file))) throw NoFile{"there is no file to be read here"};
  note_read(file);
  return text.str();
}

[[noreturn]] void refuse_disk(int why, std::string const& name) { throw std::system_error(why, std::generic_category(), name); }

}  // namespace

std::string read_file(fs::path const& file) { return source ? source(file) : read_from_disk(file); }

std::string refusal_of(fs::path const& file) {
  if (!source) return fs::is_regular_file(file) ? "" : "there is no file";
  try {
    (void)source(file);
    return "";
  } catch (NoFile const& e) {
    return e.what();
  }
}

void set_file_source(std::function<std::string(fs::path const&)> other) { source = std::move(other); }

void note_read(fs::path const& file) {
  struct stat about{};
  std::lock_guard const one_at_a_time{reading};
  if (::stat(file.c_str(), &about) == 0 && S_ISREG(about.st_mode)) files_read.emplace(about.st_dev, about.st_ino);
}

bool was_read(fs::path const& file) {
  struct stat about{};
  std::lock_guard const one_at_a_time{reading};
  return ::stat(file.c_str(), &about) == 0 && files_read.contains({about.st_dev, about.st_ino});
}

fs::path behind_links(fs::path const& name) {
  constexpr int longest = 40;  // as the kernel's own
  std::error_code none;
  auto path = name;
  for (int i = 0; i < longest && fs::is_symlink(fs::symlink_status(path, none)); ++i)
    path = path.parent_path() / fs::read_symlink(path, none);
  auto const folder = fs::weakly_canonical(fs::absolute(path).parent_path(), none);
  return folder / path.filename();
}

OutputFile::OutputFile(fs::path const& name, Over over) : name_{name.string()}, target_{behind_links(name)}, over_{over} {
  struct stat before{};
  bool const is_there = ::stat(name.c_str(), &before) == 0;
  if (is_there && !S_ISREG(before.st_mode)) {
    out_.open(name, std::ios::binary);
    if (!out_) refuse_disk(errno, name_);
    return;
  }
  if (is_there && ::access(target_.c_str(), W_OK) != 0) refuse_disk(errno, name_);
  static std::atomic<int> number = 0;
  int file = -1;
  do {
    beside_ = target_.parent_path() / (".steadyfire." + std::to_string(::getpid()) + "." + std::to_string(++number) + ".part");
    file = ::open(beside_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  } while (file < 0 && errno == EEXIST);
  if (file < 0) refuse_disk(errno, name_);
  if (is_there && ::fchown(file, before.st_uid, before.st_gid) != 0) errno = 0;  // another's file becomes the writer's
  if (is_there && ::fchmod(file, before.st_mode & 07777) != 0) errno = 0;  // a disk without permissions
  ::close(file);
  out_.open(beside_, std::ios::binary);
  if (out_) return;
  int const why = errno;
  ::unlink(beside_.c_str());
  refuse_disk(why, name_);
}

OutputFile::~OutputFile() {
  if (!beside_.empty()) ::unlink(beside_.c_str());
}

void OutputFile::commit() {
  flush_whole(out_, name_);
  if (beside_.empty()) return;
  out_.close();
  // What the disk lost is told now, not after the old file is gone.
  int const file = ::open(beside_.c_str(), O_WRONLY | O_CLOEXEC);
  bool const is_kept = file >= 0 && ::fsync(file) == 0;
  int const why = errno;
  if (file >= 0) ::close(file);
  if (!is_kept) refuse_disk(why, name_);
  // A link, unlike a rename, takes no name that is taken; some disks have none, and there the look before has to do.
  if (over_ == Over::nothing) {
    if (::link(beside_.c_str(), target_.c_str()) == 0) return;
    if (errno == EEXIST || fs::exists(target_)) refuse_disk(EEXIST, name_);
  }
  if (::rename(beside_.c_str(), target_.c_str()) != 0) refuse_disk(errno, name_);
  beside_.clear();
}

void flush_whole(std::ostream& out, std::string const& name) {
  bool const whole = bool(out);
  if (!whole) out.clear(), errno = EIO, out << '\n';  // tried once more, to learn why
  if (!(out << std::flush) || !whole) refuse_disk(errno, name);
}

}  // namespace steadyfire

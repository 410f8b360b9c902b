#pragma once
/// Where a study keeps its points: one SQLite file, so that nothing is lost whatever ends the program.

#include <filesystem>
#include <memory>
#include <vector>

#include "tools/study/study_file.hpp"
#include "tools/study/workers.hpp"

namespace steadyfire {

/// A point as it is kept.
struct KeptPoint {
  std::size_t number;
  std::vector<double> figures;  ///< SI; empty with a fault
  std::string fault;
};

/// What makes a study's points what they are: another fingerprint, other points.
///
/// Shape   over the scenario's text and the files that it names, how points are drawn, each parameter with its numbers, three points as
///         they are drawn (another version of a library may draw others), the figures and the precision. Title, claims and pictures may
///         change: they only read the points.
std::string fingerprint_of(Study const&, Points const&);

/// The file, opened by one process alone; tools/study/store.md tells its tables.
///
/// Shape   a point is one row, written once. A point that took 50 ms and more is committed as it ends; others when half a second has
///         passed since the last commit, and at the end: what a kill loses are such quick points, which are then run again. A commit is
///         whole or not at all (write-ahead log).
/// Errors  BadInput E363 (points of another study), E364 (another format or program version, or no store), E365 (another process has it);
///         std::system_error where the disk is full or refuses: what was committed stays.
class Store {
public:
  /// `afresh`: what stood there is kept under another name, told by `put_aside`.
  Store(std::filesystem::path, Study const&, Points const&, bool afresh);
  ~Store();
  Store(Store const&) = delete;

  std::string const& put_aside() const { return put_aside_; }
  /// Numbers of the points that are not there yet, rising.
  std::vector<std::size_t> missing() const;
  std::size_t count() const;
  void keep(Worked const&, std::vector<double> const& inputs);
  void commit();
  /// All points, rising by number.
  void each(std::function<void(KeptPoint&&)> const&) const;

private:
  class Lock;
  class File;
  std::unique_ptr<Lock> lock_;
  std::unique_ptr<File> file_;
  std::size_t size_, figures_;
  std::string put_aside_;
};

}  // namespace steadyfire

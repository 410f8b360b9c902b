#pragma once
/// The best compromises between several figures, found by trying points: NSGA-II, then a compass search, both of pagmo.

#include <cstddef>
#include <deque>
#include <functional>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

namespace steadyfire {

/// What a point is worth.
struct Verdict {
  std::vector<double> merits{};   ///< less is better; empty with a fault
  std::vector<double> figures{};  ///< what else is to be known of it
  std::string fault{};            ///< "" or why the point cannot be
};
struct Trial {
  std::vector<double> at;
  Verdict verdict;
  bool is_good() const { return verdict.fault.empty(); }
};
/// Where one coordinate may lie.
struct Span {
  double least, most;
  double step = 0;  ///< the search stays on its multiples and on the ends; 0 is none
};

/// The search was stopped from outside.
struct SearchStopped : std::runtime_error {
  SearchStopped() : std::runtime_error{"stopped"} {}
};

/// Shape   points are judged on `jobs` threads and kept in the order in which they were asked for, each once: what is found hangs on the
///         seed alone, not on threads. A point with a fault loses against every other.
/// Errors  SearchStopped; what the judge throws.
/// Source  K. Deb, A. Pratap, S. Agarwal, T. Meyarivan: A fast and elitist multiobjective genetic algorithm: NSGA-II, IEEE Trans.
///         Evol. Comput. 6 (2002) 182, as Debian's pagmo 2.18 has it.
class FrontSearch {
public:
  using Judge = std::function<Verdict(std::vector<double> const&)>;
  /// `told` hears how many points have been judged.
  FrontSearch(std::vector<Span>, Judge, unsigned jobs = 0, std::function<bool()> stop = {}, std::function<void(std::size_t)> told = {});

  /// Numbers of trials, in the order of the points.
  std::vector<std::size_t> judge(std::vector<std::vector<double>> const& points);
  /// At most about `runs` trials for the front as far as `reach` in each merit, in generations that begin with `starts`; what lies beyond
  /// loses against all within. Fewer than 40 runs are no search.
  void find_front(long runs, unsigned seed, std::vector<std::vector<double>> const& starts, std::vector<double> const& reach);
  /// At most about `runs` trials around a point, for less of a number.
  void polish(std::vector<double> const& start, std::function<double(Trial const&)> const& number, long runs);

  std::deque<Trial> const& trials() const { return trials_; }
  std::vector<Span> const& spans() const { return spans_; }
  /// A point on the steps.
  std::vector<double> snapped(std::vector<double>) const;

private:
  std::vector<Span> spans_;
  Judge judge_;
  unsigned jobs_;
  std::function<bool()> stop_;
  std::function<void(std::size_t)> told_;
  std::deque<Trial> trials_;
  std::map<std::vector<double>, std::size_t> known_;
};

/// Of points by their merits (less is better) the numbers of those that no other beats: none is better in one merit without being worse in
/// another. In the order of the first merit.
std::vector<std::size_t> best_compromises(std::vector<std::vector<double>> const& merits);

/// The evenest compromise of a front: the one nearest to the corner where every merit is at its best, each merit measured as a share of the
/// front's extent. The number in the front.
std::size_t evenest(std::vector<std::vector<double>> const& front);

/// How far one coordinate may move alone.
struct Leeway {
  double least, most;
  bool to_least_end, to_most_end;   ///< as far as its span goes
  std::string least_why, most_why;  ///< what ends it, where it is not the span
};
/// For each coordinate of a trial, by real trials: as far as `harm` stays "" on all trials on the way, to a step; without a step to 1 % of
/// the span.
std::vector<Leeway> leeway(FrontSearch&, std::vector<double> const& at, std::function<std::string(Trial const&)> const& harm);

}  // namespace steadyfire

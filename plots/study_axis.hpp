#pragma once
/// The numbers of a study's columns as a reader meets them: their words and units, and the few places that they take on an axis.

#include <optional>
#include <string>
#include <vector>

#include "plots/page_text.hpp"
#include "sim/record/study_record.hpp"

namespace steadyfire {

/// "12.0 kBtu/h" of a plain column, "× 1.20" of a factor, "outdoor reset" of words.
class ColumnText {
public:
  /// With as many decimals as the measure has, or as given.
  ColumnText(StudyColumn const& c, UnitSystem s, std::optional<int> decimals = {});
  std::string told(double si) const;
  /// The same without its unit, as on an axis.
  std::string number(double si) const;
  /// "minimum fire [kBtu/h]"
  std::string label() const;
  std::string const& name() const { return column_->name; }
  /// In the unit shown, rounded to four decimals more than are shown: for a picture's table.
  double plain(double si) const;
  /// The shown number that is not below, not above `si`: what is said with it holds of the numbers themselves.
  std::string told_at_most(double si) const { return told(outward(si, 1)); }
  std::string told_at_least(double si) const { return told(outward(si, -1)); }
  int decimals() const { return system_ == UnitSystem::us ? measure_.us_digits : measure_.si_digits; }
  bool has_words() const { return !column_->words.empty(); }

private:
  bool name_has_unit() const;  ///< "starts per hour" needs no "per hour" after its numbers
  double outward(double si, int way) const;
  StudyColumn const* column_;
  UnitSystem system_;
  Measure measure_;
};

/// The places of one column on an axis: its values where they are few, else equal intervals.
class StudyAxis {
public:
  StudyAxis(StudyColumn const&, UnitSystem);
  size_t size() const { return at_.size(); }
  bool is_binned() const { return !edges_.empty(); }
  /// Of each point, −1 where it has none.
  std::vector<int> const& places() const { return places_; }
  std::vector<double> const& at() const { return at_; }  ///< values, or middles of intervals; SI
  ColumnText const& text() const { return text_; }
  std::string told(size_t place) const;    ///< "12.0 kBtu/h", "8.0 to 9.5 kBtu/h"
  std::string number(size_t place) const;  ///< "12.0", "8.8": short, for the axis
  /// "minimum fire is 12 kBtu/h or less" of the places up to this one, "… or more" of those from this one on.
  std::string up_to(size_t place) const;
  std::string from(size_t place) const;

private:
  std::string few(size_t begin, size_t end) const;
  std::vector<double> at_, edges_;
  std::vector<int> places_;
  ColumnText text_;
};

/// As many values as an axis tells one by one.
constexpr size_t most_places = 40;
/// Distinct finite numbers, rising; nothing where they are more than `most`.
std::vector<double> distinct(std::vector<double> const&, size_t most);


/// With as many decimals as its values need, where they are few enough to stand on an axis each.
ColumnText input_text(StudyColumn const&, UnitSystem);

/// Of the inputs and the figures; null without it.
StudyColumn const* find_column(StudyRecord const&, std::string const& key);

}  // namespace steadyfire

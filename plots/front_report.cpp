#include "plots/front_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plots/chart_page.hpp"
#include "plots/embedded.hpp"
#include "plots/page_parts.hpp"
#include "plots/study_axis.hpp"
#include "plots/study_parts.hpp"

namespace steadyfire {
namespace {

using nlohmann::json;
constexpr size_t most_others = 3000, most_points = 300, most_open = 12;

StudyColumn column_of(FrontAxis const& a) {
  StudyColumn c;
  c.name = a.name, c.measure = a.measure, c.lower_is_better = a.lower_is_better, c.higher_is_better = !a.lower_is_better;
  return c;
}

class FrontPage {
public:
  FrontPage(FrontRecord const& r, UnitSystem s)
      : r_{r}, x_column_{column_of(r.x)}, y_column_{column_of(r.y)}, x_{x_column_, s}, y_{y_column_, s} {
    for (auto const& p : r.points)
      if (std::isfinite(p.x) && std::isfinite(p.y)) (p.is_on_front ? front_ : others_).push_back(&p);
    std::stable_sort(front_.begin(), front_.end(), [](auto const* a, auto const* b) { return a->x < b->x; });
    for (auto const& m : r.marks)
      if (std::isfinite(m.x) && std::isfinite(m.y)) marks_.push_back(&m);
  }

  std::string html() {
    auto const n = others_.size() + front_.size();
    auto body = study_header(
        r_.title,
        {r_.scenario, n == 1 ? "1 point" : counted(n) + " points", r_.program_version.empty() ? "" : "Steadyfire " + r_.program_version},
        r_.words);
    body += titled_picture(title(), n + marks_.size() ? page_.chart("front", table(), caption()) : "", "");
    body += section("Marked points", marked()) + section("Best trade-offs", front()) + section("Cautions", bullets(r_.cautions));
    return page_.html(r_.title, study_style(), body, embedded::study_js);
  }

private:
  FrontRecord const& r_;
  StudyColumn x_column_, y_column_;
  ColumnText x_, y_;
  std::vector<FrontPoint const*> front_, others_;
  std::vector<FrontMark const*> marks_;
  ChartPage page_;

  template <class P>
  std::string both(P const& p) const {
    return fmt::format("{} {}, {} {}", x_.name(), x_.told(p.x), y_.name(), y_.told(p.y));
  }
  static std::string change(ColumnText const& of, double before, double after) {
    return of.name() + " " + of.told(before) + " → " + of.told(after);
  }
  /// Whether `a` is as good as `b` in both.
  bool as_good(FrontPoint const& a, FrontPoint const& b) const {
    return (r_.x.lower_is_better ? a.x <= b.x : a.x >= b.x) && (r_.y.lower_is_better ? a.y <= b.y : a.y >= b.y);
  }
  /// Of a weighing by these two figures alone each small dot is beaten by a large one, and no large one by another.
  bool is_of_two() const {
    auto const beaten = [&](FrontPoint const* p) {
      return std::any_of(front_.begin(), front_.end(), [&](auto const* f) { return as_good(*f, *p); });
    };
    for (auto const* a : front_)
      for (auto const* b : front_)
        if (as_good(*a, *b) && !as_good(*b, *a)) return false;
    return std::all_of(others_.begin(), others_.end(), beaten);
  }
  size_t stride() const { return others_.size() / most_others + 1; }

  std::string title() const {
    if (marks_.size() > 1)
      return fmt::format("From ‘{}’ to ‘{}’: {}; {}", marks_[1]->name, marks_[0]->name, change(x_, marks_[1]->x, marks_[0]->x),
                         change(y_, marks_[1]->y, marks_[0]->y));
    if (marks_.size() == 1) return begun_large(marks_[0]->name) + ": " + both(*marks_[0]);
    if (front_.size() > 1) return fmt::format("From {} to {}", both(*front_.front()), both(*front_.back()));
    if (front_.size() == 1) return "One point is best in both: " + both(*front_.front());
    return begun_large(x_.name()) + " and " + y_.name() + ": nothing to draw";
  }

  std::string caption() const {
    std::string out = fmt::format("Each dot is one way to set the house. Better is {} and {}. ",
                                  r_.x.lower_is_better ? "left" : "right", r_.y.lower_is_better ? "down" : "up");
    auto const n = counted(front_.size());
    if (!front_.empty() && !is_of_two())
      out += fmt::format(
          "The {} large dots are the best trade-offs. More than these two figures were weighed: a small dot can look as good here "
          "and be worse in another. ",
          n);
    else if (front_.size() == 1) out += "The large dot is as good as any other in both. ";
    else if (!front_.empty())
      out += fmt::format(
          "The {} large dots along the line are the best trade-offs: from one to the next, one figure gets better and the other "
          "worse. Each small dot is worse than a large one in both, or equal in one. ",
          n);
    if (stride() > 1) out += fmt::format("One in {} of the small dots is drawn. ", stride());
    return out;
  }

  template <class P>
  json point(P const& p, std::string const& name) const {
    auto told = name.empty() ? std::string{} : name + "\n";
    told += x_.name() + " " + x_.told(p.x) + "\n" + y_.name() + " " + y_.told(p.y);
    if (!p.words.empty()) told += "\n" + p.words;
    return {{"x", x_.plain(p.x)}, {"y", y_.plain(p.y)}, {"told", told}};
  }
  json table() const {
    auto const axis = [](ColumnText const& t, FrontAxis const& a) -> json {
      return {{"label", t.label() + (a.lower_is_better ? ", lower is better" : ", higher is better")}, {"lower", a.lower_is_better}};
    };
    json out{{"across", axis(x_, r_.x)}, {"up", axis(y_, r_.y)},   {"others", json::array()},
             {"front", json::array()},   {"marks", json::array()}, {"line", is_of_two()}};
    for (size_t i = 0; i < others_.size(); i += stride()) out["others"].push_back(point(*others_[i], ""));
    for (auto const* p : front_) out["front"].push_back(point(*p, "best trade-off"));
    for (auto const* m : marks_) {
      auto one = point(*m, m->name);
      one["name"] = m->name;
      out["marks"].push_back(std::move(one));
    }
    return out;
  }

  template <class P>
  void row(Table& t, std::string const& name, P const& p) const {
    t.row({name, x_.told(p.x), y_.told(p.y), p.words});
  }
  std::string marked() const {
    if (r_.marks.empty()) return "";
    Table t{{"point", x_.name(), y_.name(), "settings"}};
    for (auto const& m : r_.marks) row(t, m.name, m);
    return t.html();
  }
  std::string front() const {
    if (front_.empty()) return "";
    Table t{{"no.", x_.name(), y_.name(), "settings"}};
    for (size_t i = 0; i < std::min(front_.size(), most_points); ++i) row(t, std::to_string(i + 1), *front_[i]);
    auto const words = front_.size() > most_points
                           ? fmt::format("The first {} of {}, by {}.", most_points, front_.size(), x_.name())
                           : fmt::format("{}, by {}.", front_.size() == 1 ? "The only one" : fmt::format("All {}", front_.size()),
                                         x_.name());
    return fmt::format("<details{}><summary>{}</summary>{}</details>", front_.size() <= most_open ? " open" : "", escaped(words), t.html());
  }
};

}  // namespace

std::string make_front_report(FrontRecord const& r, UnitSystem system) { return FrontPage{r, system}.html(); }

}  // namespace steadyfire

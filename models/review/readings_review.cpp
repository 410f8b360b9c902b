#include "models/review/readings_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "models/review/diagnosis.hpp"
#include "models/review/start_up_review.hpp"

namespace steadyfire {
namespace {

class ReadingsReview {
 public:
  ReadingsReview(Job const& job, ReadingsFile const& file) : job_{job}, file_{file}, stand_{stand_of(job, file.conditions)} {
    open_ = unstated_deviation(job, stand_);
    explanations_ = explain(stand_, find_gauge(file.values, "burns_per_hour") != nullptr);
    diagnosis_ = diagnose(explanations_, file.values, file.gauges, open_);
  }

  ReviewPart part() {
    part_.id = "readings", part_.title = "Readings, and what explains them";
    if (diagnosis_.deviation.empty()) {
      part_.missing.push_back("no reading is stated of which anything is expected");
    } else {
      verdict();
      tell_twins();
      causes();
    }
    readings();
    notes();
    return std::move(part_);
  }

 private:
  std::string tell(double si, Measure const& m) const { return show(si, m, job_.units); }
  static std::string words(Cause const& c) {
    if (!c.fault) return "everything is as designed";
    return c.size.empty() ? c.fault->words : c.fault->words + " (" + c.size + ")";
  }
  std::string share(Cause const& c) const { return c.share > 0.995 ? "over 99 %" : tell(c.share, measure::share); }

  void verdict() {
    auto const& first = diagnosis_.causes.front();
    auto const errs = [](Cause const& c) { return fmt::format("{:.1f} usual errors of a gauge, root mean square", c.misfit); };
    if (diagnosis_.is_beyond_chance(first)) {
      part_.find({"readings.unexplained",
                  "readings",
                  Severity::serious,
                  {{"misfit", first.misfit, measure::plain}},
                  std::nullopt,
                  "chi-square, less than once in a thousand by chance",
                  fmt::format("none of the {} causes tried explains these readings; nearest comes: {}, and they are off by {}",
                              diagnosis_.causes.size(), words(first), errs(first)),
                  70},
                 "read again what is farthest off in the table; then think of two faults at once, or of a scenario that is not this house");
      return;
    }
    if (!first.fault) {
      part_.sentences.push_back(
          fmt::format("Nothing is wrong as far as these {} readings tell: that everything is as designed explains them "
                      "best ({} of all explanations tried), off by {}.",
                      diagnosis_.deviation.size(), share(first), errs(first)));
      return;
    }
    std::vector<std::string> as_well;
    for (auto const* twin : twins()) as_well.push_back(words(*twin));
    std::string const or_by = as_well.empty() ? "" : fmt::format(", or as well by this: {}", fmt::join(as_well, "; or "));
    std::string const licensed = first.fault->licensed ? "; this is work for licensed practice, not for a user" : "";
    part_.sentences.push_back(fmt::format("These {} readings are explained best by this: {} ({} of all explanations tried).",
                                          diagnosis_.deviation.size(), words(first), share(first)));
    part_.find({"readings.fault",
                first.fault->place,
                diagnosis_.as_designed().share < 0.05 ? Severity::serious : Severity::minor,
                {{"share", first.share, measure::share},
                 {"misfit", first.misfit, measure::plain},
                 {"misfit_as_designed", diagnosis_.as_designed().misfit, measure::plain}},
                std::nullopt,
                "the scenario by simulation, and the stated errors of the gauges",
                fmt::format("the readings are explained best by this: {}{}; with it they are off by {}, as designed by {:.1f}",
                            words(first), or_by, errs(first), diagnosis_.as_designed().misfit),
                60 + 10 * first.share},
               first.fault->look + licensed);
  }

  /// Causes that these readings cannot part from the likeliest.
  std::vector<Cause const*> twins() const {
    std::vector<Cause const*> all;
    auto const& first = diagnosis_.causes.front();
    for (auto const& other : diagnosis_.causes)
      if (&other != &first && other.share >= 0.1 * first.share && diagnosis_.apart(first, other) <= 3) all.push_back(&other);
    return all;
  }
  void tell_twins() {
    auto const& first = diagnosis_.causes.front();
    for (auto const* other : twins()) {
      auto const parting = parting_reading(first, *other, diagnosis_, file_.gauges, open_);
      std::string const by = parting ? fmt::format("the {} at {} would part them: {} against {}", parting->of_first->what,
                                                   parting->of_first->where, tell(parting->of_first->value, parting->of_first->measure),
                                                   tell(parting->of_second->value, parting->of_second->measure))
                                     : fmt::format("no gauge would part them: {}", looks(first, *other));
      part_.sentences.push_back(fmt::format("These readings cannot part \"{}\" from \"{}\"; {}.", words(first), words(*other), by));
    }
  }
  static std::string looks(Cause const& a, Cause const& b) {
    std::vector<std::string> all;
    for (auto const* c : {&a, &b})
      if (c->fault && (all.empty() || all[0] != c->fault->look)) all.push_back(c->fault->look);
    return fmt::format("{}", fmt::join(all, "; "));
  }

  void causes() {
    ReviewTable t{"causes",
                  "Likely causes",
                  {"cause", "how likely", "off by", "reading that would confirm it", "it would show", "else", "what proves it"},
                  {}};
    auto const& all = diagnosis_.causes;
    double constexpr least = 0.01;
    for (std::size_t i = 0; i < all.size() && (all[i].share >= least || i == 0); ++i) {
      auto const& rival = i > 0 ? all[0] : all.size() > 1 ? all[1] : all[0];
      auto const confirm = parting_reading(all[i], rival, diagnosis_, file_.gauges, open_);
      auto const cell = [&](GaugeValue const* g) { return g ? ReviewCell{g->value, g->measure} : ReviewCell{""}; };
      t.rows.push_back({words(all[i]), share(all[i]), fmt::format("{:.1f} gauge errors", all[i].misfit),
                        confirm ? confirm->of_first->what + ", " + confirm->of_first->where : "none that is not taken yet",
                        cell(confirm ? confirm->of_first : nullptr), cell(confirm ? confirm->of_second : nullptr),
                        all[i].fault ? all[i].fault->look + (all[i].fault->licensed ? " (licensed practice)" : "") : ""});
    }
    part_.tables.push_back(std::move(t));
  }

  void readings() {
    auto const& first = diagnosis_.causes.front();
    ReviewTable t{"readings",
                  "Readings",
                  {"reading", "where", "read", "as designed", "by the likeliest cause", "gauge and unstated", "off as designed"},
                  {}};
    for (auto const& r : file_.values) {
      auto const* designed = find_gauge(diagnosis_.as_designed().shown, r.id);
      if (!designed) continue;
      auto const* likeliest = find_gauge(first.shown, r.id);
      double const sigma = diagnosis_.deviation.at(r.id).of(*designed);
      Measure const difference = r.measure.us.offset != 0 ? measure::fine_temperature_change : r.measure;
      t.rows.push_back({designed->what,
                        designed->where,
                        {r.value, r.measure},
                        {designed->value, r.measure},
                        likeliest ? ReviewCell{likeliest->value, r.measure} : ReviewCell{"none"},
                        {sigma, difference},
                        fmt::format("{:+.1f} times", (r.value - designed->value) / sigma)});
    }
    if (!t.rows.empty()) part_.tables.push_back(std::move(t));
  }

  void notes() {
    for (auto const& id : diagnosis_.not_compared)
      part_.missing.push_back(fmt::format("'{}' was read, and the scenario says nothing by which it could be expected", id));
    for (auto const& fault : explanations_.not_solved) part_.missing.push_back("not tried, as no flows were found with it: " + fault);
    part_.sentences.push_back(fmt::format(
        "Tried: {} faults at {} sizes, each solved as a steady burn; a fault's share is its likelihood by the stated errors of the gauges, "
        "where nothing wrong is as likely beforehand as all faults together.",
        explanations_.faults.size(), sizes()));
    part_.not_covered = {"two faults at once, and faults that are not among those tried: mixing valves, tanks and their controls, wiring",
                         "errors of the computation itself beyond the values that nobody stated; slabs and rooms that are still warming",
                         "gauges that err together, or by more than [gauges] says"};
    part_.cautions = {
        "Burner, gas and flue are for licensed practice, whatever the list says. Switch off before opening anything electric; hot "
        "water under pressure scalds."};
  }
  std::size_t sizes() const {
    std::size_t n = 0;
    for (auto const& e : explanations_.all)
      if (e.fault) n += e.sizes.size();
    return n;
  }

  Job const& job_;
  ReadingsFile const& file_;
  Stand stand_;
  std::map<std::string, double> open_;
  Explanations explanations_;
  Diagnosis diagnosis_;
  ReviewPart part_;
};

}  // namespace

ReviewPart review_readings(Job const& job, ReadingsFile const& file) {
  try {
    return ReadingsReview{job, file}.part();
  } catch (Stopped const& stop) {
    ReviewPart part;
    part.id = "readings", part.title = "Readings, and what explains them";
    part.missing.push_back(std::string("readings are not compared: ") + stop.what());
    return part;
  }
}

}  // namespace steadyfire

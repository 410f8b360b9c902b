#include "tools/review/readings_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/review/diagnosis.hpp"
#include "tools/review/start_up_review.hpp"

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
    part_.id = "readings", part_.title = "Readings and likely faults";
    if (diagnosis_.deviation.empty()) {
      part_.missing.push_back("no reading that the scenario could be compared with");
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
  /// "boiler/strainer: strainer clogged (85% of it)".
  static Words words(Suspect const& c) {
    if (!c.fault) return "everything is as designed";
    auto const what = say("{}: {}", c.fault->place, c.fault->words);
    return c.size.empty() ? what : say("{} ({})", what, c.size);
  }
  static Words share(Suspect const& c) { return c.share > 0.995 ? Words("over 99%") : Words(Amount{c.share, measure::share}); }
  static std::string errors(double misfit) { return fmt::format("{:.1f} gauge errors (rms)", misfit); }

  void verdict() {
    auto const& first = diagnosis_.causes.front();
    auto const count = diagnosis_.deviation.size();
    if (diagnosis_.is_beyond_chance(first)) {
      part_.find(
          {"readings.unexplained",
           "readings",
           Severity::serious,
           {{"misfit", first.misfit, measure::plain}},
           std::nullopt,
           "chi-square: by chance less than once in a thousand",
           say("no fault tried fits these readings. Nearest of {}: {}, off by {}", diagnosis_.causes.size(), words(first),
               errors(first.misfit)),
           70},
          "Read again what is farthest off in the table. Then think of two faults at once, or of a scenario that is not this house.");
      return;
    }
    if (!first.fault) {
      part_.sentences.push_back(say("These {} readings show no fault: everything as designed fits best ({} of all explanations tried), off "
                                    "by {}.",
                                    count, share(first), errors(first.misfit)));
      return;
    }
    std::vector<Words> as_well;
    for (auto const* twin : twins()) as_well.push_back(words(*twin));
    part_.sentences.push_back(
        say("Most likely fault by these {} readings: {} ({} of all explanations tried).", count, words(first), share(first)));
    part_.find({"readings.fault",
                first.fault->place,
                diagnosis_.as_designed().share < 0.05 ? Severity::serious : Severity::minor,
                {{"share", first.share, measure::share},
                 {"misfit", first.misfit, measure::plain},
                 {"misfit_as_designed", diagnosis_.as_designed().misfit, measure::plain}},
                std::nullopt,
                "the scenario by simulation, and the stated errors of the gauges",
                say("most likely fault: {}{} ({}){}. With it the readings are off by {}, as designed by {}", first.fault->words,
                    first.size.empty() ? Words() : say(", {}", first.size), share(first),
                    as_well.empty() ? Words() : say("; just as well: {}", listed(as_well, " or ")), errors(first.misfit),
                    fmt::format("{:.1f}", diagnosis_.as_designed().misfit)),
                60 + 10 * first.share},
               first.fault->look + (first.fault->licensed ? " Leave the repair to a licensed contractor." : ""));
  }

  /// Causes that these readings cannot part from the likeliest.
  std::vector<Suspect const*> twins() const {
    std::vector<Suspect const*> all;
    auto const& first = diagnosis_.causes.front();
    for (auto const& other : diagnosis_.causes)
      if (&other != &first && other.share >= 0.1 * first.share && diagnosis_.apart(first, other) <= 3) all.push_back(&other);
    return all;
  }
  void tell_twins() {
    auto const& first = diagnosis_.causes.front();
    for (auto const* other : twins()) {
      auto const parting = parting_reading(first, *other, diagnosis_, file_.gauges, open_);
      auto const by = parting ? say("The {} at {} tells them apart: {} or {}.", parting->of_first->what, parting->of_first->where,
                                    Amount{parting->of_first->value, parting->of_first->measure},
                                    Amount{parting->of_second->value, parting->of_second->measure})
                              : say("No gauge tells them apart: {}", looks(first, *other));
      part_.sentences.push_back(say("\"{}\" or \"{}\"? {}", words(first), words(*other), by));
    }
  }
  static Words looks(Suspect const& a, Suspect const& b) {
    Words all;
    std::string told;
    for (auto const* c : {&a, &b}) {
      if (!c->fault || c->fault->look.in(UnitSystem::us) == told) continue;
      all += all.empty() ? c->fault->look : " " + c->fault->look;
      told = c->fault->look.in(UnitSystem::us);
    }
    return all;
  }

  void causes() {
    ReviewTable t{"causes",
                  "Likely causes",
                  {"cause", "likely", "off by", "reading that confirms it", "it shows", "else", "first check"},
                  {}};
    auto const& all = diagnosis_.causes;
    double constexpr least = 0.01;
    for (std::size_t i = 0; i < all.size() && (all[i].share >= least || i == 0); ++i) {
      auto const& rival = i > 0 ? all[0] : all.size() > 1 ? all[1] : all[0];
      auto const confirm = parting_reading(all[i], rival, diagnosis_, file_.gauges, open_);
      auto const cell = [&](GaugeValue const* g) { return g ? ReviewCell{g->value, g->measure} : ReviewCell{""}; };
      t.rows.push_back({words(all[i]), share(all[i]), fmt::format("{:.1f} gauge errors", all[i].misfit),
                        confirm ? ReviewCell{confirm->of_first->what + ", " + confirm->of_first->where} : ReviewCell{"none left"},
                        cell(confirm ? confirm->of_first : nullptr), cell(confirm ? confirm->of_second : nullptr),
                        all[i].fault ? all[i].fault->look + (all[i].fault->licensed ? " (licensed work)" : "") : Words()});
    }
    part_.tables.push_back(std::move(t));
  }

  void readings() {
    auto const& first = diagnosis_.causes.front();
    ReviewTable t{"readings",
                  "Readings",
                  {"reading", "where", "read", "as designed", "with the likely fault", "gauge and assumed values", "off as designed"},
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
      part_.missing.push_back(say("'{}' was read, but nothing in the scenario compares with it", id));
    for (auto const& fault : explanations_.not_solved) part_.missing.push_back(say("not tried, as no flows were found with it: {}", fault));
    part_.sentences.push_back(
        say("Tried: {} faults at {} sizes, each solved as a steady burn. A fault's share is its likelihood by the stated "
            "gauge errors; beforehand, no fault is as likely as all faults together.",
            explanations_.faults.size(), sizes()));
    part_.not_covered = {"two faults at once, and faults not among those tried: mixing valves, tanks and their controls, wiring",
                         "errors of the computation beyond the assumed values; slabs and rooms that still warm up",
                         "gauges that err together, or by more than [gauges] says"};
    part_.cautions = {
        "Gas, flue gas and electricity kill. Leave burner, gas and vent to a licensed contractor, whatever the list says. Switch "
        "off before you open anything electric. Hot water under pressure scalds."};
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
    part.id = "readings", part.title = "Readings and likely faults";
    part.missing.push_back(std::string("readings were not compared: ") + stop.what());
    return part;
  }
}

}  // namespace steadyfire

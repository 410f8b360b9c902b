#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <optional>
#include <set>

#include "sim/record/json_parts.hpp"
#include "tools/cli/running.hpp"
#include "tools/study/advise/advise.hpp"

namespace steadyfire::cli {
namespace {

std::string names_of(Advice const& a, Tried const& t) {
  std::vector<std::string> words;
  for (auto const i : t.remedies) words.push_back(a.remedies[i].words);
  return fmt::format("{}", fmt::join(words, "; and "));
}

std::string hardness_of(Advice const& a, Tried const& t) {
  std::vector<std::string_view> words;
  for (auto const i : t.remedies)
    if (auto const w = words_of(a.remedies[i].hardness); std::find(words.begin(), words.end(), w) == words.end()) words.push_back(w);
  return fmt::format("{}", fmt::join(words, " and "));
}

/// Fuel with the return that it comes from.
std::string fuel_of(Judged const& j, UnitSystem units) {
  return fmt::format("fuel {}, average return {}", show(j.run.energy.fuel, measure::fuel, units),
                     j.run.burner.time_firing > 0 ? show(j.run.return_mean, measure::temperature, units) : "-");
}

std::string notes_of(Advice const& a, Tried const& t, UnitSystem units) {
  std::string text;
  for (auto const i : t.remedies)
    if (!a.remedies[i].note.empty()) text += "      note: " + a.remedies[i].note + "\n";
  return text + (t.but.empty() ? "" : "      but " + t.but.in(units) + "\n");
}

std::string entry(Advice const& a, Tried const& t, Subject s, UnitSystem units) {
  return fmt::format("  {}  ({})\n      {}; {}\n", names_of(a, t), hardness_of(a, t), in_short(t.after, s, a.before, units),
                     fuel_of(t.after, units)) +
         notes_of(a, t, units);
}

/// What is advised, and what the review of the changed scenario finds in it.
struct Choice {
  Tried const* tried = nullptr;
  std::vector<Finding> brought{}, left{};  ///< serious ones that are new; those of the burner that stood there before
};

/// "Short cycling: 138 starts → 54 starts …": what a change does to one subject.
std::string before_and_after(Advice const& a, Tried const& t, Subject s, UnitSystem units) {
  return fmt::format("{} → {}", in_short(a.before, s, a.before, units), in_short(t.after, s, a.before, units));
}

/// What is to be done, with all that it changes.
std::string choice_words(Advice const& a, Choice const& choice, UnitSystem units) {
  auto const& t = *choice.tried;
  auto text = fmt::format("\nRecommended ({}):\n  {}\n      {}\n", hardness_of(a, t), names_of(a, t),
                          !choice.brought.empty()                          ? "It causes a new finding; fix that too."
                          : t.mends_all() && choice.left.empty() ? "It fixes everything."
                                                                           : "Something is left; see below.");
  for (int s = 0; s < subjects; ++s)
    if (a.before.total(Subject(s)) > 0)
      text += "      " + before_and_after(a, t, Subject(s), units) + "\n";
  auto const &before = a.before.run.energy, &after = t.after.run.energy;
  auto const line = [&](char const* what, double from, double to, Measure const& m) {
    text += fmt::format("      {} {} → {}\n", what, show(from, m, units), show(to, m, units));
  };
  line("fuel", before.fuel, after.fuel, measure::fuel), line("electricity", before.electricity, after.electricity, measure::electricity);
  if (a.before.run.burner.time_firing > 0 && t.after.run.burner.time_firing > 0)
    line("average return", a.before.run.return_mean, t.after.run.return_mean, measure::temperature);
  text += notes_of(a, t, units);
  for (auto const& left : t.after.troubles) text += "      still open: " + left.words.in(units) + "\n";
  for (auto const& f : choice.brought) text += fmt::format("      new finding: {}: {}\n", f.place, f.words.in(units));
  for (auto const& f : choice.left) text += fmt::format("      still open: {}: {}\n", f.place, f.words.in(units));
  return text;
}

/// What is beyond a fitter's changes, or not simulated.
char const* what_would_help(Subject s) {
  switch (s) {
    case Subject::rooms:
      return "What would: a smaller load (insulation, windows), more emitter, or another setpoint.";
    case Subject::cycling:
      return "What would: a boiler with a lower minimum fire, more water, or zones that call together.";
    case Subject::overheating:
      return "What would: shading, ventilation, or a lower setpoint before sun and people come.";
    case Subject::other:
      break;
  }
  return "See the fix of each finding in `check`.";
}

/// Changes made alone in one subject, of each sort the best.
std::string subject_words(Advice const& a, Subject s, UnitSystem units) {
  auto text = fmt::format("\n{}: each change alone; now: {}; {}\n", words_of(s), in_short(a.before, s, a.before, units),
                          fuel_of(a.before, units));
  std::set<std::string> sorts;
  for (auto const* t : a.helping(s))
    if (sorts.insert(a.remedies[t->remedies[0]].what).second) text += entry(a, *t, s, units);
  return sorts.empty() ? text + "  No change tried helps. " + what_would_help(s) + '\n' : text;
}

/// Whether a change neither takes from a trouble nor adds to one: then its name is enough.
bool changes_nothing(Tried const& t) {
  double constexpr unseen = 0.05;  // of trouble: half of what counts as one
  return t.but.empty() && std::all_of(t.effect.begin(), t.effect.end(), [](double e) { return std::abs(e) < unseen; });
}

std::string advice_words(Advice const& a, Choice const& choice, UnitSystem units) {
  if (a.before.troubles.empty()) return "Nothing to fix: rooms, flows and burner are within their limits. (Only what can be simulated.)\n";
  std::string text = "What is wrong:\n";
  for (auto const& t : a.before.troubles) text += "  " + t.words.in(units) + "\n";
  if (choice.tried) text += choice_words(a, choice, units);
  else text += "\nNo change tried helps without making something else worse.\n";
  for (int s = 0; s < subjects; ++s)
    if (a.before.total(Subject(s)) > 0) text += subject_words(a, Subject(s), units);
  std::vector<Tried const*> told;
  for (int s = 0; s < subjects; ++s)
    for (auto const* t : a.helping(Subject(s))) told.push_back(t);
  std::string together, little, not_possible;
  std::vector<std::string> unchanged;
  int shown = 0;
  for (auto const& t : a.together)
    if (&t != choice.tried && t.after.fault.empty() && t.but.empty() && t.mends_all() && shown++ < 3)
      together += fmt::format("  {}  ({})\n", names_of(a, t), hardness_of(a, t));
  if (!together.empty()) text += "\nThese combinations also fix everything:\n" + together;
  for (auto const& t : a.alone) {
    if (!t.after.fault.empty()) {
      not_possible += fmt::format("  {}: {}\n", names_of(a, t), t.after.fault.substr(0, t.after.fault.find('\n')));
      continue;
    }
    if (std::any_of(told.begin(), told.end(), [&](auto const* one) { return one == &t; })) continue;
    if (changes_nothing(t)) {
      unchanged.push_back(names_of(a, t));
      continue;
    }
    little += fmt::format("  {}\n", names_of(a, t));
    for (int s = 0; s < subjects; ++s)
      if (a.before.total(Subject(s)) > 0) little += "      " + before_and_after(a, t, Subject(s), units) + "\n";
    if (!t.but.empty()) little += "      but " + t.but.in(units) + "\n";
  }
  if (!unchanged.empty()) little += fmt::format("  No effect: {}.\n", fmt::join(unchanged, "; "));
  if (!little.empty()) text += "\nTried, little effect:\n" + little;
  if (!not_possible.empty()) text += "\nNot possible in this scenario:\n" + not_possible;
  if (a.before.total(Subject::overheating) > 0) text += "\nTo search the whole range of a reset curve, run: steadyfire tune\n";
  return text;
}

/// What Ctrl-C leaves: what is wrong, and of the changes tried by then those that help.
std::string interrupted_advice_words(Advice const& a, UnitSystem units) {
  auto const is_tried = [](Tried const& t) { return t.after.run.duration > 0 && t.after.run.incomplete.empty(); };
  auto const tried = std::count_if(a.alone.begin(), a.alone.end(), is_tried);
  std::string text = a.before.troubles.empty() ? "" : "What is wrong:\n";
  for (auto const& t : a.before.troubles) text += "  " + t.words.in(units) + "\n";
  for (int s = 0; s < subjects && tried > 0; ++s)
    if (a.before.total(Subject(s)) > 0) text += subject_words(a, Subject(s), units);
  return fmt::format("INTERRUPTED: {} of {} changes tried alone. Nothing is recommended, and no file is written.\n\n", tried,
                     a.alone.size()) +
         text;
}
/// The same before any change was tried.
std::string interrupted_review_words(std::vector<Finding> const& found, UnitSystem units) {
  return "INTERRUPTED before any change was tried. What was found until then:\n" + to_words(found, units);
}

nlohmann::json to_json(Advice const& a, Tried const& t, UnitSystem units) {
  nlohmann::json changes = nlohmann::json::array(), left = nlohmann::json::array();
  for (auto const i : t.remedies)
    changes.push_back({{"words", a.remedies[i].words}, {"hardness", key_of(a.remedies[i].hardness)}, {"note", a.remedies[i].note}});
  for (auto const& x : t.after.troubles) left.push_back({{"place", x.place}, {"amount", x.amount}, {"words", x.words.in(units)}});
  return {{"changes", changes},
          {"left", left},
          {"effect", t.of_all()},
          {"mends_all", t.mends_all()},
          {"but", t.but.in(units)},
          {"fault", t.after.fault},
          {"starts", t.after.run.burner.starts},
          {"fuel_J", t.after.run.energy.fuel}};
}

nlohmann::json to_json(std::vector<Finding> const& findings, UnitSystem units) {
  nlohmann::json list = nlohmann::json::array();
  for (auto const& f : findings)
    list.push_back({{"id", f.id}, {"place", f.place}, {"words", f.words.in(units)}, {"remedy", f.fix_in(units)}});
  return list;
}

nlohmann::json to_json(Advice const& a, Choice const& choice, std::vector<Finding> const& not_simulated, std::string const& scenario,
                       UnitSystem units) {
  nlohmann::json j{{"format", 1},
                   {"program_version", STEADYFIRE_VERSION},
                   {"scenario", scenario},
                   {"troubles", nlohmann::json::array()},
                   {"alone", nlohmann::json::array()},
                   {"together", nlohmann::json::array()},
                   {"not_simulated", to_json(not_simulated, units)},
                   {"caution", caution}};
  for (auto const& t : a.before.troubles) j["troubles"].push_back({{"place", t.place}, {"amount", t.amount}, {"words", t.words.in(units)}});
  for (auto const& t : a.alone) j["alone"].push_back(to_json(a, t, units));
  for (auto const& t : a.together) j["together"].push_back(to_json(a, t, units));
  if (choice.tried) {
    j["advice"] = to_json(a, *choice.tried, units);
    j["advice"]["brought"] = to_json(choice.brought, units), j["advice"]["left_by_review"] = to_json(choice.left, units);
  }
  return j;
}

/// Whether a finding of the review is what a trouble says in numbers.
bool is_among(Finding const& f, Judged const& j) {
  if (f.id.starts_with("burner.") || f.id == "size.minimum_fire") return j.total(Subject::cycling) > 0;
  if (f.id == "zone.short_of_flow") return j.has(Trouble::Sort::short_of_flow);
  return std::any_of(j.troubles.begin(), j.troubles.end(), [&](auto const& t) { return t.place == f.id + " " + f.place; });
}

/// The first of the choices in whose review nothing serious is new; where all bring something, the best with what it brings.
///
/// Errors  none: a choice that cannot be reviewed is passed over.
Choice choose(Case const& house, Advice const& advice, std::vector<Finding> const& before) {
  std::size_t constexpr most_reviews = 4;
  std::optional<Choice> best;
  auto const choices = advice.choices();
  for (std::size_t i = 0; i < std::min(most_reviews, choices.size()); ++i) {
    Case const changed{house.document().file, changed_text(house, advice, *choices[i]), {}, house.units()};
    JobAtHand const job{changed.document(), changed.project(), watch_of_terminal(), false};
    std::optional<ReviewRecord> review;
    try {
      review = job.review();
    } catch (Stopped const&) { continue; }
    if (!review) return {};
    Choice choice{choices[i]};
    for (auto const& f : review->findings()) {
      if (f.severity != Severity::serious) continue;
      bool const stood = std::any_of(before.begin(), before.end(),
                                     [&](auto const& b) { return b.id == f.id && b.place == f.place && b.severity == Severity::serious; });
      if (!stood) choice.brought.push_back(f);
      else if (is_among(f, advice.before)) choice.left.push_back(f);
    }
    if (choice.brought.empty()) return choice;
    if (!best) best = choice;
  }
  return best.value_or(Choice{});
}

}  // namespace

int advise(Outputs& outputs, Common const& common, std::string const& write, unsigned jobs) {
  Document document;
  Project const project = load(common.scenario, document);
  Case const house{document.file, document.text, {}, common.system()};
  listen_for_interrupt();
  outputs.begin();
  JobAtHand const at_hand{document, project, watch_of_terminal(), false};
  auto const end_here = [&](std::string const& words) {
    if (!common.silent()) std::cout << project.installation.title << "\n\n" << words;
    return exit_by_signal();
  };
  auto const review = at_hand.review();
  if (!review) return end_here(interrupted_review_words(at_hand.job().flows.findings, common.system()));
  auto before = judge(house, was_interrupted);
  if (was_interrupted()) return end_here(interrupted_review_words(review->findings(), common.system()));
  if (!before.fault.empty()) {
    std::cerr << before.fault << '\n';
    return stopped;
  }
  auto const advice = [&] {
    Progress progress;
    return steadyfire::advise(house, std::move(before), jobs, std::ref(progress), was_interrupted);
  }();
  if (was_interrupted()) return end_here(interrupted_advice_words(advice, common.system()));

  std::vector<Finding> not_simulated;
  for (auto const& f : review->findings())
    if (f.severity == Severity::serious && !is_among(f, advice.before)) not_simulated.push_back(f);
  auto const choice = choose(house, advice, review->findings());
  if (was_interrupted()) return end_here(interrupted_advice_words(advice, common.system()));
  auto const* first = choice.tried;
  if (!common.silent()) {
    std::cout << project.installation.title << "\n\n" << advice_words(advice, choice, common.system());
    if (!not_simulated.empty()) {
      std::cout << "\nFound by `check`, not simulated here:\n";
      for (auto const& f : not_simulated)
        std::cout << fmt::format("  {}{}{}\n", f.place.empty() ? "" : f.place + ": ", f.words.in(common.system()),
                                 f.fix.empty() ? "" : "\n    Fix: " + f.fix_in(common.system()));
    }
    if (!write.empty())
      std::cout << (first ? "\nscenario with this change: " + write : "\nno change recommended: " + write + " is not written") << '\n';
    std::cout << '\n' << caution << '\n';
  }
  if (first) outputs.write(write, [&] { return changed_text(house, advice, *first); });
  outputs.write(common.json, [&] { return json_text(to_json(advice, choice, not_simulated, common.scenario, common.system())); });
  outputs.commit();
  return done;
}

}  // namespace steadyfire::cli

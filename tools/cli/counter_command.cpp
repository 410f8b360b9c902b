#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iostream>

#include "tools/job/catalog.hpp"
#include "tools/counter/answers.hpp"
#include "sim/scenario/edit.hpp"
#include "sim/scenario/field_words.hpp"
#include "tools/cli/running.hpp"
#include "tools/job/job_at_hand.hpp"

namespace steadyfire::cli {
namespace {

/// A line of the terminal; nothing at its end.
std::optional<std::string> heard(std::string const& prompt) {
  std::cout << prompt << std::flush;
  std::string words;
  if (!std::getline(std::cin, words)) return {};
  auto const from = words.find_first_not_of(" \t\r"), to = words.find_last_not_of(" \t\r");
  return from == std::string::npos ? "" : words.substr(from, to - from + 1);
}

/// What is asked for one field: "  floor area [ft2], heated floor? ".
std::string prompt_of(Field const& f, UnitSystem units) {
  std::string key = f.key;
  std::replace(key.begin(), key.end(), '_', ' ');
  std::string text = "  " + key;
  if (f.sort == Field::Sort::quantity) text += fmt::format(" [{}]", printed_unit(unit_for(f, units)));
  text += ", " + f.help.in(units);
  for (std::size_t i = 0; i < f.choices.size(); ++i) text += fmt::format("{} {} {}", i == 0 ? ":" : ",", i + 1, f.choices[i]);
  return text + "? ";
}

/// The answer as it stands in the file: a number by itself gets the unit that the field is told in.
std::string value_of(Field const& f, std::string const& answer, UnitSystem units) {
  bool const is_bare = answer.find_first_not_of("-0123456789.") == std::string::npos;
  if (f.sort == Field::Sort::count && is_bare) return answer;
  if (f.sort == Field::Sort::choice && is_bare) {
    auto const i = std::size_t(std::atoi(answer.c_str()));
    return toml_text(i >= 1 && i <= f.choices.size() ? f.choices[i - 1] : answer);
  }
  if (f.sort == Field::Sort::quantity && is_bare) return toml_text(fmt::format("{} {}", answer, unit_for(f, units).symbol));
  return toml_text(answer);
}

/// Asks in the terminal; each answer is read as a file's would be, and asked again with the reader's words where it is none.
class Interview {
 public:
  explicit Interview(UnitSystem units) : units_{units} {}
  /// The answers as the text of a file. Errors: BadInput where they end before the one that is needed.
  std::string hold() {
    std::cout << "Six questions. Press Enter for \"unknown\". A number without a unit gets the unit shown.\n";
    int number = 0;
    for (auto const& q : questions) {
      std::cout << fmt::format("\n{}. {}\n", ++number, q.words);
      ask(q.table);
    }
    return text_;
  }

 private:
  void ask(std::string_view table) {
    Kind const& kind = *find_kind(answers_catalog(), table);
    std::string key = kind.name;
    std::replace(key.begin(), key.end(), ' ', '_');
    if (kind.home == Home::single) {
      text_ += "\n[" + key + "]\n";
      for (auto const& f : kind.fields) one(f);
      return;
    }
    while (auto const name = heard("  zone name (Enter when done)? ")) {
      if (name->empty()) break;
      std::string const line = "\n[[" + key + "]]\nname = " + toml_text(*name) + "\n";
      if (!accepted(line)) continue;
      text_ += line;
      for (auto const& f : kind.fields) one(f);
    }
  }
  void one(Field const& f) {
    while (auto const answer = heard(prompt_of(f, units_))) {
      if (answer->empty() || *answer == "unknown") {
        if (!f.is_required()) {
          if (!answer->empty()) text_ += f.key + " = \"unknown\"\n";
          return;
        }
        std::cout << "  an answer is required here\n";
        continue;
      }
      std::string const line = f.key + " = " + value_of(f, *answer, units_) + "\n";
      if (!accepted(line)) continue;
      text_ += line;
      return;
    }
    if (f.is_required())
      throw BadInput(fmt::format("error[{}]: the answers end before '{}'\n  expected  {}\n  hint      nothing was written\n",
                                 "E297", f.key, f.help.in(units_)));
  }
  /// Whether the text so far with this line reads without a fault of its own; what is still to come may lack.
  bool accepted(std::string const& line) const {
    Diagnostics faults;
    read_document("answers", text_ + line, answers_catalog(), faults);
    bool good = true;
    for (auto const& d : faults.list()) {
      if (d.code == "E205") continue;
      std::cout << "  " << d.message << (d.expected.empty() ? "" : "; expected: " + d.expected) << '\n';
      good = false;
    }
    return good;
  }

  std::string text_ = "format = 1\ntitle = \"Asked at the counter\"\n";
  UnitSystem units_;
};

Document read_answers(std::string const& file, std::string const& text) {
  Diagnostics faults;
  auto document = read_document(file, text, answers_catalog(), faults);
  check_answers(document, faults);
  if (!faults.empty()) throw BadInput(faults.render(file, text));
  return document;
}

/// One page: the answer of each part, what is to be fixed, and what nobody knew.
std::string answer_words(ReviewRecord const& review, std::vector<UnknownAnswer> const& unknown, UnitSystem units) {
  std::string text = review.title + "\n";
  for (auto const& part : review.parts) {
    std::vector<std::string> lines;
    for (auto const& f : part.findings)
      if (f.severity == Severity::serious)
        lines.push_back(f.place + ": " + f.words.in(units) + (f.fix.empty() ? "" : " Fix: " + f.fix_in(units)));
    auto const answers = told(part.sentences, units);
    lines.insert(lines.begin(), answers.begin(), answers.end());
    for (auto const& j : part.in_order)
      if (lines.size() < 4)
        lines.push_back(fmt::format("ok: {}{}{}", j.place, j.place.empty() ? "" : ": ", j.told().in(units)));
    if (lines.empty()) continue;
    text += "\n" + part.title + "\n";
    for (auto const& l : lines) text += "  " + l + "\n";
  }
  if (!unknown.empty()) text += "\nUnknown; usual values assumed\n";
  for (std::size_t i = 0; i < unknown.size(); ++i) {
    bool const is_next = i > 0 && unknown[i].whose == unknown[i - 1].whose;
    text += is_next ? ", " : (i > 0 ? "\n  " : "  ") + unknown[i].whose + (unknown[i].key.empty() ? "" : ": ");
    text += unknown[i].key;
  }
  return text + (unknown.empty() ? "" : "\n");
}

}  // namespace

int counter(Outputs& outputs, std::string const& out, std::string const& answers_file, UnitSystem units) {
  auto const given = answers_file.empty() ? "" : read_text(answers_file);
  outputs.begin();
  auto const answers = answers_file.empty() ? read_answers("answers", Interview{units}.hold()) : read_answers(answers_file, given);
  auto const text = scenario_of(answers);
  Diagnostics faults;
  auto const document = read_document(out, text, catalog(), faults);
  auto const project = make_project(document, catalog(), faults);
  if (!faults.empty()) throw InternalError("the scenario made from the answers has errors: " + faults.render(out, text));
  outputs.write(out, [&] { return text; });
  outputs.commit();
  listen_for_interrupt();
  auto const review = JobAtHand{document, project, watch_of_terminal()}.review();
  if (!review) {
    std::cout << "INTERRUPTED: wrote " << out << ", not reviewed. Run: steadyfire check " << out << '\n';
    return exit_by_signal();
  }
  if (answers_file.empty()) std::cout << '\n';
  std::cout << answer_words(*review, unknowns_of(answers, units), units) << "\nwrote " << out
            << ". Fill in what you know, then run: steadyfire check " << out << "\n\n"
            << caution << '\n';
  return done;
}

}  // namespace steadyfire::cli

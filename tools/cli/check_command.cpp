#include <fmt/format.h>
#include <fmt/ranges.h>

#include <iostream>

#include "sim/record/json_parts.hpp"
#include "tools/review/materials.hpp"
#include "tools/review/readings_review.hpp"
#include "tools/review/start_up_review.hpp"
#include "plots/page_text.hpp"
#include "plots/review_page.hpp"
#include "sim/record/record_csv.hpp"
#include "sim/record/review_json.hpp"
#include "tools/cli/command.hpp"
#include "tools/cli/running.hpp"
#include "tools/job/job_at_hand.hpp"

namespace steadyfire::cli {
namespace {

/// How wide a text looks, not how many bytes it has.
std::size_t width(std::string const& s) {
  return std::size_t(std::count_if(s.begin(), s.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string table_words(ReviewTable const& t, UnitSystem system) {
  std::vector<std::vector<std::string>> lines{t.columns};
  for (auto const& row : t.rows) {
    lines.emplace_back();
    for (auto const& c : row) lines.back().push_back(c.shown(system));
  }
  std::vector<std::size_t> widths(t.columns.size());
  for (auto const& line : lines)
    for (std::size_t i = 0; i < std::min(widths.size(), line.size()); ++i) widths[i] = std::max(widths[i], width(line[i]));
  std::string text = t.title.empty() ? "" : fmt::format("\n  {}\n", t.title);
  for (auto const& line : lines) {
    std::string row = " ";
    for (std::size_t i = 0; i < line.size(); ++i)
      row += ' ' + line[i] + std::string(i + 1 < line.size() ? widths[i] - width(line[i]) + 1 : 0, ' ');
    text += row + '\n';
  }
  return text;
}

std::string listed(char const* title, std::vector<Words> const& items, UnitSystem system) {
  std::string text;
  for (auto const& item : items) text += fmt::format("    {}\n", item.in(system));
  return text.empty() ? text : fmt::format("  {}\n{}", title, text);
}

/// "2 findings" or "1 finding".
std::string counted(std::size_t n, char const* noun) { return fmt::format("{} {}{}", n, noun, n == 1 ? "" : "s"); }

/// Everything that the review knows of a subject.
std::string part_words(ReviewPart const& p, UnitSystem system) {
  std::string text = "\n" + p.title + "\n";
  for (auto const& s : p.sentences) text += "  " + s.in(system) + "\n";
  if (!p.findings.empty()) text += fmt::format("  {}, listed above\n", counted(p.findings.size(), "finding"));
  for (auto const& j : p.in_order)
    text += fmt::format("  ok       {}{}{}\n", j.place, j.place.empty() ? "" : ": ", j.told().in(system));
  for (auto const& t : p.tables) text += table_words(t, system);
  return text + listed("Not checked (not in the file):", p.missing, system) + listed("Check on site:", p.reminders, system) +
         listed("Never checked:", p.not_covered, system) + listed("Caution:", p.cautions, system);
}

/// "Gas piping: 6 ok, 2 findings. All appliances firing use 278 cfh of natural gas."
std::string part_line(ReviewPart const& p, UnitSystem system) {
  std::vector<std::string> counts;
  if (!p.in_order.empty()) counts.push_back(fmt::format("{} ok", p.in_order.size()));
  if (!p.findings.empty()) counts.push_back(counted(p.findings.size(), "finding"));
  if (counts.empty() && !p.tables.empty()) counts.push_back(counted(p.tables.size(), "table"));
  if (counts.empty()) counts.push_back("not checked");
  auto const answer = p.sentences.empty() ? "" : " " + begun_large(p.sentences.front().in(system));
  return fmt::format("  {}: {}.{}\n", p.title, fmt::join(counts, ", "), answer);
}

std::string summary(ReviewRecord const& r, UnitSystem system, bool all) {
  std::string text = r.title + "\n\n";
  text += to_words(r.findings(), system);
  if (all) {
    for (auto const& p : r.parts) text += part_words(p, system);
  } else {
    std::string not_checked;
    for (auto const& p : r.parts)
      if (!p.missing.empty()) not_checked += fmt::format("  {}: {}\n", p.title, fmt::join(told(p.missing, system), "; "));
    if (!not_checked.empty()) text += "\nNot checked (not in the file)\n" + not_checked;
    text += "\nSubjects\n";
    for (auto const& p : r.parts) text += part_line(p, system);
    text += "\nFor every number, table, site check and caution, add --all or --report FILE.\n";
  }
  if (!r.assumptions.empty())
    text += fmt::format("{}{} {} assumed (middle of the usual range). The report and --json list them.\n", all ? "\n" : "",
                        counted(r.assumptions.size(), "value"), r.assumptions.size() == 1 ? "is" : "are");
  return text;
}

/// What Ctrl-C leaves: the subjects reviewed by then, or what flows and run had found.
std::string interrupted_check_words(Job const& job, std::vector<ReviewPart> const& parts, UnitSystem system) {
  std::vector<std::string> titles;
  std::vector<Finding> found;
  for (auto const& p : parts) titles.push_back(p.title), found.insert(found.end(), p.findings.begin(), p.findings.end());
  bool const ran = job.run.incomplete.empty();
  if (parts.empty()) {
    found = job.flows.findings;
    if (ran) found.insert(found.end(), job.run.findings.begin(), job.run.findings.end());
  }
  std::stable_sort(found.begin(), found.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
  auto const of_run = fmt::format("flows solved; simulation {}", ran ? "done" : "stopped on the way");
  return fmt::format("{}\n\nINTERRUPTED: {}; {} of {} subjects reviewed{}{}. What was found until then:\n", job.project.installation.title,
                     of_run, parts.size(), reviewers().size(), parts.empty() ? "" : ": ", fmt::join(titles, ", ")) +
         to_words(std::move(found), system) + "\nNo file is written. Run it again for the rest.\n";
}

/// Errors  BadInput, all faults rendered.
std::optional<ReadingsFile> readings_of(std::string const& file, Project const& project) {
  if (file.empty()) return {};
  Diagnostics faults;
  auto readings = read_readings(file, read_text(file), project.installation, conditions_of(project), faults);
  if (!faults.empty()) throw BadInput(faults.render(file, readings.document.text));
  return readings;
}

}  // namespace

int check(Outputs& outputs, Common const& common, CheckFiles const& files) {
  Document document;
  Project const project = load(common.scenario, document);
  if (!project.is_house)
    throw BadInput(fmt::format("{}: error[{}]: a piping network without boiler and zones cannot be reviewed\n"
                               "  expected  [boiler] and [[zone]]\n  hint      use 'steadyfire flows'\n",
                               common.scenario, "E241"));
  auto const readings = readings_of(files.readings, project);
  listen_for_interrupt();
  outputs.begin();
  JobAtHand const at_hand{document, project, watch_of_terminal()};
  std::vector<ReviewPart> parts;
  auto reviewed = at_hand.review([&](ReviewPart const& part) { parts.push_back(part); });
  if (!reviewed) {
    if (!common.silent()) std::cout << interrupted_check_words(at_hand.job(), parts, common.system());
    return exit_by_signal();
  }
  auto& review = *reviewed;
  if (readings) review.parts.insert(review.parts.begin(), review_readings(at_hand.job(), *readings));
  if (!common.silent()) {
    std::cout << summary(review, common.system(), files.all);
    for (auto const& [what, file] : {std::pair{"report", files.report}, {"materials", files.materials}})
      if (!file.empty()) std::cout << what << ": " << file << '\n';
    std::cout << '\n' << caution << '\n';
  }
  outputs.write(common.json, [&] { return json_text(review_to_json(review, common.system())); });
  outputs.write(files.report, [&] { return make_review_page(review, common.system()); });
  outputs.write(files.materials, [&] { return to_csv(materials_list(at_hand.job()), common.system()); });
  outputs.commit();
  return review.has_serious() ? has_serious_findings : done;
}

}  // namespace steadyfire::cli

#include "tools/cli/usage.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "sim/core/diagnostic.hpp"

namespace steadyfire::cli {
namespace {

std::string told(std::string const& what, std::string const& expected, std::string const& hint = "") {
  return fmt::format("error: {}\n  expected  {}\n", what, expected) + (hint.empty() ? "" : "  hint      " + hint + "\n");
}
std::string did_you_mean(std::string const& word, std::vector<std::string> const& known) {
  auto const near = nearest(word, known);
  return near.empty() ? "" : "did you mean '" + near + "'?";
}
bool is_option(std::string const& word) { return word.size() > 1 && word[0] == '-'; }

std::string explain_extra(CLI::App const& command, std::vector<std::string> const& words) {
  std::vector<std::string> known;
  for (auto const* o : command.get_options())
    for (auto const& name : o->get_lnames()) known.push_back("--" + name);
  for (auto const& word : words) {
    auto const name = word.substr(0, word.find('='));
    if (is_option(word) && command.get_option_no_throw(name) == nullptr)
      return told(command.get_name() + " has no option " + name, fmt::format("one of: {}", fmt::join(known, ", ")),
                  did_you_mean(name, known));
  }
  return told("unexpected word '" + words.back() + "'", command.get_name() + " with one file",
              "put options that take a value before the file");
}

}  // namespace

std::string explain_usage(CLI::App const& app, CLI::ParseError const& error, std::vector<std::string> const& arguments) {
  std::vector<std::string> commands;
  for (auto const* c : app.get_subcommands([](CLI::App const*) { return true; })) commands.push_back(c->get_name());
  auto const choose = fmt::format("one of: {}", fmt::join(commands, ", "));
  auto const word = std::find_if_not(arguments.begin(), arguments.end(), is_option);
  if (word == arguments.end()) {
    if (arguments.empty())
      return told("no command given", choose,
                  "'steadyfire --help' lists the commands; 'steadyfire new house.toml' writes a sample house");
    return told("steadyfire has no option " + arguments[0], "--help, --version or a command, " + choose,
                did_you_mean(arguments[0], {"--help", "--version"}));
  }
  if (std::find(commands.begin(), commands.end(), *word) == commands.end())
    return told("unknown command '" + *word + "'", choose,
                word->ends_with(".toml") ? "put a command before the file: steadyfire flows " + *word : did_you_mean(*word, commands));
  auto const& command = *app.get_subcommand(*word);
  if (dynamic_cast<CLI::ExtrasError const*>(&error)) return explain_extra(command, {word + 1, arguments.end()});
  for (auto const* o : command.get_options())
    if (dynamic_cast<CLI::RequiredError const*>(&error) && o->get_positional() && o->count() == 0)
      return told(*word + " needs a " + o->get_name() + (o->get_name() == "file" ? "" : " file"),
                  fmt::format("steadyfire {} {}", *word, o->get_type_name()),
                  *word == "new" ? "" : "'steadyfire new house.toml' writes a sample house");
  return told(*word + ": " + error.what(), "a command as 'steadyfire " + *word + " --help' shows");
}

}  // namespace steadyfire::cli

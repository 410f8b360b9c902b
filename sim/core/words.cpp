#include "sim/core/words.hpp"

#include "sim/core/diagnostic.hpp"

namespace steadyfire {

void Words::add(std::string text) {
  if (text.empty()) return;
  if (auto* last = parts_.empty() ? nullptr : std::get_if<std::string>(&parts_.back())) *last += text;
  else parts_.emplace_back(std::move(text));
}

Words& Words::operator+=(Words const& more) {
  for (auto const& part : std::vector(more.parts_))  // a copy, as `more` may be this
    if (auto const* text = std::get_if<std::string>(&part)) add(*text);
    else parts_.push_back(part);
  return *this;
}

std::string Words::in(UnitSystem system) const {
  std::string text;
  for (auto const& part : parts_)
    if (auto const* amount = std::get_if<Amount>(&part)) text += show(amount->si, amount->measure, system);
    else if (auto const* each = std::get_if<InEach>(&part)) text += system == UnitSystem::us ? each->us : each->si;
    else text += std::get<std::string>(part);
  return text;
}

std::string Words::frame() const {
  std::string text;
  for (auto const& part : parts_) {
    auto const* plain = std::get_if<std::string>(&part);
    text += plain ? *plain : "{}";
  }
  return text;
}

Words say_all(std::string_view pattern, std::vector<Words> const& these) {
  Words all;
  std::size_t next = 0, from = 0;
  auto const take = [&](std::size_t to) { all += Words(pattern.substr(from, to - from)); };
  for (std::size_t at; (at = pattern.find_first_of("{}", from)) != std::string_view::npos;) {
    auto const pair = pattern.substr(at, 2);
    if (pair == "{{" || pair == "}}") {
      take(at + 1);
    } else {
      if (pair != "{}" || next == these.size()) throw InternalError("words do not fit their pattern: " + std::string(pattern));
      take(at), all += these[next++];
    }
    from = at + 2;
  }
  take(pattern.size());
  if (next != these.size()) throw InternalError("words are left over from their pattern: " + std::string(pattern));
  return all;
}

Words listed(std::vector<Words> const& these, std::string_view last) {
  Words all;
  for (std::size_t i = 0; i < these.size(); ++i) {
    if (i > 0) all += i + 1 < these.size() ? ", " : last;
    all += these[i];
  }
  return all;
}

std::vector<std::string> told(std::vector<Words> const& all, UnitSystem system) {
  std::vector<std::string> texts;
  for (auto const& words : all) texts.push_back(words.in(system));
  return texts;
}

}  // namespace steadyfire

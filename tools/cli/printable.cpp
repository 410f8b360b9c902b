#include "tools/cli/printable.hpp"

#include <string>
#include <utility>

namespace steadyfire::cli {
namespace {

constexpr char c1_lead = '\xC2';
bool is_control(char c) { return (static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\n') || c == 0x7F; }
bool is_c1_tail(char c) { return static_cast<unsigned char>(c) >= 0x80 && static_cast<unsigned char>(c) < 0xA0; }

}  // namespace

PrintableOnly::~PrintableOnly() { out_.rdbuf(to_); }

PrintableOnly::int_type PrintableOnly::overflow(int_type c) {
  if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
  char const one = traits_type::to_char_type(c);
  return xsputn(&one, 1) == 1 ? c : traits_type::eof();
}

std::streamsize PrintableOnly::xsputn(char const* text, std::streamsize size) {
  std::string shown;
  shown.reserve(std::size_t(size) + 1);
  for (auto const* c = text; c != text + size; ++c) {
    char const before = std::exchange(held_, 0);
    if (before == c1_lead && is_c1_tail(*c)) {
      shown += '?';
      continue;
    }
    if (before == '\r') shown += *c == '\n' ? '\r' : '?';
    else if (before) shown += before;
    if (*c == '\r' || *c == c1_lead) held_ = *c;
    else shown += is_control(*c) ? '?' : *c;
  }
  auto const count = std::streamsize(shown.size());
  return to_->sputn(shown.data(), count) == count ? size : 0;
}

}  // namespace steadyfire::cli

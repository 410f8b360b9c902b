/// Whatever the bytes, the reader tells faults or gives a document; it never crashes.

#include <cstdint>
#include <cstdlib>

#include "tools/job/catalog.hpp"
#include "sim/scenario/reader.hpp"

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  using namespace steadyfire;
  Diagnostics faults;
  auto const document = read_document("fuzz.toml", std::string(reinterpret_cast<char const*>(data), size), catalog(), faults);
  if (faults.render(document.file, document.text).empty() != faults.empty()) std::abort();
  for (auto const& entry : document.tables)
    if (entry.values.size() != entry.kind->fields.size()) std::abort();
  return 0;
}

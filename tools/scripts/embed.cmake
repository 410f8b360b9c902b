# Writes `out`, a C++ file with the bytes of `in` as steadyfire::embedded::`symbol`.
file(READ ${in} hex HEX)
string(REGEX REPLACE "(..)" "'\\\\x\\1'," bytes "${hex}")
string(REGEX REPLACE "(............................................................)" "\\1\n" bytes "${bytes}")
file(WRITE ${out} "#include <string_view>

namespace {
char const bytes[] = {
${bytes}
};
}

namespace steadyfire::embedded {
extern std::string_view const ${symbol};
std::string_view const ${symbol}{bytes, sizeof bytes};
}
")

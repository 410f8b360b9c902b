# Writes `out`, a C++ file with the bytes of `in` as steadyfire::embedded::`symbol`.
file(READ ${in} hex HEX)
string(REPEAT "[0-9a-f]" 32 row)
string(REGEX REPLACE "(${row})" "\\1\n" bytes "${hex}")
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
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

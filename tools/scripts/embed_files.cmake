# Writes `out`, a C++ file with all files below the folder `base` whose ends are in `kinds`, as steadyfire::embedded::`symbol`.
file(GLOB_RECURSE files RELATIVE ${base} ${base}/*)
list(FILTER files INCLUDE REGEX "\\.(${kinds})$")
list(SORT files)
string(REPEAT "[0-9a-f]" 32 row)
set(number 0)
foreach(file ${files})
  file(READ ${base}/${file} hex HEX)
  string(REGEX REPLACE "(${row})" "\\1\n" bytes "${hex}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
  string(APPEND arrays "char const file_${number}[] = {\n${bytes}\n};\n")
  string(APPEND rows "    {\"${file}\", {file_${number}, sizeof file_${number}}},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(WRITE ${out} "#include \"tools/web/embedded.hpp\"

namespace {
${arrays}
steadyfire::embedded::File const files[] = {
${rows}};
}

namespace steadyfire::embedded {
std::span<File const> const ${symbol}{files};
}
")

#pragma once
/// Words of files on a terminal.

#include <ostream>
#include <streambuf>

namespace steadyfire::cli {

/// While it lives, control characters that are written to a stream become '?', so that no text of a file moves the cursor of a terminal
/// or sets it: of ASCII all but tab, line feed and a carriage return before one; DEL; of Unicode U+0080 to U+009F, written as UTF-8.
class PrintableOnly : private std::streambuf {
 public:
  explicit PrintableOnly(std::ostream& out) : out_{out}, to_{out.rdbuf(this)} {}
  ~PrintableOnly() override;

 private:
  int_type overflow(int_type) override;
  std::streamsize xsputn(char const*, std::streamsize) override;
  int sync() override { return to_->pubsync(); }

  std::ostream& out_;
  std::streambuf* to_;
  char held_ = 0;  ///< '\r' or the first byte of U+0080 to U+00BF, until the next tells what it is
};

}  // namespace steadyfire::cli

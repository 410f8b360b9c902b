#pragma once
#include "models/pipe_sizes.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {

/// Pieces one behind the other by their first branch.
class Row {
 public:
  Row(Builder& builder, std::string joint) : builder_{builder}, joint_{std::move(joint)} {}

  /// A piece from where the row stands to a joint. Returns its number.
  /// `beside` are the joints of its further branches.
  int add(std::string_view kind, std::string name, std::string to, std::vector<Setting> settings = {}, Entry const* stated = nullptr,
          std::vector<std::string> const& beside = {}) {
    bool const is_stated = stated && *stated;
    std::vector<std::string> ports{joint_, to};
    ports.insert(ports.end(), beside.begin(), beside.end());
    int const number = builder_.add(kind, std::move(name), std::move(ports), std::move(settings), is_stated ? stated : nullptr);
    joint_ = std::move(to);
    return number;
  }
  std::string const& joint() const { return joint_; }

 private:
  Builder& builder_;
  std::string joint_;
};

}  // namespace steadyfire

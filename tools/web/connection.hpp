#pragma once
/// One connection of the server, bounded in bytes and time.

#include <httplib.h>

#include <chrono>

namespace steadyfire::web {

/// httplib's own stream reads a line or header of any length and waits anew for each byte. This one reads at most `most` bytes,
/// all within `patience`.
class Connection final : public httplib::Stream {
 public:
  Connection(socket_t socket, std::size_t most, std::chrono::milliseconds patience);

  /// Waits for a first byte.
  bool has_request(std::chrono::milliseconds) const;
  /// False once the other side has closed it.
  bool is_open() const;

  bool is_readable() const override;
  bool is_writable() const override;
  ssize_t read(char*, std::size_t) override;
  ssize_t write(char const*, std::size_t) override;
  void get_remote_ip_and_port(std::string& ip, int& port) const override;
  void get_local_ip_and_port(std::string& ip, int& port) const override;
  socket_t socket() const override { return socket_; }

 private:
  socket_t const socket_;
  std::size_t left_;
  std::chrono::steady_clock::time_point const end_;
  char buffer_[1 << 14];
  std::size_t begin_ = 0, filled_ = 0;
};

}  // namespace steadyfire::web

#include "tools/web/connection.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

namespace steadyfire::web {
namespace {

using namespace std::chrono;
constexpr milliseconds to_write{10'000};

bool wait_for(socket_t socket, short what, milliseconds patience) {
  pollfd one{socket, what, 0};
  int ready;
  do ready = ::poll(&one, 1, int(std::max(0L, long(patience.count()))));
  while (ready < 0 && errno == EINTR);
  return ready > 0;
}

void tell_end(sockaddr_storage const& end, std::string& ip, int& port) {
  char text[INET6_ADDRSTRLEN] = "";
  if (end.ss_family == AF_INET) {
    auto const& v4 = reinterpret_cast<sockaddr_in const&>(end);
    ::inet_ntop(AF_INET, &v4.sin_addr, text, sizeof text), port = ntohs(v4.sin_port);
  } else if (end.ss_family == AF_INET6) {
    auto const& v6 = reinterpret_cast<sockaddr_in6 const&>(end);
    ::inet_ntop(AF_INET6, &v6.sin6_addr, text, sizeof text), port = ntohs(v6.sin6_port);
  }
  ip = text;
  if (ip.starts_with("::ffff:") && ip.find('.') != std::string::npos) ip.erase(0, 7);  // IPv4 that came to an IPv6 socket
}

}  // namespace

Connection::Connection(socket_t socket, std::size_t most, milliseconds patience)
    : socket_{socket}, left_{most}, end_{steady_clock::now() + patience} {}

bool Connection::has_request(milliseconds patience) const { return wait_for(socket_, POLLIN, patience) && is_open(); }

bool Connection::is_open() const {
  char one;
  auto const count = ::recv(socket_, &one, 1, MSG_PEEK | MSG_DONTWAIT);
  return count > 0 || (count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR));
}

bool Connection::is_readable() const {
  return begin_ < filled_ || wait_for(socket_, POLLIN, duration_cast<milliseconds>(end_ - steady_clock::now()));
}

bool Connection::is_writable() const { return wait_for(socket_, POLLOUT, to_write) && is_open(); }

ssize_t Connection::read(char* to, std::size_t size) {
  if (begin_ == filled_) {
    if (left_ == 0 || !is_readable()) return -1;
    auto const count = ::recv(socket_, buffer_, std::min(sizeof buffer_, left_), 0);
    if (count <= 0) return count;
    begin_ = 0, filled_ = std::size_t(count), left_ -= filled_;
  }
  auto const count = std::min(size, filled_ - begin_);
  std::memcpy(to, buffer_ + begin_, count);
  begin_ += count;
  return ssize_t(count);
}

ssize_t Connection::write(char const* from, std::size_t size) {
  if (!wait_for(socket_, POLLOUT, to_write)) return -1;
  auto const count = ::send(socket_, from, size, MSG_NOSIGNAL | MSG_DONTWAIT);
  return count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR) ? 0 : count;
}

void Connection::get_remote_ip_and_port(std::string& ip, int& port) const {
  sockaddr_storage end{};
  socklen_t size = sizeof end;
  if (::getpeername(socket_, reinterpret_cast<sockaddr*>(&end), &size) == 0) tell_end(end, ip, port);
}

void Connection::get_local_ip_and_port(std::string& ip, int& port) const {
  sockaddr_storage end{};
  socklen_t size = sizeof end;
  if (::getsockname(socket_, reinterpret_cast<sockaddr*>(&end), &size) == 0) tell_end(end, ip, port);
}

}  // namespace steadyfire::web

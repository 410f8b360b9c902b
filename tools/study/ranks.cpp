#include "tools/study/ranks.hpp"

#include <fmt/format.h>
#include <mpi.h>

#include <chrono>
#include <cstdlib>
#include <deque>
#include <iostream>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <thread>
#include <utility>

#include "sim/core/diagnostic.hpp"
#include "tools/study/hand_out.hpp"

namespace steadyfire {
namespace {

using Message = nlohmann::json;
enum Tag { work_for_you = 1, came_in = 2, goodbye = 3 };
constexpr auto pause_between_looks = std::chrono::microseconds{500};
double constexpr sign_of_life_every = 5, longest_silence = 120;  // [s] of rank 0

/// Messages are CBOR: numbers arrive as they were.
bool send(Message const& message, int to, Tag tag) {
  auto const bytes = Message::to_cbor(message);
  return MPI_Send(bytes.data(), int(bytes.size()), MPI_BYTE, to, tag, MPI_COMM_WORLD) == MPI_SUCCESS;
}
/// The next message, if there is one.
std::optional<Message> next_message(int from, Tag tag, int* sender = nullptr) {
  int is_there = 0, size = 0;
  MPI_Status status;
  if (MPI_Iprobe(from, tag, MPI_COMM_WORLD, &is_there, &status) != MPI_SUCCESS || !is_there) return {};
  MPI_Get_count(&status, MPI_BYTE, &size);
  std::vector<std::uint8_t> bytes(std::size_t(size), 0);
  if (MPI_Recv(bytes.data(), size, MPI_BYTE, status.MPI_SOURCE, tag, MPI_COMM_WORLD, MPI_STATUS_IGNORE) != MPI_SUCCESS) return {};
  if (sender) *sender = status.MPI_SOURCE;
  return Message::from_cbor(bytes);
}

Worked timed(std::size_t number, std::function<Outcome(std::size_t)> const& work, int rank) {
  double const began = MPI_Wtime();
  Worked one{number, work(number), 0, rank};
  one.seconds = MPI_Wtime() - began;
  return one;
}

/// Rank 0 at work in a thread beside the one that serves.
class OwnWork {
public:
  OwnWork(HandOut& points, std::function<Outcome(std::size_t)> const& work) : points_{points}, work_{work} {
    thread_ = std::jthread{[this](std::stop_token const& stopped) { go(stopped); }};
  }
  std::mutex& mutex() { return mutex_; }
  /// Errors  what work threw.
  std::vector<Worked> ended() {
    if (failure_) std::rethrow_exception(failure_);
    return std::exchange(ended_, {});
  }

private:
  void go(std::stop_token const& stopped) {
    while (!stopped.stop_requested()) {
      std::vector<std::size_t> next;
      {
        std::scoped_lock const lock{mutex_};
        next = points_.take(0, 1, MPI_Wtime());
      }
      if (next.empty()) {
        std::this_thread::sleep_for(pause_between_looks);
        continue;
      }
      try {
        auto one = timed(next[0], work_, 0);
        std::scoped_lock const lock{mutex_};
        ended_.push_back(std::move(one));
      } catch (...) {
        std::scoped_lock const lock{mutex_};
        failure_ = std::current_exception();
        return;
      }
    }
  }

  HandOut& points_;
  std::function<Outcome(std::size_t)> const& work_;
  std::mutex mutex_;
  std::vector<Worked> ended_;
  std::exception_ptr failure_;
  std::jthread thread_;
};

}  // namespace

bool Ranks::was_started_by_mpi() {
  for (auto const* name : {"OMPI_COMM_WORLD_SIZE", "PMI_SIZE", "PMIX_RANK"})
    if (std::getenv(name)) return true;
  return false;
}

Ranks::Ranks(double patience) : patience_{patience} {
  int provided = 0;
  if (MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &provided) != MPI_SUCCESS || provided < MPI_THREAD_FUNNELED)
    throw std::runtime_error{"MPI cannot be used from a program with threads"};
  MPI_Comm_set_errhandler(MPI_COMM_WORLD, MPI_ERRORS_RETURN);  // a lost rank is no reason to end
  MPI_Comm_rank(MPI_COMM_WORLD, &rank_), MPI_Comm_size(MPI_COMM_WORLD, &size_);
  if (rank_ > 0) std::cout.setstate(std::ios::failbit), std::cerr.setstate(std::ios::failbit);
}

Ranks::~Ranks() {
  if (!somebody_is_lost_) MPI_Finalize();  // it waits for all, and one would never come
}

void Ranks::agree(std::string const& what, std::string const& why_not) const {
  auto const mine = Message::to_cbor(Message{what, why_not});
  int const length = int(mine.size());
  std::vector<int> lengths(size_), places(size_);
  MPI_Gather(&length, 1, MPI_INT, lengths.data(), 1, MPI_INT, 0, MPI_COMM_WORLD);
  int all = 0;
  for (int r = 0; r < size_; ++r) places[r] = all, all += lengths[r];
  std::vector<std::uint8_t> texts(std::size_t(all), 0);
  MPI_Gatherv(mine.data(), length, MPI_BYTE, texts.data(), lengths.data(), places.data(), MPI_BYTE, 0, MPI_COMM_WORLD);
  std::string verdict;
  for (int r = 0; rank_ == 0 && r < size_ && verdict.empty(); ++r) {
    auto const told = Message::from_cbor(texts.begin() + places[r], texts.begin() + places[r] + lengths[r]);
    if (auto const why = told[1].get<std::string>(); !why.empty()) verdict = r == 0 ? why : fmt::format("on rank {}:\n{}", r, why);
    else if (told[0] != what)
      verdict = fmt::format(
          "error: rank {} has another study, or another version of steadyfire\n"
          "  expected  the same files and the same program on every machine\n",
          r);
  }
  int size = int(verdict.size());
  MPI_Bcast(&size, 1, MPI_INT, 0, MPI_COMM_WORLD);
  verdict.resize(std::size_t(size));
  MPI_Bcast(verdict.data(), size, MPI_CHAR, 0, MPI_COMM_WORLD);
  if (!verdict.empty()) throw BadInput{verdict};
}

void Ranks::run(std::span<std::size_t const> points, std::function<Outcome(std::size_t)> const& work,
                std::function<void(Worked&&)> const& keep, std::function<bool()> const& stop) {
  HandOut out{points, patience_};
  std::set<int> lost;
  std::exception_ptr failure;
  try {
    OwnWork own{out, work};
    double last_sign = MPI_Wtime();
    for (;;) {
      bool is_idle = true;
      std::vector<Worked> ended;
      int from = 0;
      while (auto const message = next_message(MPI_ANY_SOURCE, came_in, &from)) {
        is_idle = false;
        std::scoped_lock const lock{own.mutex()};
        Worked one{message->at(0), {message->at(1), message->at(2)}, message->at(3), from};
        lost.erase(from);
        if (out.came(from, one.number, one.seconds, MPI_Wtime())) ended.push_back(std::move(one));
      }
      {
        std::scoped_lock const lock{own.mutex()};
        for (auto& one : own.ended())
          if (out.came(0, one.number, one.seconds, MPI_Wtime())) ended.push_back(std::move(one));
        for (int const rank : out.give_up_silent(MPI_Wtime())) {
          if (rank > 0) lost.insert(rank);
          std::cerr << fmt::format("rank {} does not answer; its points go to others\n", rank);
        }
      }
      for (auto& one : ended) keep(std::move(one));
      double const now = MPI_Wtime();
      bool const signs = now - last_sign > sign_of_life_every;
      if (signs) last_sign = now;
      std::vector<std::pair<int, std::vector<std::size_t>>> handed;
      {
        std::scoped_lock const lock{own.mutex()};
        if (out.all_came() || (stop && stop())) break;
        for (int rank = 1; rank < size_; ++rank) {
          if (lost.count(rank)) continue;
          auto const held = out.held_by(rank), share = out.share();
          auto next = 2 * held <= share ? out.take(rank, share - held, now) : std::vector<std::size_t>{};
          if (!next.empty() || signs) handed.emplace_back(rank, std::move(next));
        }
      }
      for (auto const& [rank, next] : handed) {  // without the lock: its own thread works on meanwhile
        is_idle = false;
        if (!send(Message{{"points", next}}, rank, work_for_you)) lost.insert(rank);
      }
      if (is_idle) std::this_thread::sleep_for(pause_between_looks);
    }
  } catch (...) { failure = std::current_exception(); }
  part(std::move(lost));
  if (failure) std::rethrow_exception(failure);
}

void Ranks::part(std::set<int> lost) {
  std::set<int> there;
  for (int rank = 1; rank < size_; ++rank)
    if (!lost.count(rank) && send(Message{{"end", true}}, rank, work_for_you)) there.insert(rank);
  auto awaited = there;
  for (double const until = MPI_Wtime() + patience_; !awaited.empty() && MPI_Wtime() < until;) {
    int from = 0;
    if (next_message(MPI_ANY_SOURCE, goodbye, &from)) awaited.erase(from);
    else if (!next_message(MPI_ANY_SOURCE, came_in)) std::this_thread::sleep_for(pause_between_looks);  // too late: dropped
  }
  somebody_is_lost_ = int(there.size()) < size_ - 1 || !awaited.empty();
  for (int rank = 1; rank < size_; ++rank) send(Message{{"leave", somebody_is_lost_}}, rank, work_for_you);
}

void Ranks::serve(std::function<Outcome(std::size_t)> const& work) {
  somebody_is_lost_ = true;  // until rank 0 says otherwise: whoever leaves early must not wait for the others
  std::deque<std::size_t> mine;
  double heard = MPI_Wtime();
  for (;;) {
    while (auto const message = next_message(0, work_for_you)) {
      heard = MPI_Wtime();
      if (message->contains("leave")) {
        somebody_is_lost_ = message->at("leave");
        return;
      }
      if (message->contains("end")) {
        mine.clear();
        send(Message{{"bye", true}}, 0, goodbye);
      }
      if (message->contains("points"))
        for (std::size_t const p : message->at("points")) mine.push_back(p);
    }
    if (mine.empty()) {
      if (MPI_Wtime() - heard > longest_silence) throw std::runtime_error{"rank 0 does not answer"};
      std::this_thread::sleep_for(pause_between_looks);
      continue;
    }
    auto const one = timed(mine.front(), work, rank_);
    mine.pop_front();
    send(Message{one.number, one.outcome.figures, one.outcome.fault, one.seconds}, 0, came_in);
  }
}

}  // namespace steadyfire

#include "tools/web/run_queue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <new>

#include "sim/core/diagnostic.hpp"
#include "tools/web/folder.hpp"

namespace steadyfire::web {

std::string to_text(Json const& json) { return json.dump(-1, ' ', false, Json::error_handler_t::replace); }

Json explain_failure() {
  auto const told = [](int status, std::string const& words, std::string const& hint) {
    return Json{{"error", words}, {"hint", hint}, {"status", status}};
  };
  try {
    throw;
  } catch (BadRequest const& e) {
    return told(400, e.what(), e.hint);
  } catch (Refused const& e) {
    return told(e.status, e.what(), e.hint);
  } catch (Json::exception const& e) {
    return told(400, fmt::format("the request has a value of the wrong type: {}", e.what()),
                "reload the page; it is from another version of steadyfire");
  } catch (std::bad_alloc const&) {
    return told(500, "not enough memory", "try a shorter run or fewer variants");
  } catch (std::exception const& e) {
    return told(500, fmt::format("program fault, not your scenario: {}", e.what()), "");
  } catch (...) {
    return told(500, "program fault, not your scenario", "");
  }
}

std::optional<LongAnswer::News> LongAnswer::wait(std::chrono::milliseconds patience) {
  std::unique_lock lock{mutex_};
  told_.wait_for(lock, patience, [&] { return part_ || last_; });
  auto news = std::exchange(part_, std::nullopt);
  return news ? news : std::exchange(last_, std::nullopt);
}

void LongAnswer::tell(News news) {
  {
    std::lock_guard const lock{mutex_};
    (news.is_last() ? last_ : part_) = std::move(news);
  }
  told_.notify_one();
}

RunQueue::RunQueue(unsigned at_once, unsigned waiting, std::chrono::milliseconds limit) : waiting_{waiting}, limit_{limit} {
  for (unsigned i = 0; i < std::max(1u, at_once); ++i) workers_.emplace_back([this] { serve(); });
}

RunQueue::~RunQueue() {
  {
    std::lock_guard const lock{mutex_};
    closing_ = true;
  }
  changed_.notify_all();
  for (auto& w : workers_) w.join();
}

std::shared_ptr<LongAnswer> RunQueue::start(std::function<Json(Listener const&)> work) {
  auto answer = std::make_shared<LongAnswer>();
  answer->work_ = std::move(work);
  {
    std::lock_guard const lock{mutex_};
    line_.erase(std::remove_if(line_.begin(), line_.end(), [](auto const& a) { return a->is_stopped(); }), line_.end());
    if (closing_ || line_.size() >= idle_ + waiting_) return nullptr;
    line_.push_back(answer);
  }
  changed_.notify_one();
  return answer;
}

void RunQueue::serve() {
  std::unique_lock lock{mutex_};
  while (!closing_) {
    ++idle_;
    changed_.wait(lock, [&] { return closing_ || !line_.empty(); });
    --idle_;
    if (closing_) return;
    auto const answer = std::move(line_.front());
    line_.pop_front();
    lock.unlock();
    if (!answer->is_stopped()) make(*answer);
    lock.lock();
  }
}

void RunQueue::make(LongAnswer& answer) const {
  auto const end = std::chrono::steady_clock::now() + limit_;
  auto const is_late = [&] { return std::chrono::steady_clock::now() > end; };
  Listener const listener{[&](Json const& part) { answer.tell({"part", to_text(part)}); },
                          [&] { return answer.is_stopped() || closing_ || is_late(); }};
  auto const fail = [&](Json const& why) { answer.tell({"failed", to_text(why)}); };
  try {
    auto const work = std::move(answer.work_);
    answer.tell({"answer", to_text(work(listener))});
  } catch (Halted const&) {
    if (closing_)
      fail({{"error", "steadyfire was stopped"}, {"hint", ""}, {"status", 503}});
    else if (!answer.is_stopped())
      fail({{"error", fmt::format("stopped: it took longer than {} s", double(limit_.count()) / 1000)},
            {"hint", "set a shorter run in [run], or use 'steadyfire run', which has no time limit"},
            {"status", 503}});
  } catch (...) {
    fail(explain_failure());
  }
}

}  // namespace steadyfire::web

#include "logbook/flat/rows.hpp"

#include <algorithm>
#include <tuple>

namespace plumule::logbook {
namespace {

constexpr std::size_t block_of_run = 4096;

bool before(const FlatLook& a, const FlatLook& b) {
  return std::tuple(a.sowing, a.at(), a.line) < std::tuple(b.sowing, b.at(), b.line);
}

}  // namespace

void FlatLooks::add(const FlatLook& look) {
  if (looks_.size() == most_) sound_ = spill() && sound_;
  if (looks_.empty()) looks_.reserve(std::min<std::size_t>(most_, 1024));
  sorted_ = sorted_ && (looks_.empty() || before(looks_.back(), look));
  looks_.push_back(look);
  ++added_;
}

bool FlatLooks::spill() {
  if (!sorted_) std::sort(looks_.begin(), looks_.end(), before);
  sorted_ = true;
  if (!file_) file_.reset(std::tmpfile());
  if (!file_) return false;
  Run run;
  run.at = runs_.empty() ? 0 : runs_.back().end;
  run.end = run.at + looks_.size();
  runs_.push_back(std::move(run));
  const std::size_t written =
      std::fwrite(looks_.data(), sizeof(FlatLook), looks_.size(), file_.get());
  const bool whole = written == looks_.size() && std::fflush(file_.get()) == 0;
  looks_.clear();
  return whole;
}

bool FlatLooks::load(Run& run) {
  const std::size_t count = std::min(block_of_run, run.end - run.at);
  run.block.resize(count);
  run.in_block = 0;
  if (count == 0) return false;
  const auto offset = static_cast<long>(run.at * sizeof(FlatLook));
  run.at += count;
  const bool whole = std::fseek(file_.get(), offset, SEEK_SET) == 0 &&
                     std::fread(run.block.data(), sizeof(FlatLook), count, file_.get()) == count;
  sound_ = sound_ && whole;
  return whole;
}

bool FlatLooks::sort() {
  if (runs_.empty()) {
    if (!sorted_) std::sort(looks_.begin(), looks_.end(), before);
    return sound_;
  }
  sound_ = spill() && sound_;
  looks_.shrink_to_fit();
  for (std::size_t r = 0; sound_ && r < runs_.size(); ++r)
    if (load(runs_[r])) heap_.push_back(r);
  const auto later = [this](std::size_t a, std::size_t b) {
    return before(runs_[b].block[runs_[b].in_block], runs_[a].block[runs_[a].in_block]);
  };
  std::make_heap(heap_.begin(), heap_.end(), later);
  return sound_;
}

const FlatLook* FlatLooks::next() {
  if (runs_.empty()) return given_ < looks_.size() ? &looks_[given_++] : nullptr;
  const auto later = [this](std::size_t a, std::size_t b) {
    return before(runs_[b].block[runs_[b].in_block], runs_[a].block[runs_[a].in_block]);
  };
  if (!sound_ || heap_.empty()) return nullptr;
  std::pop_heap(heap_.begin(), heap_.end(), later);
  Run& run = runs_[heap_.back()];
  looks_.assign(1, run.block[run.in_block]);
  if (++run.in_block < run.block.size() || load(run))
    std::push_heap(heap_.begin(), heap_.end(), later);
  else
    heap_.pop_back();
  return sound_ ? looks_.data() : nullptr;
}

}  // namespace plumule::logbook

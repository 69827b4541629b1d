#include "logbook/plain_model.hpp"

#include <algorithm>

namespace plumule::tests {
namespace {

std::int64_t middle(const Look& look) {
  return look.high ? look.value + (*look.high - look.value) / 2 : look.value;
}

std::int64_t day_of(std::int64_t minute) {
  return minute >= 0 ? minute / 1440 : -((-minute + 1439) / 1440);
}

}  // namespace

namespace {

// Up at the look k of all of them by itself: of a guess the middle, or as few as the next such look
// still allows, if that lies in the guess.
std::int64_t said_at(const std::vector<Look>& all, std::size_t k);

// How many can have been up after the look i by the next look that speaks of all of them.
std::optional<std::int64_t> allowed(const std::vector<Look>& all, std::size_t i) {
  std::int64_t came = 0;
  for (std::size_t k = i + 1; k < all.size(); ++k) {
    if (all[k].kind == 0 || all[k].kind == 2) return said_at(all, k) - came;
    if (all[k].kind == 1) came += all[k].value;
  }
  return std::nullopt;
}

std::int64_t said_at(const std::vector<Look>& all, std::size_t k) {
  std::int64_t sum = middle(all[k]);
  if (all[k].kind == 2)
    for (std::size_t j = 0; j <= k; ++j) sum += all[j].lost;
  if (all[k].high)
    if (const auto most = allowed(all, k); most && *most >= all[k].value && *most < sum)
      return *most;
  return sum;
}

}  // namespace

std::vector<std::int64_t> Notebook::up() const {
  std::vector<Look> all;
  for (const auto& [minute, look] : looks) all.push_back(look);
  std::vector<std::int64_t> found;
  std::int64_t before = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::int64_t now = before;
    if (all[i].kind == 0 || all[i].kind == 2) now = said_at(all, i);
    if (all[i].kind == 1) {
      now = before + middle(all[i]);
      if (all[i].high)
        if (const auto most = allowed(all, i);
            most && *most >= before + all[i].value && *most < now)
          now = *most;
    }
    found.push_back(now);
    before = now;
  }
  return found;
}

bool Notebook::can_be() const {
  const std::vector<std::int64_t> ever = up();
  std::vector<std::int64_t> minutes;
  std::vector<Look> all;
  for (const auto& [minute, look] : looks) {
    minutes.push_back(minute);
    all.push_back(look);
  }
  const std::size_t n = all.size();
  for (std::size_t i = 0; i < n; ++i) {
    const std::int64_t day = day_of(minutes[i]);
    if (day < sown_day || (ended_day && day > *ended_day)) return false;
    if (taken_out && (all[i].kind == 0 || all[i].kind == 2)) return false;
    const bool nothing =
        ever[i] == 0 && all[i].high.value_or(0) == 0 && all[i].seedlings.value_or(0) == 0;
    if (day == sown_day && !nothing) return false;
  }
  if (!std::is_sorted(ever.begin(), ever.end())) return false;
  if (units && n > 0 && ever.back() + assessed > *units) return false;
  for (std::size_t i = 0; i < n; ++i) {
    const std::int64_t others = all[i].kind == 1 && i > 0 ? ever[i - 1] : 0;
    if (units && all[i].high && others + *all[i].high > *units) return false;
  }
  // Guesses begin no lower than what was seen before.
  for (std::size_t i = 1; i < n; ++i)
    if (all[i].kind == 0 && all[i].high) {
      const std::int64_t floor = all[i - 1].kind == 0 ? all[i - 1].value : ever[i - 1];
      if (all[i].value < floor) return false;
    }
  // Lost are of those that stood.
  std::int64_t gone = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const std::int64_t stood = i == 0 ? 0 : ever[i - 1] - gone;
    if (all[i].lost > stood) return false;
    gone += all[i].lost;
  }
  std::int64_t seedlings = 0;
  for (std::size_t i = 0; i < n; ++i) {
    if (!all[i].seedlings) continue;
    if (*all[i].seedlings < seedlings || *all[i].seedlings < ever[i]) return false;
    seedlings = *all[i].seedlings;
    if (seeds_per_cell > 0 && units && seedlings > *units * seeds_per_cell) return false;
  }
  return true;
}

}  // namespace plumule::tests

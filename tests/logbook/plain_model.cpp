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

std::vector<std::int64_t> Notebook::up() const {
  std::vector<Look> all;
  for (const auto& [minute, look] : looks) all.push_back(look);
  std::vector<std::int64_t> found;
  for (std::size_t i = 0; i < all.size(); ++i) {
    // The last look at or before this one that speaks of all of them.
    std::size_t from = i + 1;
    while (from > 0 && all[from - 1].kind != 0 && all[from - 1].kind != 2) --from;
    std::int64_t sum = 0;
    if (from > 0) {
      sum = middle(all[from - 1]);
      if (all[from - 1].kind == 2)
        for (std::size_t k = 0; k < from; ++k) sum += all[k].lost;
    }
    for (std::size_t k = from; k <= i; ++k)
      if (all[k].kind == 1) sum += middle(all[k]);
    found.push_back(sum);
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
  for (std::size_t i = 0; i < n; ++i)
    if (units && all[i].high && ever[i] + (*all[i].high - middle(all[i])) > *units) return false;
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

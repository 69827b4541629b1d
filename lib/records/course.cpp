#include "records/course.hpp"

#include <algorithm>

namespace plumule::records {
namespace {

// What the looks before add up to.
struct SoFar {
  std::int64_t total = 0;
  std::int64_t low = 0;  // the low end of the look before, where that was a guess; else its total
  std::int64_t lost = 0;
  std::int64_t seedlings = 0;
};

bool absurd(std::int64_t value) { return value < 0 || value > most_units; }

bool absurd(const Entered& entered) {
  return absurd(entered.value) || absurd(entered.lost) ||
         (entered.high &&
          (absurd(*entered.high) || *entered.high <= entered.value ||
           entered.kind == CountKind::standing || entered.kind == CountKind::seedlings)) ||
         (entered.seedlings && absurd(*entered.seedlings)) ||
         (entered.lost != 0 && entered.kind != CountKind::standing) ||
         (entered.kind == CountKind::seedlings && (!entered.seedlings || entered.value != 0));
}

// The middle, rounded down.
std::int64_t middle_of(const Entered& entered) {
  return entered.high ? (entered.value + *entered.high) / 2 : entered.value;
}

// The most that can have been up, by what was seen later; none where nothing later tells.
using Room = std::optional<std::int64_t>;

// Of a guess: its middle, but no more than there is room for, where its low end has that room.
std::int64_t guessed(std::int64_t low, std::int64_t middle, const Room& room) {
  return room && *room >= low ? std::min(middle, *room) : middle;
}

// After each look, the room that the next figure for all of them leaves, less what came between
// for sure. A course without guesses needs none.
std::vector<Room> rooms(const std::vector<Count>& counts) {
  std::vector<Room> all;
  if (std::none_of(counts.begin(), counts.end(),
                   [](const Count& count) { return count.entered.high.has_value(); }))
    return all;
  all.resize(counts.size());
  std::int64_t lost = 0;
  for (const Count& count : counts) lost += count.entered.lost;
  Room room;
  for (std::size_t i = counts.size(); i-- > 0;) {
    all[i] = room;
    const Entered& entered = counts[i].entered;
    if (absurd(entered)) {
      room.reset();
    } else if (entered.kind == CountKind::total) {
      room = guessed(entered.value, middle_of(entered), room);
    } else if (entered.kind == CountKind::standing) {
      room = entered.value + lost;
    } else if (entered.kind == CountKind::newly && room) {
      *room -= entered.value;
    }
    lost -= entered.lost;
  }
  return all;
}

std::int64_t total_of(const Entered& entered, const SoFar& before, const Room& room) {
  const std::int64_t middle = middle_of(entered);
  switch (entered.kind) {
    case CountKind::total:
      return entered.high ? guessed(entered.value, middle, room) : middle;
    case CountKind::newly:
      if (!entered.high) return before.total + middle;
      return guessed(before.total + entered.value, before.total + middle, room);
    case CountKind::standing:
      return entered.value + before.lost + entered.lost;
    case CountKind::seedlings:
      break;
  }
  return before.total;
}

std::optional<Fault> fault_of(const Sowing& sowing, const Count& count, const SoFar& before) {
  const Entered& entered = count.entered;
  if (earlier(count.at, sowing.sown)) return Fault::before_sowing;
  if (sowing.ending && earlier(sowing.ending->at, count.at)) return Fault::after_ending;
  if (sowing.taken_out && (entered.kind == CountKind::total || entered.kind == CountKind::standing))
    return Fault::total_where_taken_out;
  if (count.total < before.total) return Fault::total_falls;
  if (entered.kind == CountKind::total && entered.high && entered.value < before.low)
    return Fault::guess_below;
  const std::int64_t most = !entered.high                      ? count.total
                            : entered.kind == CountKind::newly ? before.total + *entered.high
                                                               : *entered.high;
  if (count.total > most_units || (sowing.units && most > *sowing.units))
    return Fault::more_than_sown;
  if (count.at.date == sowing.sown.date && (most > 0 || entered.seedlings.value_or(0) > 0))
    return Fault::up_at_sowing;
  if (!entered.seedlings) return std::nullopt;
  if (*entered.seedlings < before.seedlings) return Fault::seedlings_fall;
  if (*entered.seedlings < count.total) return Fault::seedlings_below_units;
  if (sowing.unit == UnitKind::cell && sowing.units &&
      *entered.seedlings > *sowing.units * sowing.seeds_per_cell)
    return Fault::seedlings_over_seeds;
  return std::nullopt;
}

}  // namespace

std::optional<Trouble> derive(const Sowing& sowing, std::vector<Count>& counts) {
  SoFar before;
  const std::vector<Room> room = rooms(counts);
  for (std::size_t i = 0; i < counts.size(); ++i) {
    Count& count = counts[i];
    if (absurd(count.entered)) return Trouble{i, Fault::absurd_number};
    count.total = total_of(count.entered, before, room.empty() ? Room() : room[i]);
    if (const auto fault = fault_of(sowing, count, before)) return Trouble{i, *fault};
    before.total = count.total;
    before.low = count.entered.kind == CountKind::total ? count.entered.value : count.total;
    before.lost += count.entered.lost;
    if (count.entered.seedlings) before.seedlings = *count.entered.seedlings;
  }
  return std::nullopt;
}

std::optional<Trouble> settle_plain(const Sowing& sowing, std::vector<Count>& counts,
                                    std::size_t index) {
  if (index == 0 || sowing.taken_out) return std::nullopt;
  const auto typed = counts.begin() + static_cast<std::ptrdiff_t>(index);
  if (std::all_of(counts.begin(), typed, [](const Count& look) { return look.entered.lost == 0; }))
    return std::nullopt;
  const Entered in_all = typed->entered;
  const Entered standing{.kind = CountKind::standing, .value = in_all.value};
  const bool may_be_all = !derive(sowing, counts);
  typed->entered = standing;
  const bool may_stand = !derive(sowing, counts);
  if (may_be_all && may_stand) {
    typed->entered = in_all;
    return Trouble{index, Fault::two_readings};
  }
  const bool between =
      in_all.value >= standing_at(counts, index - 1) && in_all.value < counts[index - 1].total;
  if (may_be_all || (!may_stand && !between)) typed->entered = in_all;
  return std::nullopt;
}

std::optional<Trouble> more_lost_than_stood(const std::vector<Count>& was,
                                            const std::vector<Count>& now, std::size_t typed,
                                            std::int64_t came_lost) {
  const auto too_many = [](const std::vector<Count>& counts, std::size_t i) {
    const std::int64_t lost = counts[i].entered.lost;
    return lost > 0 && lost > (i == 0 ? 0 : standing_at(counts, i - 1));
  };
  for (std::size_t i = 0; i < now.size(); ++i) {
    if (!too_many(now, i)) continue;
    if (i == typed) {
      if (now[i].entered.lost - came_lost > (i == 0 ? 0 : standing_at(now, i - 1)))
        return Trouble{i, Fault::standing_rises};
      continue;
    }
    const auto before = std::find_if(was.begin(), was.end(), [&](const Count& count) {
      return count.at == now[i].at && count.entered == now[i].entered;
    });
    if (before == was.end() || !too_many(was, static_cast<std::size_t>(before - was.begin())))
      return Trouble{i, Fault::standing_rises};
  }
  return std::nullopt;
}

std::int64_t standing_at(const std::vector<Count>& counts, std::size_t index) {
  std::int64_t lost = 0;
  for (std::size_t i = 0; i <= index; ++i) lost += counts[i].entered.lost;
  return counts[index].total - lost;
}

}  // namespace plumule::records

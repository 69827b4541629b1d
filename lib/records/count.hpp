// A count as the grower entered it, and the total ever up that follows from it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "records/date.hpp"
#include "records/lot.hpp"

namespace plumule::records {

// Stored as these numbers: never renumber.
enum class CountKind {
  total = 0,      // total ever up
  newly = 1,      // newly up since the last look ("same" is newly 0)
  standing = 2,   // standing now, with those lost since the last look
  seedlings = 3,  // only seedlings are known (clusters, rows): says nothing of units
};

struct Entered {
  CountKind kind = CountKind::total;
  std::int64_t value = 0;                      // the figure, or the low end of a guess
  std::optional<std::int64_t> high = {};       // high end of a guess
  std::int64_t lost = 0;                       // of `standing`: lost since the last look
  std::optional<std::int64_t> seedlings = {};  // in all so far, where a unit can give several

  bool operator==(const Entered&) const = default;
};

// Who counted, where nobody is named.
inline constexpr std::string_view nobody_named = "somebody";

struct Count {
  Moment at;
  Entered entered;
  std::string by = {};     // who counted; empty: not said
  std::int64_t total = 0;  // derived: units ever up (the middle of a guess, rounded down)

  bool operator==(const Count&) const = default;
};

// A count kept out of every figure: seen, but the rules refuse it; or a second person's reading.
struct SetAside {
  Id id = 0;
  Count count;
  std::string why = {};
};

// What was typed: the figure, and what else its form says. A figure that was not typed is meant as
// it stands.
struct Typed {
  Typed() = default;
  Typed(const Entered& meant) : entered(meant) {}

  Entered entered = {};
  bool plain = false;          // a number alone: after a loss it may be what stands
  std::int64_t came_lost = 0;  // of `lost`: came up since the last look and was lost since
};

// The value part of a pair as typed: `12`, `12all` (in all, also after a loss), `12-2`, `12-2+1`
// (12 stand, 2 of those that stood were lost, 1 more came up and was lost since), `28..32`, `5/9`,
// `/9` or `?/9`, `same`; `newly` for a pair split at '+', which takes `3`, `2..4` and `3/9` (3 new
// units, 9 seedlings in all). A value that itself begins with '+' is newly too. Throws Refused with
// what may be typed.
Typed parse_typed(std::string_view text, bool newly);
// As a grower would type it after the label: "=12", "+3", "=12-2", "=28..32", "=5/9", "=/9",
// "=same". No shell takes any of it for a sign of its own.
std::string to_text(const Entered& entered);
// The same with what came up and was lost told apart: "=12-2+1".
std::string to_text(const Typed& typed);
// "14 up in all", "3 new", "12 standing, 2 lost", "28 to 32 up in all", "nothing new".
std::string in_words(const Entered& entered);

// A pair such as A1=12, A1:12, A2+3, B1=same: split at its first '=', else at its first ':', else
// at its last '+'.
struct Pair {
  std::string name = {};
  Typed typed;
};
Pair parse_pair(std::string_view text);
// Where a word may be split so: it holds one of these signs. A label holds none of them.
bool is_pair(std::string_view text);

}  // namespace plumule::records

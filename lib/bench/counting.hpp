// Taking in one figure of one sowing, and what the record made of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/record/counts.hpp"
#include "records/count.hpp"
#include "records/refused.hpp"
#include "records/sowing.hpp"

namespace plumule::bench {

enum class Fate { saved, nothing_new, second_reading, doubtful };

struct Noted {
  records::Sowing sowing;
  records::Count count;                  // with its derived total, unless kept aside
  std::optional<records::Count> before;  // the look before it
  std::int64_t lost_before = 0;          // lost up to that look
  bool taken_as_standing = false;        // a number alone, which could be nothing else
  Fate fate = Fate::saved;
  std::string why;    // of a doubtful one
  std::string aside;  // what was kept aside is called so: "d1", "r1"
  bool blind = false;
};

// Records the figure within the entry. Throws records::Refused.
Noted note_count(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 const records::Typed& typed);

// Keeps it aside instead, in no figure; `why` says what makes it doubtful.
Noted note_doubtful(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                    const records::Entered& entered, const std::string& why);

// What the rules say against such a figure, where no count stands at that moment; none where they
// take it. No earlier figure is told in a blind trial.
std::optional<records::Refusal> against(logbook::Logbook& logbook, const records::Sowing& sowing,
                                        const records::Moment& at, const records::Typed& typed);

// The latest count before that moment, and the count at that very moment.
std::optional<records::Count> look_before(const std::vector<records::Count>& counts,
                                          const records::Moment& at);
std::optional<records::Count> look_at(const std::vector<records::Count>& counts,
                                      const records::Moment& at);

// How many were lost at the looks before that moment.
std::int64_t lost_before(const std::vector<records::Count>& counts, const records::Moment& at);

// Where clusters gave far more seedlings each than is published of the crop.
struct ManySeedlings {
  double each = 0;
  double most_published = 0;
};
std::optional<ManySeedlings> many_seedlings(const Noted& noted);

}  // namespace plumule::bench

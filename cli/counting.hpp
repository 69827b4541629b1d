// Entering one figure of one sowing, and saying what came of it: for pairs and for the walk.
#pragma once

#include <optional>
#include <string>

#include "cli/showing/json.hpp"
#include "logbook/record/counts.hpp"
#include "records/count.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

enum class Fate { saved, nothing_new, second_reading, doubtful };

struct Noted {
  records::Sowing sowing;
  records::Count count;                  // with its derived total, unless kept aside
  std::optional<records::Count> before;  // the look before it
  std::int64_t lost_before = 0;          // lost up to that look
  bool may_stand = false;                // a plain total that may have been meant as standing
  Fate fate = Fate::saved;
  std::string why;    // of a doubtful one
  std::string aside;  // what was kept aside is called so: "d1", "r1"
  bool blind = false;
};

// Records the figure within the entry. Throws records::Refused.
Noted note_count(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 const records::Entered& entered);

// Keeps it aside instead; `why` as given, else what the rules say against it.
Noted note_doubtful(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                    const records::Entered& entered, const std::string& why);

// The latest count before that moment, and the count at that very moment.
std::optional<records::Count> look_before(const std::vector<records::Count>& counts,
                                          const records::Moment& at);
std::optional<records::Count> look_at(const std::vector<records::Count>& counts,
                                      const records::Moment& at);

// How many were lost at the looks before that moment.
std::int64_t lost_before(const std::vector<records::Count>& counts, const records::Moment& at);

// "12 of 50 up (+2)", and how many of them stand where some were lost before; in a blind trial only
// what was entered.
std::string in_words(const Noted& noted);
// "plumule amend A1 --keep r1, or --discard r1, settles it".
std::string settling(const records::Sowing& sowing, const std::string& aside);
// A question where clusters gave far more seedlings each than is published; else empty.
std::string doubt_of_clusters(const Noted& noted);
Json to_json(const Noted& noted);

}  // namespace plumule::cli

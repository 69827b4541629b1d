// Jars: which sowings had their seed treated together.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::bench {

// How the seed of one command was treated: in a jar of that name, each treatment in one of its own,
// or each tray's by itself. Neither: not recorded.
struct Jars {
  std::string name;
  bool own = false;
};

// The name of the jar that this sowing's seed was in, of so many treatments that were sown
// together; empty where none is recorded, and for untreated seed sown beside treated.
std::string jar_of(const Jars& jars, std::size_t treatments, const records::Sowing& sowing);

// Sets the sowing's jar, which is made where it is new. Refused where it holds another treatment.
void put_in_jar(logbook::Entry& entry, const std::string& code, records::Sowing& sowing);

// A treatment of a trial of which a jar is recorded for a part of the sowings only.
struct JarsKnown {
  std::string trial;
  std::string treatment;
  std::int64_t in_jars = 0;
  std::int64_t sowings = 0;

  bool operator==(const JarsKnown&) const = default;
};
// Of the trials and treatments of these sowings, as they stand now; each once.
std::vector<JarsKnown> jars_partly_known(logbook::Logbook& logbook,
                                         const std::vector<records::Sowing>& sowings);

}  // namespace plumule::bench

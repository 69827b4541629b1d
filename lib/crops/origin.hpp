// Where a fact comes from and how far it can be trusted. Every figure of lib/crops carries one.
//
// All texts of lib/crops are views into tables compiled into the program: they live as long as it
// does, and may be kept and copied freely.
#pragma once

#include <string_view>

namespace plumule::crops {

enum class Trust {
  read,             // seen in a copy of the source
  computed,         // worked out by a program from figures that were read
  memory,           // recalled, not checked against the source
  common_practice,  // growers' advice that rests on no trial known to us
};

// "read", "computed", "from memory", "common practice": as shown to a grower.
std::string_view words(Trust trust);

struct Origin {
  std::string_view source;   // author, title or institution; never empty in a fact
  std::string_view kind;     // law, government, extension, journal, thesis, textbook, handbook,
                             // secondary, practice, computation
  std::string_view address;  // web address: law, government, extension and journals only
  Trust trust = Trust::read;
  std::string_view note;  // a doubt or limit in a sentence; often empty
};

// The origin of a row from its `source`, `trust` and `note` cells: the source is looked up in
// sources.csv. Throws std::logic_error for a key or a word of trust that the tables do not know,
// which the tests of the tables rule out.
Origin origin(std::string_view source_key, std::string_view trust, std::string_view note);

}  // namespace plumule::crops

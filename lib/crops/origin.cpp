// Looks a source up by its key in sources.csv.
#include "crops/origin.hpp"

#include <stdexcept>
#include <string>

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

Trust trust_of(std::string_view word) {
  if (word == "read") return Trust::read;
  if (word == "computed") return Trust::computed;
  if (word == "memory") return Trust::memory;
  if (word == "common practice") return Trust::common_practice;
  throw std::logic_error("a reference table has no such trust: " + std::string(word));
}

}  // namespace

std::string_view words(Trust trust) {
  switch (trust) {
    case Trust::read:
      return "read";
    case Trust::computed:
      return "computed";
    case Trust::memory:
      return "from memory";
    case Trust::common_practice:
      return "common practice";
  }
  return {};
}

Origin origin(std::string_view source_key, std::string_view trust, std::string_view note) {
  static const Table sources("sources.csv");
  const auto found = sources.rows_of(source_key);
  if (found.empty())
    throw std::logic_error("a reference table has no such source: " + std::string(source_key));
  return {found[0]["title"], found[0]["kind"], found[0]["address"], trust_of(trust), note};
}

Origin origin(const Table::Row& row) { return origin(row["source"], row["trust"], row["note"]); }

}  // namespace plumule::crops

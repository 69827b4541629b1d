// Treatments before sowing by presowing.csv.
#include "crops/presowing.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

constexpr Presowing_topic all_topics[] = {
    Presowing_topic::soaking,   Presowing_topic::scarification, Presowing_topic::chilling,
    Presowing_topic::priming,   Presowing_topic::light,         Presowing_topic::heat_limit,
    Presowing_topic::hot_water, Presowing_topic::bleach,        Presowing_topic::peroxide,
};

Presowing_topic topic_of(std::string_view word) {
  for (const Presowing_topic topic : all_topics)
    if (words(topic) == word) return topic;
  throw std::logic_error("presowing.csv has no such topic: " + std::string(word));
}

const Table& presowing() {
  static const Table table("presowing.csv");
  return table;
}

Presowing fact(const Table::Row& row, bool general) {
  return {topic_of(row["topic"]),
          general,
          row["treatment"],
          row.number("low"),
          row.number("high"),
          row["unit"],
          row["limit"],
          row["limit_reason"],
          origin(row)};
}

std::optional<Soak_limit> shortest_limit(std::string_view key, bool general) {
  std::optional<Soak_limit> shortest;
  for (const auto& row : presowing().rows_of(key)) {
    const std::optional<double> hours = row.number("limit_hours");
    if (row["topic"] == "soaking" && hours && (!shortest || *hours < shortest->hours))
      shortest = {*hours, row["limit_reason"], general, origin(row)};
  }
  return shortest;
}

}  // namespace

std::string_view words(Presowing_topic topic) {
  switch (topic) {
    case Presowing_topic::soaking:
      return "soaking";
    case Presowing_topic::scarification:
      return "scarification";
    case Presowing_topic::chilling:
      return "chilling";
    case Presowing_topic::priming:
      return "priming";
    case Presowing_topic::light:
      return "light";
    case Presowing_topic::heat_limit:
      return "heat limit";
    case Presowing_topic::hot_water:
      return "hot water";
    case Presowing_topic::bleach:
      return "bleach";
    case Presowing_topic::peroxide:
      return "peroxide";
  }
  return {};
}

std::vector<Presowing> presowing_of(const Crop& crop) {
  std::vector<Presowing> facts;
  for (const auto& row : presowing().rows_of(crop.slug)) facts.push_back(fact(row, false));
  for (const auto& row : presowing().rows_of("any")) facts.push_back(fact(row, true));
  std::stable_sort(facts.begin(), facts.end(),
                   [](const auto& a, const auto& b) { return a.topic < b.topic; });
  return facts;
}

Soak_limit soak_limit(const Crop& crop) {
  if (const auto own = shortest_limit(crop.slug, false)) return *own;
  if (const auto general = shortest_limit("any", true)) return *general;
  throw std::logic_error("presowing.csv has no soaking limit for any seed");
}

}  // namespace plumule::crops

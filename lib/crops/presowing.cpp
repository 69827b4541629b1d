// Treatments before sowing by presowing.csv.
#include "crops/presowing.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

constexpr PresowingTopic all_topics[] = {
    PresowingTopic::soaking,   PresowingTopic::scarification, PresowingTopic::chilling,
    PresowingTopic::priming,   PresowingTopic::light,         PresowingTopic::heat_limit,
    PresowingTopic::hot_water, PresowingTopic::bleach,        PresowingTopic::peroxide,
};

PresowingTopic topic_of(std::string_view word) {
  for (const PresowingTopic topic : all_topics)
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

}  // namespace

std::string_view words(PresowingTopic topic) {
  switch (topic) {
    case PresowingTopic::soaking:
      return "soaking";
    case PresowingTopic::scarification:
      return "scarification";
    case PresowingTopic::chilling:
      return "chilling";
    case PresowingTopic::priming:
      return "priming";
    case PresowingTopic::light:
      return "light";
    case PresowingTopic::heat_limit:
      return "heat limit";
    case PresowingTopic::hot_water:
      return "hot water";
    case PresowingTopic::bleach:
      return "bleach";
    case PresowingTopic::peroxide:
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

}  // namespace plumule::crops

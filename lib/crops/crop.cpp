// Gathers what the tables know of a crop into one list of facts, topic by topic.
#include "crops/crop.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "crops/caution.hpp"
#include "crops/clusters.hpp"
#include "crops/emergence.hpp"
#include "crops/hard_seed.hpp"
#include "crops/heat_sum.hpp"
#include "crops/presowing.hpp"
#include "crops/seed_life.hpp"
#include "crops/soil_temperature.hpp"
#include "crops/standard.hpp"
#include "crops/table.hpp"
#include "crops/test_method.hpp"

namespace plumule::crops {
namespace {

using Facts = std::vector<Fact>;

void add(Facts& facts, std::string_view topic, std::string what, std::optional<double> low,
         std::optional<double> high, std::string_view unit, const Origin& origin) {
  if (low || high) facts.push_back({topic, std::move(what), low, high, unit, {}, origin});
}

void add_words(Facts& facts, std::string_view topic, std::string what, std::string_view text,
               const Origin& origin) {
  if (!text.empty())
    facts.push_back({topic, std::move(what), {}, {}, {}, std::string(text), origin});
}

void add_standard(Facts& facts, const Crop& crop) {
  if (const auto standard = standard_of(crop))
    add(facts, "minimum germination", std::string(standard->scope), standard->fraction,
        standard->fraction, "fraction", standard->origin);
}

// "B, T" as "between blotters; in paper towels, ...".
std::string in_words(std::string_view codes) {
  std::string text;
  while (!codes.empty()) {
    const std::size_t end = std::min(codes.find(", "), codes.size());
    if (!text.empty()) text += "; ";
    text += substratum(codes.substr(0, end));
    codes.remove_prefix(std::min(end + 2, codes.size()));
  }
  return text;
}

void add_test(Facts& facts, const Crop& crop) {
  constexpr std::string_view topic = "laboratory test";
  for (const TestMethod& method : test_methods(crop)) {
    const std::string suffix = method.alternate ? ", second method" : "";
    add_words(facts, topic, "sown" + suffix, in_words(method.substrata), method.origin);
    add_words(facts, topic, "temperature (C)" + suffix, method.temperature_c, method.origin);
    add(facts, topic, "first count" + suffix, method.first_count_days, method.first_count_days,
        "days", method.origin);
    add(facts, topic, "final count" + suffix, method.final_count_days, method.final_count_days,
        "days", method.origin);
    add_words(facts, topic, "for this kind" + suffix, method.specific, method.origin);
    add_words(facts, topic, "fresh or dormant seed" + suffix, method.dormant, method.origin);
  }
}

void add_emergence(Facts& facts, const Crop& crop) {
  const std::vector<Emergence> table = emergence_table(crop);
  const auto at_temperature = [](const Emergence& row) {
    return fmt::format("at {:g} C{}{}", row.temp_c, row.borrowed_from.empty() ? "" : ", for ",
                       row.borrowed_from);
  };
  for (const Emergence& row : table) {
    const std::string at = at_temperature(row);
    if (row.days) {
      add(facts, "days to emergence", at, row.days, row.days, "days", row.origin);
    } else if (row.tried) {
      add_words(facts, "days to emergence", at, "too few came up to time", row.origin);
    }
  }
  for (const Emergence& row : table)
    add(facts, "normal seedlings", at_temperature(row), row.fraction, row.fraction, "fraction",
        row.fraction_origin);
  static const Table slow_kinds("slow_kinds.csv");
  for (const auto& row : slow_kinds.rows_of(crop.slug))
    add(facts, "days to emergence", std::string(row["what"]), row.number("days"),
        row.number("days"), "days", origin(row));
}

void add_soil(Facts& facts, const Crop& crop) {
  constexpr std::string_view topic = "soil temperature";
  for (const SoilRange& range : soil_ranges(crop)) {
    add(facts, topic, "lowest", range.lowest, range.lowest, "C", range.origin);
    add(facts, topic, "best range", range.best_from, range.best_to, "C", range.origin);
    add(facts, topic, "best", range.best, range.best, "C", range.origin);
    add(facts, topic, "highest", range.highest, range.highest, "C", range.origin);
  }
}

void add_heat(Facts& facts, const Crop& crop) {
  constexpr std::string_view topic = "thermal time";
  for (const HeatSum& heat : heat_sums(crop)) {
    const std::string of = ", " + std::string(heat.event);
    add(facts, topic, "base" + of, heat.base_c, heat.base_c, "C", heat.origin);
    add(facts, topic, "heat sum" + of, heat.degree_days, heat.degree_days, "degree-days C",
        heat.origin);
    add_words(facts, topic, "best (C)" + of, heat.best_c, heat.origin);
    add_words(facts, topic, "ceiling (C)" + of, heat.ceiling_c, heat.origin);
  }
}

void add_storage(Facts& facts, const Crop& crop) {
  for (const SeedLife& life : seed_lives(crop))
    add(facts, "seed life", std::string(life.storage), life.years_low, life.years_high, "years",
        life.origin);
  static const Table sealed("sealed_moisture.csv");
  for (const auto& row : sealed.rows_of(crop.slug)) {
    const double share = row.number("percent_wet_weight").value_or(0) / 100;
    add(facts, "storage", "most moisture in a sealed container (wet weight)", share, share,
        "fraction", origin(row));
  }
}

void add_seed(Facts& facts, const Crop& crop) {
  if (const auto hard = hard_seed(crop))
    add_words(facts, "hard seed", "in a lot of this kind",
              hard->possible ? "may be present" : "not expected", hard->origin);
  for (const Cluster& cluster : clusters_of(crop))
    add(facts, "clusters", std::string(cluster.what), cluster.seedlings_low, cluster.seedlings_high,
        "seedlings a cluster", cluster.origin);
}

void add_presowing(Facts& facts, const Crop& crop) {
  for (const Presowing& advice : presowing_of(crop)) {
    if (advice.general) continue;
    std::string text(advice.limit);
    if (!text.empty() && text != "do not") text.insert(0, "limit: ");
    if (!text.empty() && !advice.limit_reason.empty()) text += ": ";
    text += advice.limit_reason;
    facts.push_back({words(advice.topic), std::string(advice.treatment), advice.low, advice.high,
                     advice.unit, text, advice.origin});
  }
}

// What is done to this crop's seed may call for a caution too (hot water, bleach, acid), unless the
// advice is not to do it.
void add_cautions_of_presowing(std::vector<Caution>& cautions, const Crop& crop) {
  for (const Presowing& advice : presowing_of(crop)) {
    if (advice.general || advice.limit == "do not") continue;
    const auto called_for =
        cautions_in(fmt::format("{}: {}", words(advice.topic), advice.treatment));
    for (const Caution& caution : called_for) {
      const auto same = [&](const Caution& known) { return known.hazard == caution.hazard; };
      if (std::none_of(cautions.begin(), cautions.end(), same)) cautions.push_back(caution);
    }
  }
}

}  // namespace

Known known_of(const Crop& crop) {
  Known known;
  known.crop = crop;
  add_standard(known.facts, crop);
  add_test(known.facts, crop);
  add_emergence(known.facts, crop);
  add_soil(known.facts, crop);
  add_heat(known.facts, crop);
  add_seed(known.facts, crop);
  add_storage(known.facts, crop);
  add_presowing(known.facts, crop);
  known.cautions = cautions_of(crop);
  add_cautions_of_presowing(known.cautions, crop);
  return known;
}

}  // namespace plumule::crops

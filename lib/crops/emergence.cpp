// Published days by emergence_days.csv, and the reading between two of them.
#include "crops/emergence.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "crops/table.hpp"

namespace plumule::crops {
namespace {

std::string degrees(double celsius) { return fmt::format("{:g} C", std::round(celsius * 10) / 10); }

std::string counted(double days) { return fmt::format("{:g} day{}", days, days == 1 ? "" : "s"); }

// Whether the table has days for a soil warmer than this: if so, what fails here is too cold.
bool comes_up_warmer(const std::vector<Emergence>& table, double soil_temp_c) {
  for (const Emergence& row : table)
    if (row.days && row.temp_c > soil_temp_c) return true;
  return false;
}

Emergence emergence(const Table::Row& row) {
  Emergence point;
  point.temp_c = row.number("temp_c").value_or(0);
  point.days = row.number("days");
  point.tried = row["state"] != "untried";
  point.origin = origin(row);
  if (const auto percent = row.number("percent_normal")) {
    point.fraction = *percent / 100;
    point.fraction_origin = origin(row["percent_source"], row["trust"], {});
  }
  return point;
}

// Whose figures they are, where not the crop's own.
std::string lent(const Emergence& row) {
  return row.borrowed_from.empty() ? "" : fmt::format(" for {}", row.borrowed_from);
}

ExpectedDays published(const Emergence& row, const std::vector<Emergence>& table) {
  ExpectedDays expected;
  expected.colder_c = expected.warmer_c = row.temp_c;
  expected.origin = row.origin;
  if (row.days) {
    expected.status = ExpectedDays::Status::published;
    expected.days = *row.days;
    expected.how =
        fmt::format("{} published{} at {}", counted(*row.days), lent(row), degrees(row.temp_c));
    return expected;
  }
  expected.status = ExpectedDays::Status::none;
  expected.cold_side = comes_up_warmer(table, row.temp_c);
  expected.how = fmt::format("{} at {}, so no day can be given",
                             row.tried ? "no days are published: too few came up" : "not tried",
                             degrees(row.temp_c));
  return expected;
}

ExpectedDays between(const Emergence& colder, const Emergence& warmer, double soil_temp_c,
                     const std::vector<Emergence>& table) {
  ExpectedDays expected;
  expected.colder_c = colder.temp_c;
  expected.warmer_c = warmer.temp_c;
  expected.origin = colder.origin;
  if (!colder.days || !warmer.days) {
    expected.status = ExpectedDays::Status::none;
    expected.cold_side = comes_up_warmer(table, warmer.days ? soil_temp_c : warmer.temp_c);
    expected.how =
        fmt::format("no days are published at {}, so none can be given for {}",
                    degrees(colder.days ? warmer.temp_c : colder.temp_c), degrees(soil_temp_c));
    return expected;
  }
  const double share = (soil_temp_c - colder.temp_c) / (warmer.temp_c - colder.temp_c);
  const double speed = (1 - share) / *colder.days + share / *warmer.days;
  expected.status = ExpectedDays::Status::interpolated;
  expected.days = 1 / speed;
  expected.how = fmt::format("between {} at {} and {} at {}{}", counted(*colder.days),
                             degrees(colder.temp_c), counted(*warmer.days), degrees(warmer.temp_c),
                             colder.borrowed_from.empty() ? "" : ", published" + lent(colder));
  return expected;
}

}  // namespace

std::vector<Emergence> emergence_table(const Crop& crop) {
  static const Table table("emergence_days.csv");
  static const Table kin("kin.csv");
  std::vector<Emergence> found;
  for (const auto& row : table.rows_of(crop.slug)) found.push_back(emergence(row));
  if (!found.empty()) return found;
  for (const auto& borrowed : kin.rows_of(crop.slug)) {
    const Crop* like = crop_by_slug(borrowed["like"]);
    if (like == nullptr) throw std::logic_error("kin.csv has an unknown crop");
    for (const auto& row : table.rows_of(like->slug)) {
      found.push_back(emergence(row));
      found.back().borrowed_from = like->name;
    }
  }
  return found;
}

ExpectedDays expected_days(const Crop& crop, double soil_temp_c) {
  if (std::isnan(soil_temp_c))
    throw std::domain_error("expected_days: soil_temp_c is not a number");
  const std::vector<Emergence> table = emergence_table(crop);
  ExpectedDays expected;
  if (table.empty()) {
    expected.how = "no days to emergence by temperature are published for this crop";
    return expected;
  }
  constexpr double same = 0.05;  // finer than a soil thermometer
  for (const Emergence& row : table)
    if (std::fabs(row.temp_c - soil_temp_c) <= same) return published(row, table);
  for (std::size_t i = 0; i + 1 < table.size(); ++i)
    if (table[i].temp_c < soil_temp_c && soil_temp_c < table[i + 1].temp_c)
      return between(table[i], table[i + 1], soil_temp_c, table);
  expected.status = ExpectedDays::Status::outside;
  expected.cold_side = soil_temp_c < table.front().temp_c;
  expected.colder_c = table.front().temp_c;
  expected.warmer_c = table.back().temp_c;
  expected.origin = table.front().origin;
  expected.how =
      fmt::format("published days run from {} to {}, so none can be given for {}",
                  degrees(expected.colder_c), degrees(expected.warmer_c), degrees(soil_temp_c));
  return expected;
}

}  // namespace plumule::crops

// The handbook indices against exact fractions and against every dish of four public data sets.
#include "stats/times/emergence_indices.hpp"

#include <cmath>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "stats/times/public_courses.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using plumule::tests::number;
using plumule::tests::read_csv;
using plumule::tests::Row;

namespace {

using Named = std::map<std::string, std::optional<double>>;

std::optional<double> times(std::optional<double> x, double factor) {
  if (x) *x *= factor;
  return x;
}

// The reference's names; those that are not fields follow from the fields by the definition given.
Named by_reference_name(const EmergenceIndices& x, double sown, double up, double last_inspection) {
  Named all{{"mean_germination_time", x.mean},
            {"first_germination_time", x.first},
            {"last_germination_time", x.last},
            {"time_spread", x.spread},
            {"variance_germination_time", x.variance},
            {"cv_germination_time_percent", x.cv},
            {"coefficient_of_velocity_percent", x.velocity},
            {"maguire_speed_counts", x.speed},
            {"maguire_speed_percent", times(x.speed, 100 / sown)},
            {"timson_sum_of_cum_percent", x.timson_sum},
            {"synchrony_Z", x.synchrony},
            {"uncertainty_U_bits", x.uncertainty_bits},
            {"t50_coolbear1984", x.t50_coolbear},
            {"t50_farooq2005", x.t50_farooq},
            {"peak_value", x.peak_value},
            {"peak_time", x.peak_day},
            {"mean_daily_germination", x.mean_daily},
            {"germination_value_czabator", x.germination_value}};
  if (x.variance) {
    all["sd_germination_time"] = std::sqrt(*x.variance);
    all["se_mean_germination_time"] = std::sqrt(*x.variance / up);
  }
  if (x.mean) {
    all["mean_germination_rate"] = 1 / *x.mean;
    all["germination_index_linear"] = up / sown * (last_inspection - *x.mean);
  }
  return all;
}

// Checks one row; true where it was a figure that was compared.
bool check_row(const Row& row, const TimeCourse& course, const EmergenceIndices& x) {
  const double up = emerged(course);
  const std::string& index = row.at("index");
  INFO(index, " of ", row.at("value"));
  if (index == "n_sown") {
    CHECK(*course.sown == number(row, "value"));
    return true;
  }
  if (index == "n_germinated") {
    CHECK(up == number(row, "value"));
    return true;
  }
  if (index == "germination_percent") {
    CHECK_CLOSE(100 * up / *course.sown, number(row, "value"), 1e-9);
    return true;
  }
  const Named named = by_reference_name(x, *course.sown, up, last_look(course));
  const std::optional<double> ours = named.at(index);
  if (row.at("value") == "NA" || up == 0) {  // the sum of no percentages is none here, there 0
    CHECK_FALSE(ours.has_value());
    return true;
  }
  REQUIRE(ours.has_value());
  CHECK_CLOSE(*ours, number(row, "value"), 1e-9);
  return true;
}

std::vector<double> numbers(const std::string& text) {
  std::vector<double> all;
  std::stringstream words(text);
  for (std::string word; words >> word;) {
    const auto slash = word.find('/');
    const double over = slash == std::string::npos ? 1 : std::stod(word.substr(slash + 1));
    all.push_back(std::stod(word.substr(0, slash)) / over);
  }
  return all;
}

}  // namespace

TEST_CASE("indices of small constructed courses are the exact fractions") {
  // tests/reference/statistics/indices_examples.csv: exact rational arithmetic
  int checked = 0;
  for (const Row& row : read_csv("reference/statistics/indices_examples.csv")) {
    const auto days = numbers(row.at("times"));
    const auto fresh = numbers(row.at("new_counts"));
    TimeCourse course{number(row, "n_sown"), {}, 0};
    for (std::size_t i = 0; i < days.size(); ++i)
      course.looks.push_back({days[i], emerged(course) + fresh[i]});
    // E1 lists one day of its seven; only the sum over looks is of that day alone.
    const double last = numbers(row.at("last_inspection"))[0];
    if (last > last_look(course) && row.at("index") != "timson_sum_of_cum_percent")
      course.looks.push_back({last, emerged(course)});
    checked += check_row(row, course, emergence_indices(course));
  }
  CHECK(checked == 179);
}

TEST_CASE("indices of every public dish and of pooled dishes") {
  // tests/reference/statistics/indices_reference.csv: exact rational arithmetic on tests/data
  std::map<std::string, std::map<std::string, plumule::tests::Dishes>> sets;
  for (const std::string name : {"chickweed", "threecrops", "eryngium", "blackgrass"})
    sets[name] = plumule::tests::public_courses(name);
  int checked = 0;
  for (const Row& row : read_csv("reference/statistics/indices_reference.csv")) {
    const auto& dishes = sets.at(row.at("dataset")).at(row.at("group"));
    INFO(row.at("dataset"), " ", row.at("group"), " ", row.at("dish"));
    if (row.at("dish") != "pooled") {
      const TimeCourse& course = dishes.at(row.at("dish"));
      checked += check_row(row, course, emergence_indices(course));
      continue;
    }
    std::vector<TimeCourse> all;
    TimeCourse sum{0.0, {}, 0};  // these dishes share their days
    for (const auto& [dish, course] : dishes) {
      all.push_back(course);
      *sum.sown += *course.sown;
      sum.looks.resize(course.looks.size());
      for (std::size_t i = 0; i < course.looks.size(); ++i) {
        sum.looks[i].time = course.looks[i].time;
        sum.looks[i].total += course.looks[i].total;
      }
    }
    checked += check_row(row, sum, emergence_indices(all));
  }
  CHECK(checked == 2829);
}

TEST_CASE("nothing up gives no index, and unknown units none that needs them") {
  const EmergenceIndices none = emergence_indices(TimeCourse{20.0, {{3, 0}, {5, 0}}, 0});
  for (const auto& [name, value] : by_reference_name(none, 20, 0, 5))
    CHECK_FALSE(value.has_value());
  const EmergenceIndices x = emergence_indices(TimeCourse{std::nullopt, {{3, 2}, {5, 4}}, 0});
  CHECK(*x.mean == 4);  // by hand: two on day 3, two on day 5
  CHECK(*x.t50_farooq == 3);
  CHECK_FALSE((x.peak_value || x.peak_day || x.mean_daily || x.germination_value || x.timson_sum));
}

TEST_CASE("sowings looked at on different days pool by carrying totals forward") {
  // By hand: A 2 up on day 2, 4 on day 6; B 3 up on day 4. Running totals 2, 5, 7 on days 2, 4, 6.
  const std::vector<TimeCourse> both{{10.0, {{2, 2}, {6, 4}}, 0}, {10.0, {{4, 3}}, 0}};
  const EmergenceIndices x = emergence_indices(both);
  CHECK_CLOSE(*x.mean, (2 * 2 + 3 * 4 + 2 * 6) / 7.0, 1e-14);
  CHECK_CLOSE(*x.timson_sum, 100 * (2 + 5 + 7) / 20.0, 1e-14);
  CHECK_CLOSE(*x.t50_coolbear, 2 + (4 - 2) * 2 / 3.0, 1e-14);
  const std::vector<TimeCourse> turned{both[1], both[0]};
  CHECK(emergence_indices(turned).mean == x.mean);
}

TEST_CASE("a change of the unit of time scales the indices by their stated powers") {
  const TimeCourse days{25.0, {{1, 0}, {3, 4}, {4, 13}, {5.5, 18}, {6, 20}, {9, 20}}, 0};
  TimeCourse hours = days;
  for (Look& look : hours.looks) look.time *= 24;
  const EmergenceIndices d = emergence_indices(days);
  const EmergenceIndices h = emergence_indices(hours);
  for (const auto field :
       {&EmergenceIndices::first, &EmergenceIndices::last, &EmergenceIndices::spread,
        &EmergenceIndices::mean, &EmergenceIndices::t50_coolbear, &EmergenceIndices::t50_farooq,
        &EmergenceIndices::peak_day})
    CHECK_CLOSE(*(h.*field), 24 * *(d.*field), 1e-13);
  for (const auto field : {&EmergenceIndices::cv, &EmergenceIndices::uncertainty_bits,
                           &EmergenceIndices::synchrony, &EmergenceIndices::timson_sum})
    CHECK_CLOSE(*(h.*field), *(d.*field), 1e-13);
  for (const auto field : {&EmergenceIndices::velocity, &EmergenceIndices::speed,
                           &EmergenceIndices::peak_value, &EmergenceIndices::mean_daily})
    CHECK_CLOSE(*(h.*field), *(d.*field) / 24, 1e-13);
  CHECK_CLOSE(*h.variance, 576 * *d.variance, 1e-13);
  CHECK_CLOSE(*h.germination_value, *d.germination_value / 576, 1e-13);
}

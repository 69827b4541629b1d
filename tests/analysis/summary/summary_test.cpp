// Summary against public time courses: from histories to the indices, the estimate by intervals and
// the model, equal to independently computed references.
#include "analysis/summary/summary.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "stats/times/public_courses.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::Group;
using analysis::SummaryBy;

namespace {

std::vector<Group> summary(const std::vector<records::History>& histories, SummaryBy by,
                           analysis::GroupOptions options = {}) {
  std::vector<Group> groups;
  analysis::SummaryQuestion question;
  question.by = by;
  question.options = options;
  analysis::SummaryStream stream(question, [&](const Group& group) { groups.push_back(group); });
  for (const auto& history : histories) stream.look_ahead(history);
  for (const auto& history : histories) stream.take(history);
  stream.finish();
  return groups;
}

double value(const std::optional<double>& x) { return x ? *x : std::nan(""); }

// What a reference index is called here, and the power of the unit of time in it.
struct Index {
  std::optional<double> stats::EmergenceIndices::*member;
  int power;
};
const std::map<std::string, Index> indices = {
    {"mean_germination_time", {&stats::EmergenceIndices::mean, 1}},
    {"first_germination_time", {&stats::EmergenceIndices::first, 1}},
    {"last_germination_time", {&stats::EmergenceIndices::last, 1}},
    {"time_spread", {&stats::EmergenceIndices::spread, 1}},
    {"variance_germination_time", {&stats::EmergenceIndices::variance, 2}},
    {"cv_germination_time_percent", {&stats::EmergenceIndices::cv, 0}},
    {"coefficient_of_velocity_percent", {&stats::EmergenceIndices::velocity, -1}},
    {"maguire_speed_counts", {&stats::EmergenceIndices::speed, -1}},
    {"synchrony_Z", {&stats::EmergenceIndices::synchrony, 0}},
    {"uncertainty_U_bits", {&stats::EmergenceIndices::uncertainty_bits, 0}},
    {"t50_coolbear1984", {&stats::EmergenceIndices::t50_coolbear, 1}},
    {"t50_farooq2005", {&stats::EmergenceIndices::t50_farooq, 1}},
    {"peak_value", {&stats::EmergenceIndices::peak_value, -1}},
    {"mean_daily_germination", {&stats::EmergenceIndices::mean_daily, -1}},
    {"germination_value_czabator", {&stats::EmergenceIndices::germination_value, -2}},
    {"timson_sum_of_cum_percent", {&stats::EmergenceIndices::timson_sum, 0}},
};

void check_indices(const Group& group, const Row& row, double unit) {
  const double expected = number(row, "value");
  if (row.at("index") == "n_germinated") {
    CHECK(group.emerged == std::llround(expected));
  } else if (row.at("index") == "germination_percent") {
    CHECK_CLOSE(100 * value(group.stand.fraction), expected, 1e-9);
  } else if (group.emerged == 0) {
    CHECK_FALSE(group.days.indices.timson_sum.has_value());  // none, where the reference has 0
  } else if (const auto index = indices.find(row.at("index")); index != indices.end()) {
    CHECK_CLOSE(value(group.days.indices.*index->second.member),
                expected * std::pow(unit, index->second.power), 1e-9);
  }
}

}  // namespace

TEST_CASE("chickweed and eryngium dishes as sowings give their reference indices") {
  // indices_reference.csv: computed from the same public data by an independent program.
  std::map<std::string, Group> groups;
  std::map<std::string, double> units = {{"chickweed", 1 / 24.0}, {"eryngium", 1}};
  for (const auto& [dataset, unit] : units)
    for (const auto& [group, dishes] : public_courses(dataset)) {
      std::vector<records::History> all;
      const auto name = [at = dataset, of = group](const std::string& dish) {
        std::string text = at;
        return text.append("/").append(of).append("/").append(dish);
      };
      for (const auto& [dish, course] : dishes) {
        all.push_back(history("D", course, unit));
        groups.emplace(name(dish), summary({all.back()}, SummaryBy::sowing).front());
      }
      groups.emplace(name("pooled"), summary(all, SummaryBy::lot).front());
    }
  int checked = 0;
  for (const Row& row : read_csv("reference/statistics/indices_reference.csv")) {
    const auto dataset = row.at("dataset");
    const auto found = groups.find(dataset + "/" + row.at("group") + "/" + row.at("dish"));
    if (found == groups.end()) continue;
    check_indices(found->second, row, units.at(dataset));
    ++checked;
  }
  CHECK(checked > 300);
}

TEST_CASE("chickweed: the model of a summary is the published one") {
  // Published: shape 20.77, median 196 h, fraction 0.20011 (help page of the data).
  // timecourse_models.csv carries the digits checked here.
  analysis::GroupOptions options;
  options.family = stats::TimeFamily::log_logistic;
  const auto course = group_courses("chickweed", "all").front();
  const auto group = summary({history("D", course, 1 / 24.0)}, SummaryBy::sowing, options).front();
  REQUIRE(group.model.has_value());
  REQUIRE(group.model->status == stats::ModelStatus::fitted);
  CHECK_CLOSE(group.model->shape.estimate, 20.76738996, 1e-6);
  CHECK_CLOSE(group.model->t50.estimate * 24, 196.0529938, 1e-6);
  CHECK_CLOSE(group.model->fraction.estimate, 0.2001092373, 1e-6);
  CHECK_CLOSE(group.model->loglik, -188.1718559, 1e-6);
  CHECK_CLOSE(value(group.model->t50.se) * 24, 2.505684641, 1e-4);
  // One sowing can't tell how alike its seeds are: an error by the seeds, and no range from it
  // (that of a single cluster is not defined: Liang & Zeger 1986, from memory).
  for (const auto& one : {group.model->t50, group.model->t90, group.model->fraction}) {
    CHECK_FALSE(one.lower.has_value());
    CHECK_FALSE(one.upper.has_value());
  }
}

TEST_CASE("the estimate by intervals of a summary is the reference's") {
  // timecourse_npmle.csv: masses satisfying the optimality conditions to 1e-12.
  std::map<std::string, std::vector<Row>> sets;
  for (const Row& row : read_csv("reference/statistics/timecourse_npmle.csv"))
    if (row.at("dataset") == "eryngium") sets[row.at("group")].push_back(row);
  CHECK(sets.size() > 3);
  for (const auto& [name, rows] : sets) {
    std::vector<records::History> all;
    for (const auto& course : group_courses("eryngium", name)) all.push_back(history("D", course));
    const auto group = summary(all, SummaryBy::treatment).front();
    REQUIRE(group.gaps.has_value());
    for (const Row& row : rows) {
      double mass = 0;
      for (const auto& point : group.gaps->estimate.points)
        if (point.left == number(row, "set_left") && std::isfinite(point.right)) mass = point.mass;
      if (row.at("set_right") != "Inf") CHECK_WITHIN(mass, number(row, "mass"), 1e-7);
    }
  }
}

TEST_CASE("different countings and units are never put together") {
  auto roots = history("A", 50, {{4, 40}});
  roots.sowing.counting = records::Counting::root_seen;
  auto cells = history("B", 10, {{4, 9}});
  cells.sowing.unit = records::UnitKind::cell;
  const auto groups = summary({history("C", 50, {{4, 20}}), roots, cells}, SummaryBy::crop);
  REQUIRE(groups.size() == 3);
  for (const auto& group : groups) {
    CHECK(group.name == "no crop");
    CHECK(group.sowings == 1);
  }
}

TEST_CASE("the widest prior of the settings in a group is the one in force") {
  auto towel = history("A", 50, {{4, 40}});
  towel.sowing.setting = records::Setting::towel;
  auto row = history("B", 50, {{4, 30}});
  row.sowing.setting = records::Setting::row;
  CHECK_CLOSE(summary({towel}, SummaryBy::sowing).front().stand.prior.b, 49, 1e-12);
  CHECK_CLOSE(summary({towel, row}, SummaryBy::lot).front().stand.prior.b, 14, 1e-12);
  CHECK_CLOSE(summary({history("C", 5, {{4, 3}})}, SummaryBy::lot).front().stand.prior.b, 24,
              1e-12);
}

TEST_CASE("an accident before the others had done is in neither percentage nor days") {
  const auto whole = history("A", 50, {{4, 10}, {6, 30}, {8, 40}});
  const auto knocked = ended(history("B", 50, {{4, 12}}), 5, records::EndingKind::accident);
  const auto group = summary({whole, knocked}, SummaryBy::lot).front();
  CHECK(group.stand.sowings == 1);
  CHECK(group.emerged == 52);
  REQUIRE(group.stopped_early.size() == 1);
  CHECK(group.stopped_early[0] == "B");
  const auto alone = summary({knocked}, SummaryBy::sowing).front();
  CHECK(alone.not_final);
  CHECK_CLOSE(value(alone.stand.fraction), 0.24, 1e-12);
}

TEST_CASE("what came up in the whole trial tells whether a stopped sowing was seen to its end") {
  // The untreated came up until day 12: a soaked tray knocked over on day 9 has no final stand,
  // though the other soaked tray had done by day 8.
  const std::vector trays = {
      in_trial(history("A", 50, {{4, 10}, {8, 40}, {12, 40}}), "soak"),
      in_trial(ended(history("B", 50, {{4, 12}, {9, 41}}), 9, records::EndingKind::accident),
               "soak"),
      in_trial(history("C", 50, {{9, 10}, {12, 40}}), "untreated")};
  const auto apart = summary(trays, SummaryBy::treatment);
  REQUIRE(apart.size() == 2);
  CHECK(apart[0].stand.sowings == 1);
  CHECK(apart[0].stopped_early == std::vector<std::string>{"B"});
  const auto without_trial = summary({trays[0],
                                      [&] {
                                        auto loose = trays[1];
                                        loose.sowing.trial.clear();
                                        return loose;
                                      }(),
                                      trays[2]},
                                     SummaryBy::treatment);
  CHECK(without_trial[0].stand.sowings == 2);
  CHECK(without_trial[0].accidents_counted == std::vector<std::string>{"B"});
}

TEST_CASE("a summary by treatment and a comparison leave out the same sowings") {
  // A and E were ended on day 9, while others came up until day 14; B is the only untreated tray
  // that was followed, and soak has none.
  const std::vector trays = {in_trial(ended(history("A", 20, {{5, 3}, {9, 15}}), 9), "soak"),
                             in_trial(history("B", 20, {{5, 2}, {9, 13}, {14, 15}}), "untreated"),
                             in_trial(ended(history("C", 20, {{5, 1}, {9, 14}}), 9), "soak"),
                             in_trial(ended(history("E", 20, {{5, 1}, {9, 9}}), 9), "untreated"),
                             in_trial(history("F", 20, {{5, 1}, {9, 14}, {13, 15}}), "untreated")};
  const auto groups = summary(trays, SummaryBy::treatment);
  REQUIRE(groups.size() == 2);
  CHECK(groups[0].not_final);
  CHECK_FALSE(groups[0].by_accident);
  CHECK(groups[1].not_followed == std::vector<std::string>{"E"});
  CHECK(groups[1].stand.seeds == 40);  // F was looked at a day less
  analysis::ComparisonQuestion question;
  question.subject = "T";
  question.today = on_day(60);
  const auto answer = analysis::compare_treatments(trays, question);
  REQUIRE(answer.treatments.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(answer.treatments[i].stand.seeds == groups[i].stand.seeds);
    CHECK(answer.treatments[i].stand.emerged == groups[i].stand.emerged);
    CHECK(answer.treatments[i].not_final == groups[i].not_final);
    CHECK(answer.treatments[i].not_followed == groups[i].not_followed);
  }
}

TEST_CASE("sowings of one jar are one in the range, and sowings in the figures") {
  // 104 of 120 as one unit, Beta(1/2, 1/2), rho ~ Beta(1, 24): 66 to 96 %, by brute force.
  std::vector<records::History> jar;
  for (const char* name : {"A", "B", "C", "D"})
    jar.push_back(in_trial(history(name, 30, {{5, 26}}), "soak", "", "J1"));
  const auto group = summary(jar, SummaryBy::treatment).front();
  CHECK(group.stand.sowings == 4);
  CHECK(group.shared_jars);
  REQUIRE(group.stand.interval);
  CHECK_WITHIN(group.stand.interval->lower, 0.66, 0.006);
  CHECK_WITHIN(group.stand.interval->upper, 0.96, 0.006);
  for (auto& one : jar) one.sowing.batch.clear();
  const auto apart = summary(jar, SummaryBy::treatment).front();
  CHECK(apart.stand.interval->lower > group.stand.interval->lower + 0.05);
  CHECK_FALSE(apart.shared_jars);
}

TEST_CASE("the mean of sowings counts each once, whatever its size") {
  const auto group =
      summary({history("A", 10, {{5, 9}}), history("B", 300, {{5, 90}})}, SummaryBy::lot).front();
  CHECK_CLOSE(value(group.stand.fraction), 99.0 / 310, 1e-12);
  CHECK_CLOSE(value(group.stand.mean_of_sowings), 0.6, 1e-12);
}

TEST_CASE("replicates by the published table: 4 x 100 at 90 %") {
  // 7 CFR 201.55(a): mean 90, four replicates of 100, largest range accepted 12.
  std::vector<records::History> all;
  for (const int up : {96, 90, 89, 85}) all.push_back(history("A", 100, {{7, up}}));
  const auto group = summary(all, SummaryBy::lot).front();
  REQUIRE(group.agreement.has_value());
  CHECK(group.agreement->range.status == stats::RangeStatus::ok);
  CHECK_CLOSE(group.agreement->range.range_percent, 11, 1e-12);
  CHECK_CLOSE(group.agreement->range.tolerated.percent, 12, 1e-12);
  CHECK(group.agreement->range.tolerated.source == stats::RangeSource::table);
  CHECK(group.agreement->range.within);
}

TEST_CASE("seedlings to a cluster, and to a metre of row") {
  auto beet = history("A", 20, {{9, 15}});
  beet.sowing.unit = records::UnitKind::cluster;
  beet.counts[0].entered.seedlings = 33;
  CHECK_CLOSE(value(summary({beet}, SummaryBy::sowing).front().seedlings.per_unit), 2.2, 1e-12);
  auto row = history("B", 1, {{9, 45}});
  row.sowing.units_known = records::UnitsKnown::unknown;
  row.sowing.units.reset();
  row.sowing.metres = 3;
  const auto group = summary({row}, SummaryBy::sowing).front();
  CHECK_CLOSE(value(group.seedlings.per_metre), 15, 1e-12);
  CHECK_FALSE(group.stand.fraction.has_value());
  CHECK_CLOSE(value(group.days.indices.mean), 9, 1e-12);
}

TEST_CASE("a group folded sowing by sowing is what all its courses together give") {
  const auto courses = group_courses("blackgrass", "T17_S_depth3");
  analysis::CourseFold fold;
  for (const auto& course : courses) fold.add(course);
  const auto folded = stats::emergence_indices(fold.course());
  const auto whole = stats::emergence_indices(courses);
  CHECK_CLOSE(value(folded.mean), value(whole.mean), 1e-12);
  CHECK_CLOSE(value(folded.timson_sum), value(whole.timson_sum), 1e-12);
  CHECK_CLOSE(value(folded.synchrony), value(whole.synchrony), 1e-12);
  const auto spans = fold.spans();
  const auto pooled = stats::pool(courses).spans;
  REQUIRE(spans.size() == pooled.size());
  for (std::size_t i = 0; i < spans.size(); ++i) {
    CHECK(spans[i].left == pooled[i].left);
    CHECK_CLOSE(spans[i].count, pooled[i].count, 1e-12);
  }
}

TEST_CASE("up by a day: the reference's where all looked that day, between two looks elsewhere") {
  std::vector<records::History> dishes;
  const auto groups = public_courses("eryngium");
  for (const auto& [dish, course] : groups.at("Cold_4"))
    dishes.push_back(history("D" + dish, course));
  analysis::GroupOptions options;
  options.by_day = 9;
  const Group on = summary(dishes, SummaryBy::crop, options).front();
  REQUIRE(on.by_day.has_value());
  double expected = 0;
  for (const Row& row : read_csv("reference/statistics/timecourse_npmle.csv"))
    if (row.at("dataset") == "eryngium" && row.at("group") == "Cold_4" &&
        number(row, "set_right") == 9)
      expected = number(row, "cum_germinated");
  CHECK_CLOSE(static_cast<double>(on.by_day->at_least) / 48, expected, 1e-9);
  CHECK(on.by_day->at_most == on.by_day->at_least);
  CHECK(on.by_day->sowings == 3);
  CHECK(on.by_day->interval->lower < expected);
  CHECK(on.by_day->interval->upper > expected);

  options.by_day = 5;  // looked at on days 4 and 7
  const auto between = *summary(dishes, SummaryBy::crop, options).front().by_day;
  CHECK(between.at_least == 0);
  CHECK(between.at_most == 25);
  CHECK(between.interval->lower == 0);
  options.by_day = 31;  // nobody looked so late
  const auto late = *summary(dishes, SummaryBy::crop, options).front().by_day;
  CHECK(late.sowings == 0);
  CHECK(late.not_followed == 3);
  CHECK_FALSE(late.interval.has_value());
  CHECK_FALSE(summary(dishes, SummaryBy::crop).front().by_day.has_value());
}

TEST_CASE("agreement gives the likeliest p and rho; a lag is fitted only where asked for") {
  const auto looks = [](std::int64_t up) {
    return std::vector<Total>{{3.5, 0},          {4.5, up / 5}, {5.5, up / 2},
                              {6.5, 3 * up / 4}, {8.5, up},     {20.5, up}};
  };
  std::vector<records::History> trays{history("A", 40, looks(20)), history("B", 40, looks(36)),
                                      history("C", 40, looks(28))};
  trays.push_back(history("D", 40, {{3.5, 0}, {4.5, 14}, {5.5, 22}, {6.5, 28}, {20.5, 28}}));
  const Group plain = summary(trays, SummaryBy::crop).front();
  const auto& fit = plain.agreement->beta_binomial;
  CHECK(fit.status == stats::BetaBinomialStatus::ok);
  CHECK(fit.p.front() > 0.6);
  CHECK(fit.p.front() < 0.8);
  CHECK(fit.rho > 0.02);
  // No other (p, rho) near by is likelier.
  const std::vector<stats::Tally> tallies{{20, 40}, {36, 40}, {28, 40}, {28, 40}};
  for (const double dp : {-0.01, 0.01})
    for (const double dr : {-0.005, 0.005})
      CHECK(stats::beta_binomial_log_likelihood(tallies, fit.p.front() + dp, fit.rho + dr) <
            fit.log_likelihood);
  CHECK(plain.model->lag.estimate == 0);
  CHECK(plain.model->t50.lower.has_value());  // four sowings have a range
  analysis::GroupOptions options;
  options.lag = true;
  const Group lagged = summary(trays, SummaryBy::crop, options).front();
  CHECK(lagged.model->lag.estimate > 1);
  CHECK(lagged.model->lag.estimate < 4.5);
  CHECK(lagged.model->loglik >= plain.model->loglik - 1e-6);
  const auto& t50 = plain.days.between_t50;
  CHECK(t50.status == stats::TStatus::ok);
  CHECK_CLOSE(t50.difference, (3 * 5.5 + 4.5) / 4, 1e-9);  // day by which half of each is up
}

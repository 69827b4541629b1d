// The nonparametric estimate against published and independently computed masses, against a plain
// EM run to the end, and on random thin data.
#include "stats/times/npmle.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "stats/times/public_courses.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;
using plumule::tests::number;
using plumule::tests::read_csv;
using plumule::tests::rounds;
using plumule::tests::Row;

namespace {

struct Slow {
  double loglik = 0;
  std::vector<double> up;  // cumulative mass at each finite end, all of it at the right ends
  std::vector<double> ends;
};

// Plain EM over all elementary intervals between end points, until no mass moves by 1e-15.
Slow plain_em(const std::vector<Span>& spans) {
  Slow slow;
  std::vector<double> ends{0};
  for (const Span& s : spans) {
    ends.push_back(std::min(s.left, 1e9));
    if (s.right < no_end) ends.push_back(s.right);
  }
  std::ranges::sort(ends);
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  ends.push_back(no_end);
  const std::size_t m = ends.size() - 1;
  std::vector<double> p(m, 1.0 / static_cast<double>(m));
  double units = 0;
  for (const Span& s : spans) units += s.count;
  for (int i = 0; i < 400000; ++i) {
    std::vector<double> q(m, 0.0);
    for (const Span& s : spans) {
      double sum = 0;
      for (std::size_t j = 0; j < m; ++j)
        if (ends[j] >= std::min(s.left, 1e9) && ends[j + 1] <= s.right) sum += p[j];
      for (std::size_t j = 0; j < m; ++j)
        if (ends[j] >= std::min(s.left, 1e9) && ends[j + 1] <= s.right)
          q[j] += s.count * p[j] / sum;
    }
    double moved = 0;
    for (std::size_t j = 0; j < m; ++j) {
      moved = std::max(moved, std::fabs(q[j] / units - p[j]));
      p[j] = q[j] / units;
    }
    if (moved < 1e-15) break;
  }
  for (const Span& s : spans) {
    double sum = 0;
    for (std::size_t j = 0; j < m; ++j)
      if (ends[j] >= std::min(s.left, 1e9) && ends[j + 1] <= s.right) sum += p[j];
    slow.loglik += s.count * std::log(sum);
  }
  return slow;
}

// A few sowings looked at on their own days, thin as growers' are.
std::vector<TimeCourse> random_courses(std::mt19937& rng) {
  const auto below = [&](unsigned n) { return static_cast<int>(rng() % n); };
  std::vector<TimeCourse> courses(static_cast<std::size_t>(1 + below(4)));
  for (TimeCourse& course : courses) {
    const int units = 1 + below(25);
    course.sown = units;
    double time = 0;
    double total = 0;
    for (int look = below(7); look > 0; --look) {
      time += 0.5 * (1 + below(5));
      total = std::min(total + std::max(0, below(8) - 2), static_cast<double>(units));
      course.looks.push_back({time, total});
    }
    if (below(3) == 0) course.never = below(1 + static_cast<unsigned>(units - total));
  }
  return courses;
}

void check_points(const Npmle& ours, const std::vector<Row>& rows, double tolerance) {
  REQUIRE(ours.points.size() == rows.size());
  double sum = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const MassPoint& point = ours.points[i];
    CHECK(point.left == number(rows[i], "set_left"));
    if (rows[i].at("set_right") == "Inf")
      CHECK(std::isinf(point.right));
    else
      CHECK(point.right == number(rows[i], "set_right"));
    CHECK_CLOSE(point.mass, number(rows[i], "mass"), tolerance);
    sum += point.mass;
    CHECK_CLOSE(sum, number(rows[i], "cum_germinated"), tolerance);
  }
}

}  // namespace

TEST_CASE("masses of pooled dishes, on shared and on overlapping days of looking") {
  // tests/reference/statistics/timecourse_npmle.csv: R, plain EM to KKT within 1e-12
  std::map<std::string, std::vector<Row>> groups;
  for (const Row& row : read_csv("reference/statistics/timecourse_npmle.csv"))
    groups[row.at("dataset") + "/" + row.at("group")].push_back(row);
  std::size_t rows = 0;
  int closed = 0;
  for (const auto& group : groups) {  // no structured binding: INFO captures, clang 14 won't
    INFO(group.first);
    const std::vector<Row>& expected = group.second;
    const auto courses =
        plumule::tests::group_courses(expected[0].at("dataset"), expected[0].at("group"));
    const Npmle ours = npmle(pool(courses).spans);
    CHECK(ours.status == NpmleStatus::fitted);
    CHECK(ours.kkt_gap <= 1e-8);
    if (expected[0].at("overlapping_schedules") == "0") {
      CHECK(ours.closed_form);
      ++closed;
    }
    check_points(ours, expected, 1e-9);
    rows += expected.size();
  }
  CHECK(rows == 256);
  CHECK(groups.size() == 27);
  CHECK(closed >= 15);
}

TEST_CASE("masses of the cosmesis data, published and computed") {
  // tests/reference/statistics/cosmesis_reference.csv: R; published column Fay & Shaw 2010
  int masses = 0;
  int published = 0;
  for (const std::string arm : {"Rad", "pooled"}) {
    const Npmle ours = npmle(plumule::tests::cosmesis_spans(arm == "pooled" ? "" : arm));
    CHECK(ours.status == NpmleStatus::fitted);
    CHECK_FALSE(ours.closed_form);
    std::size_t next = 0;
    for (const Row& row : read_csv("reference/statistics/cosmesis_reference.csv")) {
      if (row.at("part") != "npmle_" + arm) continue;
      const std::string& what = row.at("quantity");
      INFO(arm, " ", what);
      if (what == "logLik") {
        CHECK_CLOSE(ours.loglik, number(row, "value"), 1e-9);
      } else if (what == "kkt_max") {
        CHECK_WITHIN(1 + ours.kkt_gap, number(row, "value"), 1e-9);
      } else {
        REQUIRE(next < ours.points.size());
        const MassPoint& point = ours.points[next++];
        const std::size_t comma = what.find(',');
        CHECK(point.left == std::stod(what.substr(5, comma - 5)));
        CHECK(point.right == std::stod(what.substr(comma + 1)));
        CHECK_CLOSE(point.mass, number(row, "value"), 1e-9);
        ++masses;
        if (row.at("published") == "NA") continue;
        CHECK_WITHIN(point.mass, number(row, "published"), 0.5e-4);
        ++published;
      }
    }
    CHECK(next == ours.points.size());
  }
  CHECK(masses == 20);
  CHECK(published == 8);
}

TEST_CASE("random thin sowings agree with a plain EM, in any order and unit of time") {
  std::mt19937 rng(20240501);
  int overlapping = 0;
  for (int i = 0; i < rounds(400); ++i) {
    const auto courses = random_courses(rng);
    auto spans = pool(courses).spans;
    const Npmle ours = npmle(spans);
    INFO("trial ", i);
    REQUIRE(ours.status == NpmleStatus::fitted);
    CHECK(ours.kkt_gap <= 1e-8);
    double sum = 0;
    for (const MassPoint& point : ours.points) {
      CHECK(point.mass > 0);
      sum += point.mass;
    }
    CHECK_CLOSE(sum, 1, 1e-10);
    // EM slows down where a mass falls to 0, so it may still lack a little.
    const Slow slow = plain_em(spans);
    CHECK(ours.loglik >= slow.loglik - 1e-10 * (1 + std::fabs(slow.loglik)));
    CHECK_WITHIN(ours.loglik, slow.loglik, 1e-6 * (1 + std::fabs(slow.loglik)));
    overlapping += !ours.closed_form;

    std::shuffle(spans.begin(), spans.end(), rng);
    const Npmle shuffled = npmle(spans);
    for (Span& s : spans) {
      s.left *= 24;
      s.right *= 24;
    }
    const Npmle hours = npmle(spans);
    REQUIRE(shuffled.points.size() == ours.points.size());
    REQUIRE(hours.points.size() == ours.points.size());
    for (std::size_t j = 0; j < ours.points.size(); ++j) {
      CHECK(shuffled.points[j].mass == ours.points[j].mass);
      CHECK((std::isinf(ours.points[j].left) || hours.points[j].left == 24 * ours.points[j].left));
      CHECK_CLOSE(hours.points[j].mass, ours.points[j].mass, 1e-7);
    }
  }
  CHECK(overlapping > rounds(100));
}

TEST_CASE("hundreds of schedules at once reach the KKT conditions") {
  std::mt19937 rng(7);
  std::uniform_real_distribution<double> u(0, 1);
  std::vector<Span> spans;
  for (int i = 0; i < 1500; ++i) {
    const double time = 3 + 10 * u(rng) * u(rng);
    const double left = std::max(0.0, time - 2 * u(rng));
    spans.push_back(
        {left, u(rng) < 0.2 ? no_end : time + 2 * u(rng), 1.0 + static_cast<double>(rng() % 3)});
  }
  const Npmle ours = npmle(spans);
  CHECK(ours.status == NpmleStatus::fitted);
  CHECK(ours.kkt_gap <= 1e-8);
}

TEST_CASE("quantiles, percentages and mean days say what is not known") {
  // By hand: 10 sown, looks on days 3, 5, 8: 2, then 4 more, then 1 more; 3 not up.
  const TimeCourse course{10.0, {{3, 2}, {5, 6}, {8, 7}}, 0};
  const Npmle x = npmle(spans_of(course));
  CHECK(x.closed_form);
  CHECK_CLOSE(x.emerged_mass, 0.7, 1e-14);
  CHECK(time_of_sown(x, 0.5)->left == 3);
  CHECK(time_of_sown(x, 0.5)->right == 5);
  CHECK(time_of_sown(x, 0.2)->right == 3);  // reached exactly at the first look
  CHECK(time_of_sown(x, 0.7)->right == 8);
  CHECK_FALSE(time_of_sown(x, 0.71).has_value());
  CHECK(time_of_emerged(x, 0.9)->right == 8);
  CHECK_CLOSE(fraction_up_by(x, 4).lower, 0.2, 1e-14);
  CHECK_CLOSE(fraction_up_by(x, 4).upper, 0.6, 1e-14);
  CHECK_CLOSE(fraction_up_by(x, 5).upper, 0.6, 1e-14);
  CHECK_CLOSE(fraction_up_by(x, 20).lower, 0.7, 1e-14);
  CHECK_CLOSE(fraction_up_by(x, 20).upper, 1, 1e-14);
  CHECK(fraction_up_by(x, 0).upper == 0);
  CHECK_CLOSE(mean_days(x)->lower, (2 * 0 + 4 * 3 + 1 * 5) / 7.0, 1e-14);
  CHECK_CLOSE(mean_days(x)->upper, (2 * 3 + 4 * 5 + 1 * 8) / 7.0, 1e-14);
  CHECK_THROWS_AS(time_of_sown(x, 1), std::domain_error);
  CHECK_THROWS_AS(fraction_up_by(x, std::nan("")), std::domain_error);
}

TEST_CASE("never-emergers are beyond every look, and no data are said to be none") {
  const TimeCourse rotted{10.0, {{3, 2}, {5, 6}}, 4};
  const Npmle all_known = npmle(spans_of(rotted));
  REQUIRE(all_known.points.size() == 3);
  CHECK(std::isinf(all_known.points[2].left));
  CHECK_CLOSE(fraction_up_by(all_known, 100).upper, 0.6, 1e-14);
  const TimeCourse some{10.0, {{3, 2}, {5, 6}}, 1};
  const Npmle mixed = npmle(spans_of(some));
  CHECK(mixed.points.back().left == 5);
  CHECK_CLOSE(mixed.points.back().mass, 0.4, 1e-12);
  const Npmle none = npmle(std::vector<Span>{});
  CHECK(none.status == NpmleStatus::no_data);
  CHECK_FALSE(mean_days(none).has_value());
  CHECK_FALSE(time_of_emerged(none, 0.5).has_value());
  CHECK_THROWS_AS(fraction_up_by(none, 3), std::domain_error);
  const Npmle unseen = npmle(std::vector<Span>{{0, no_end, 12}});
  CHECK_FALSE(mean_days(unseen).has_value());
  CHECK_FALSE(time_of_sown(unseen, 0.5).has_value());
}

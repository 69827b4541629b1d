// Alive, or merely not up: against brute force, against figures of the simulations behind the rule,
// and by its properties.
#include "stats/emerging/sowing_outlook.hpp"

#include <cmath>
#include <stdexcept>

#include "stats/emerging/drawn_sowing.hpp"
#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule;
using namespace plumule::stats;

namespace {

// Carrot's published days by soil temperature (Harrington and Minges 1954) and its fitted base.
EmergenceSpeed carrot() {
  return {{{5, 50.6}, {10, 17.3}, {15, 10.1}, {20, 6.9}, {25, 6.2}, {30, 6}}, 2.1};
}

double mean_alive(std::span<const Alive> alive) {
  double sum = 0;
  for (const auto& [fraction, weight] : alive) sum += fraction * weight;
  return sum;
}

std::vector<Alive> after(const SowingOutlook& outlook) {
  const std::vector likelihoods{outlook.likelihood()};
  return alive_after(usual_alive(), likelihoods);
}

// Any place of which nothing is known: days to half up log-uniform from 6 to 50.6.
auto unknown_place() {
  return [](Random& random) {
    const double days = 6 * std::pow(50.6 / 6, random.unit());
    return [days](double day) { return day / days; };
  };
}

// Heated: 15 to 25 C, one temperature throughout.
auto heated_place() {
  return [](Random& random) {
    const double v = carrot().at(15 + 10 * random.unit());
    return [v](double day) { return day * v; };
  };
}

struct Case {
  const char* name;
  TimeCourse course;
  Ground ground;
  double rho;
  Warmth warmth;
  double by_day, wanted;
};

void agrees(const Case& c) {
  CAPTURE(c.name);
  const StandingShare share(c.ground, c.rho);
  const SowingOutlook outlook(c.course, soil_clock(carrot(), {}, c.warmth), share);
  tests::DrawnQuestion question{c.course, c.ground, c.rho, c.by_day, c.wanted, unknown_place()};
  if (c.warmth == Warmth::heated) question.clock = heated_place();
  const auto drawn = tests::drawn_answer(question, 150000, 17);
  REQUIRE(drawn.effective > 500);
  const auto alive = usual_alive();
  // Five standard errors of the draws, and what the grids leave.
  const double room = 0.006 + 5 * 0.5 / std::sqrt(drawn.effective);
  CHECK_WITHIN(outlook.any_more(alive), drawn.any_more, room);
  CHECK_WITHIN(mean_alive(after(outlook)), drawn.mean_alive, room);
  CHECK_WITHIN(outlook.stand(alive, c.wanted, c.by_day), drawn.stand, room);
  const double rest = outlook.not_up();
  CHECK_WITHIN(outlook.still_to_come(alive, c.by_day).mean / rest, drawn.more_by / rest, room);
}

}  // namespace

TEST_CASE("chances agree with brute force" * doctest::skip(plumule::tests::sanitized)) {
  agrees({"a row, none of 150 up",
          {150.0, {{45, 0}}},
          Ground::outdoors,
          1.0 / 15,
          Warmth::not_known,
          60,
          20});
  agrees({"a towel, none of 20 up", {20.0, {{14, 0}}}, Ground::towel, 0.02, Warmth::heated, 20, 2});
  agrees({"a tray, few up",
          {12.0, {{8, 0}, {10, 2}, {12, 5}}},
          Ground::under_cover,
          0.04,
          Warmth::heated,
          16,
          8});
  agrees({"a tray, come to rest",
          {30.0, {{6, 0}, {8, 8}, {10, 19}, {13, 22}, {20, 22}}},
          Ground::under_cover,
          0.04,
          Warmth::not_known,
          30,
          23});
  agrees({"many at the first look",
          {40.0, {{6, 0}, {9, 6}}},
          Ground::outdoors,
          1.0 / 15,
          Warmth::not_known,
          14,
          20});
  agrees({"two found rotten",
          {10.0, {{7, 3}, {9, 5}}, 2},
          Ground::towel,
          0.02,
          Warmth::heated,
          12,
          7});
}

TEST_CASE("readings run the clock: against brute force" *
          doctest::skip(plumule::tests::sanitized)) {
  // 40 sown, none up on day 30; read once a week for three weeks, at 6, 8 and 9 C.
  const std::vector<SoilReading> readings{{0, 6}, {7, 8}, {14, 9}};
  const TimeCourse course{40.0, {{30, 0}}};
  const StandingShare share(Ground::outdoors, 1.0 / 15);
  const SowingOutlook outlook(course, soil_clock(carrot(), readings, Warmth::not_known), share);
  tests::DrawnQuestion question{course, Ground::outdoors, 1.0 / 15, 45, 10, {}};
  question.clock = [](Random& random) {
    const double shift = 1 + 1.5 * random.normal();
    const double unread = 1 / (6 * std::pow(50.6 / 6, random.unit()));
    std::vector<double> by_day{0};
    for (int day = 0; day < 100; ++day) {
      const double at = day + 0.5;
      const double read = at < 7 ? 6 + 2 * at / 7 : at < 14 ? 8 + (at - 7) / 7 : 9;
      by_day.push_back(by_day.back() + (at <= 28 ? carrot().at(read + shift) : unread));
    }
    return [by_day](double day) { return by_day[static_cast<std::size_t>(day)]; };
  };
  const auto drawn = tests::drawn_answer(question, 100000, 23);
  const auto alive = usual_alive();
  const double room = 0.015 + 5 * 0.5 / std::sqrt(drawn.effective);
  CHECK_WITHIN(outlook.any_more(alive), drawn.any_more, room);
  CHECK_WITHIN(outlook.stand(alive, 10, 45), drawn.stand, room);
  CHECK_WITHIN(mean_alive(after(outlook)), drawn.mean_alive, room);
}

TEST_CASE("a thousand sown are reckoned as well as ten") {
  const StandingShare share(Ground::under_cover, 0.04);
  const auto alive = usual_alive();
  double before = 1;
  for (const double n : {10.0, 100.0, 1000.0, 100000.0}) {
    // Half up by day 10, three quarters for good by day 14.
    const TimeCourse course{n,
                            {{8, 0}, {10, n / 2}, {12, 0.7 * n}, {14, 0.75 * n}, {40, 0.75 * n}}};
    const SowingOutlook outlook(course, soil_clock(carrot(), {}, Warmth::heated), share);
    const double mean = outlook.still_to_come(alive, no_end).mean / n;
    CAPTURE(n);
    CHECK(std::isfinite(mean));
    CHECK(mean < 0.01);
    CHECK(outlook.stand(alive, 0.7 * n, 40) == 1);
    CHECK(mean <= before + 1e-5);
    before = mean;
  }
}

TEST_CASE("nothing up is no news of seed that had no time, and news once it had") {
  const StandingShare row(Ground::outdoors, 1.0 / 15);
  const auto prior = usual_alive();
  const SowingOutlook fresh({100.0, {{1, 0}}}, soil_clock(carrot(), {}, Warmth::not_known), row);
  CHECK_WITHIN(mean_alive(after(fresh)), mean_alive(prior), 1e-3);
  CHECK(fresh.any_more(prior) > 0.9);
  double before = 1;
  for (const double day : {10.0, 20.0, 40.0, 80.0, 160.0}) {
    const SowingOutlook later({100.0, {{day, 0}}}, soil_clock(carrot(), {}, Warmth::not_known),
                              row);
    CHECK(mean_alive(after(later)) < before);
    before = mean_alive(after(later));
    CHECK(later.any_more(prior) <= fresh.any_more(prior, day) + 1e-12);
  }
}

TEST_CASE("a row that failed leaves its lot more hope than a towel that failed") {
  const StandingShare row(Ground::outdoors, 1.0 / 15), towel(Ground::towel, 0.02);
  const TimeCourse none{20.0, {{60, 0}}};
  const SowingOutlook in_row(none, soil_clock(carrot(), {}, Warmth::heated), row);
  const SowingOutlook in_towel(none, soil_clock(carrot(), {}, Warmth::heated), towel);
  CHECK(mean_alive(after(in_row)) > 3 * mean_alive(after(in_towel)));
}

TEST_CASE("good seed laid beside it tells the timing: against brute force") {
  // Ten in a towel show nothing by day 10; of ten good ones beside them 8 came, by days 6, 7 and 9.
  const StandingShare towel(Ground::towel, 0.02);
  const TimeCourse course{10.0, {{10, 0}}}, good{10.0, {{5, 0}, {6, 3}, {7, 6}, {9, 8}, {10, 8}}};
  const std::vector beside{good};
  const auto clock = soil_clock(carrot(), {}, Warmth::heated);
  const SowingOutlook alone(course, clock, towel), paired(course, clock, towel, beside);
  Random random(29);
  double all = 0, alive = 0, squares = 0;
  for (int i = 0; i < 150000; ++i) {
    const double g = random.unit() < 0.05 ? 0 : std::sqrt(random.unit());
    const double pi = g > 0 ? random.beta(g * 49, (1 - g) * 49) : 0, sound = random.beta(18, 2);
    const double m = std::exp(0.35 * random.normal() / std::sqrt(random.gamma(2) / 2));
    const double spread = 0.25 * std::exp(0.5 * random.normal());
    const bool logistic = random.unit() < 0.5, stragglers = random.unit() < 0.5;
    const double v = carrot().at(15 + 10 * random.unit());
    const auto base = [&](double day) {
      const double x = std::log(day * v / m) / spread;
      return logistic ? 1 / (1 + std::exp(-x * 3.14159265358979 / std::sqrt(3.0)))
                      : normal_lower(x);
    };
    const auto f = [&](double day) {
      return stragglers ? 0.95 * base(day) + 0.05 * base(day / 2) : base(day);
    };
    const double likelihood = std::pow(1 - pi * f(10), 10) * std::pow(sound, 8) *
                              std::pow(f(6) - f(5), 3) * std::pow(f(7) - f(6), 3) *
                              std::pow(f(9) - f(7), 2) * std::pow(1 - sound * f(10), 2);
    all += likelihood;
    squares += likelihood * likelihood;
    alive += likelihood * g;
  }
  REQUIRE(all * all / squares > 500);
  CHECK_WITHIN(mean_alive(after(paired)), alive / all,
               0.006 + 2.5 / std::sqrt(all * all / squares));
  CHECK(mean_alive(after(paired)) < 0.5 * mean_alive(after(alone)));
  const std::vector<TimeCourse> untold{{std::nullopt, {{8, 3}}}};
  CHECK_THROWS_AS(SowingOutlook(course, clock, towel, untold), std::domain_error);
}

TEST_CASE("give-up days: nothing up gives way on the first day with less than five in a hundred") {
  const StandingShare row(Ground::outdoors, 1.0 / 15);
  const auto alive = usual_alive();
  const SowingOutlook outlook({150.0, {{30, 0}}}, soil_clock(carrot(), {}, Warmth::not_known), row);
  const auto day = outlook.give_up_day(alive);
  REQUIRE(day);
  CHECK(outlook.any_more(alive, *day) < hardly_any);
  CHECK(outlook.any_more(alive, *day - 1) >= hardly_any);
  // Carrot in a row of which no temperature is known: 84 days in the simulations behind the rule.
  CHECK(*day >= 75);
  CHECK(*day <= 93);
  CHECK(outlook.give_up_day(alive, 120) == 120);
  const SowingOutlook all({10.0, {{8, 10}}}, soil_clock(carrot(), {}, Warmth::heated), row);
  CHECK(all.any_more(alive) == 0);
  CHECK(all.give_up_day(alive) == 8);
}

TEST_CASE("colder readings keep hope up longer") {
  const StandingShare row(Ground::outdoors, 1.0 / 15);
  const auto alive = usual_alive();
  double before = 0;
  for (const double warm : {18.0, 12.0, 8.0, 4.0}) {
    std::vector<SoilReading> weekly;
    for (int week = 0; week < 7; ++week) weekly.push_back({7.0 * week, warm});
    const SowingOutlook outlook({150.0, {{42, 0}}}, soil_clock(carrot(), weekly, Warmth::not_known),
                                row);
    CHECK(outlook.any_more(alive) > before);
    before = outlook.any_more(alive);
  }
  CHECK(before > 0.5);
}

TEST_CASE("up where readings say that nothing could: no chance is lost over it") {
  const StandingShare row(Ground::outdoors, 1.0 / 15);
  const auto alive = usual_alive();
  const std::vector<SoilReading> frozen{{0, -5}, {7, -5}, {14, -5}};
  const SowingOutlook outlook({50.0, {{12, 20}}}, soil_clock(carrot(), frozen, Warmth::not_known),
                              row);
  CHECK(std::isfinite(outlook.any_more(alive)));
  CHECK(outlook.any_more(alive) > 0.5);
}

TEST_CASE("sowing again: too few in time, and a new sowing could make it") {
  CHECK(sow_again(0.1, 0.8));
  CHECK_FALSE(sow_again(0.1, 0.3));
  CHECK_FALSE(sow_again(0.2, 0.8));
  const auto warm = soil_clock(carrot(), {}, Warmth::heated);
  CHECK(in_time(warm, 4) < 0.2);
  CHECK(in_time(warm, 30) > 0.9);
}

TEST_CASE("what can't be reckoned is refused") {
  const StandingShare towel(Ground::towel, 0.02);
  const auto clock = soil_clock(carrot(), {}, Warmth::heated);
  CHECK_THROWS_AS(SowingOutlook({std::nullopt, {{8, 3}}}, clock, towel), std::domain_error);
  CHECK_THROWS_AS(StandingShare(Ground::towel, 0), std::domain_error);
  CHECK_THROWS_AS(StandingShare(Ground::towel, 0.02, 1.5), std::domain_error);
  CHECK_THROWS_AS(alive_place(1.2), std::domain_error);
}

// What is asked first of a crop, against the tables it is drawn from.
#include "crops/gist.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "crops/crop.hpp"
#include "crops/known_crop.hpp"
#include "support/close.hpp"

using plumule::crops::all_crops;
using plumule::crops::BeforeSowing;
using plumule::crops::Gist;
using plumule::crops::gist_of;
using plumule::crops::known_of;
using plumule::tests::known_crop;

namespace {

const BeforeSowing& before(const Gist& gist, std::string_view topic) {
  for (const auto& one : gist.before)
    if (one.topic == topic) return one;
  FAIL("nothing of " << topic);
  return gist.before.front();
}

}  // namespace

TEST_CASE("the gist of beet takes in what each source says") {
  // schema/reference: 7 CFR 201.31 and 201.58; five tables of soil temperatures, all with 40 F as
  // the lowest, 50 to 85 F as the widest best and 95 F as the highest; ten lists of seed life,
  // two of them 2 years, one 3, seven 4
  const Gist gist = gist_of(known_crop("beet"));
  REQUIRE(gist.standard.has_value());
  CHECK_CLOSE(gist.standard->fraction, 0.65, 1e-15);
  REQUIRE(gist.test.has_value());
  CHECK(gist.test->first_count_days == 3);
  CHECK(gist.test->final_count_days == 14);
  REQUIRE(gist.days.size() == 7);  // 5 to 35 C; not tried at 0 and 40
  CHECK_CLOSE(gist.days.front().days.value_or(0), 42, 1e-15);
  CHECK(gist.soil.tables == 5);
  REQUIRE(gist.soil.best.has_value());
  CHECK_CLOSE(gist.soil.lowest->high, 40.0 / 9, 1e-12);
  CHECK_CLOSE(gist.soil.best->low, 10, 1e-12);
  CHECK_CLOSE(gist.soil.best->high, 53 / 1.8, 1e-12);
  CHECK_CLOSE(gist.soil.highest->low, 35, 1e-12);
  REQUIRE(gist.life.has_value());
  CHECK(gist.life->lists == 10);
  CHECK_CLOSE(gist.life->lowest, 2, 1e-15);
  CHECK_CLOSE(gist.life->median_low, 4, 1e-15);
  REQUIRE(gist.seedlings.has_value());
  CHECK_CLOSE(gist.seedlings->high, 5, 1e-15);
  CHECK_FALSE(gist.hard_seed);
}

TEST_CASE("several sources of one treatment give a range, and one that refuses is counted") {
  // presowing.csv: beet is soaked 8 to 12 h, 1 h and 2 h; hot water is refused by the one source
  const Gist beet = gist_of(known_crop("beet"));
  const auto& soaking = before(beet, "soaking");
  CHECK(soaking.advised == 3);
  CHECK(soaking.treatment.empty());
  REQUIRE(soaking.amount.has_value());
  CHECK_CLOSE(soaking.amount->low, 1, 1e-15);
  CHECK_CLOSE(soaking.amount->high, 12, 1e-15);
  CHECK(soaking.unit == "h");
  CHECK(before(beet, "hot water").advised == 0);
  CHECK(before(beet, "hot water").refused == 1);
  // cucumber: one source allows it and one refuses
  const Gist cucumber = gist_of(known_crop("cucumber"));
  CHECK(before(cucumber, "hot water").advised == 1);
  CHECK(before(cucumber, "hot water").refused == 1);
}

TEST_CASE("spans run upwards, and a crop with nothing to say has heat sums only") {
  for (const auto& crop : all_crops()) {
    CAPTURE(crop.name);
    const Gist gist = gist_of(crop);
    const bool says = gist.standard || gist.test || gist.wait || gist.soil.tables > 0 ||
                      gist.life || gist.seedlings || gist.hard_seed || !gist.before.empty();
    if (!says)
      for (const auto& fact : known_of(crop).facts) CHECK(fact.topic == "thermal time");
    for (const auto& span : {gist.soil.lowest, gist.soil.best, gist.soil.highest, gist.seedlings})
      if (span) CHECK(span->low <= span->high);
    for (const auto& one : gist.before) {
      CHECK(one.advised + one.refused > 0);
      if (one.amount) CHECK_FALSE(one.unit.empty());
    }
  }
}

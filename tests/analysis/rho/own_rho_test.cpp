// The prior of rho from a grower's own sowings: which of them make a group, and what comes of it.
#include "analysis/rho/own_rho.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "analysis/rho/tray_prior.hpp"
#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::OwnRhoGroups;
using analysis::SettingKind;

namespace {

records::History tray(const std::string& lot, std::int64_t up, const std::string& trial = "",
                      records::Setting setting = records::Setting::tray) {
  auto made = history("A", 50, {{5, up / 2}, {9, up}, {20, up}});
  made.sowing.lot = lot;
  made.sowing.trial = trial;
  made.sowing.setting = setting;
  return made;
}

std::int64_t groups(const OwnRhoGroups& from, SettingKind kind) {
  return (*from.choice().own)[static_cast<std::size_t>(kind)].groups;
}

std::int64_t groups_of(std::initializer_list<records::History> sowings) {
  OwnRhoGroups made;
  for (const auto& one : sowings) made.take(one);
  made.end_of_lot();
  return groups(made, SettingKind::soil);
}

}  // namespace

TEST_CASE("a group is two sowings or more of a lot, treated and sown alike, seen to their end") {
  CHECK(groups_of({tray("L", 40), tray("L", 42)}) == 1);
  CHECK(groups_of({tray("L", 40)}) == 0);
  CHECK(groups_of({tray("", 40), tray("", 42)}) == 0);  // of no lot
  CHECK(groups_of({tray("L", 40, "T"), tray("L", 42, "U")}) == 0);
  auto other = tray("L", 42);
  other.sowing.treatment = "soak";
  CHECK(groups_of({tray("L", 40), other}) == 0);
  auto later = tray("L", 42);
  later.sowing.sown.date += std::chrono::days(1);
  CHECK(groups_of({tray("L", 40), later}) == 0);  // outside a trial: seed ages
  later.sowing.trial = "T";
  CHECK(groups_of({tray("L", 40, "T"), later}) == 1);
  auto running = tray("L", 40);
  running.counts.resize(2);
  CHECK(groups_of({running, tray("L", 42)}) == 0);
  CHECK(groups_of({ended(running, 10), tray("L", 42)}) == 1);
  CHECK(groups_of({ended(running, 10, records::EndingKind::accident), tray("L", 42)}) == 0);
  CHECK(groups_of({ended(tray("L", 4), 20, records::EndingKind::failed), tray("L", 42)}) == 0);
  auto guessed = tray("L", 42);
  guessed.sowing.units_known = records::UnitsKnown::estimated;
  CHECK(groups_of({tray("L", 40), guessed}) == 0);
}

TEST_CASE("lots are told apart, and settings learn each for themselves") {
  OwnRhoGroups made;
  stats::Random random(5);
  for (int lot = 0; lot < 60; ++lot) {
    const double rho = random.beta(1, 60), p = random.beta(6, 2);
    for (int i = 0; i < 3; ++i) made.take(tray("L", random.beta_binomial(50, p, rho)));
    if (lot < 9)
      for (int i = 0; i < 2; ++i) made.take(tray("L", 40 + i, "", records::Setting::dish));
    made.end_of_lot();
  }
  CHECK(groups(made, SettingKind::soil) == 60);
  CHECK(groups(made, SettingKind::paper) == 9);
  CHECK(groups(made, SettingKind::row) == 0);
  const auto choice = made.choice();
  using records::Setting;
  const Setting trays[] = {Setting::tray}, dishes[] = {Setting::dish};
  const Setting both[] = {Setting::tray, Setting::dish};
  const auto own = analysis::prior_of(trays, choice);
  CHECK(own.groups == 60);
  CHECK(own.b > 25);
  CHECK(own.b < 120);
  // Too few dishes: as published; of a mixture the widest of those in force.
  const auto published = analysis::prior_of(dishes, choice);
  CHECK(published.groups == 0);
  CHECK_CLOSE(published.b, 49, 1e-15);
  CHECK_CLOSE(analysis::prior_of(both, choice).b, std::min(own.b, 49.0), 1e-15);
  CHECK(analysis::prior_of(trays, 0.03).is_fixed());
  CHECK_CLOSE(analysis::prior_of(trays, analysis::RhoChoice{}).b, 24, 1e-15);
}

TEST_CASE("the prior learned is the one in force") {
  OwnRhoGroups made;
  for (int lot = 0; lot < 40; ++lot) {
    for (int i = 0; i < 4; ++i) made.take(tray("L", 40, "", records::Setting::towel));
    made.end_of_lot();
  }
  records::Lot lot;
  lot.code = "L";
  std::vector<records::History> tests{tray("L", 44, "", records::Setting::towel)};
  analysis::ViabilityQuestion question;
  question.today = on_day(30);
  const auto usual = analysis::lot_viability(lot, tests, question);
  question.rho = made.choice();
  const auto own = analysis::lot_viability(lot, tests, question);
  CHECK(own.stand.prior.groups == 40);
  CHECK(own.stand.prior.b > 49);
  CHECK(own.stand.interval->upper - own.stand.interval->lower <
        usual.stand.interval->upper - usual.stand.interval->lower);
}

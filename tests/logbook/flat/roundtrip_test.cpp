// Out and in again: what export writes gives the same logbook, over random logbooks with nasty
// texts.
#include <doctest/doctest.h>

#include <random>
#include <string>

#include "logbook/flat/support.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/stock.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "records/refused.hpp"
#include "support/rounds.hpp"

using namespace plumule;
using logbook::Entry;
using logbook::Logbook;

namespace {

class Invented {
 public:
  explicit Invented(unsigned seed) : random_(seed) {}

  void fill(Logbook& logbook) {
    Entry entry(logbook, "inventor", "fill", *records::parse_date("2026-06-30"));
    for (int i = 0; i < 4; ++i) lot(entry, i);
    for (int i = 0; i < 3; ++i) treatment(entry, i);
    for (int i = 0; i < 2; ++i) trial(entry, i);
    for (int i = 0; i < 12; ++i) sowing(entry);
    entry.commit();
  }

 private:
  int upto(int most) { return static_cast<int>(random_() % static_cast<unsigned>(most + 1)); }
  bool maybe() { return upto(1) == 0; }
  double real(double low, double high) {
    return low + (high - low) * std::generate_canonical<double, 53>(random_);
  }
  template <class Make>
  auto sometimes(const Make& make) {
    return maybe() ? std::optional(make()) : std::nullopt;
  }
  std::string word() {
    static const std::string words[] = {
        "",  "leaf mould", "a, b",    "say \"hi\"", "x;y", "M\xC3\xB6hre", "\xF0\x9F\x8C\xB1",
        "-", "=1+1",       "'quoted'"};
    return words[upto(9)];
  }
  // A note may have lines and tabs; a name may not.
  std::string noted() { return maybe() ? word() : maybe() ? "two\nlines" : "tab\there"; }
  records::Date day(int first, int span) {
    return *records::parse_date("2025-01-01") + std::chrono::days(first + upto(span));
  }
  records::Moment moment(records::Date date) {
    return {date, sometimes([&] { return upto(1439); })};
  }

  void lot(Entry& entry, int i) {
    records::Lot lot;
    lot.code = "LOT-" + std::to_string(i);
    if (i != 3) lot.crop = word();
    lot.variety = word();
    lot.source = word();
    lot.harvest_year = sometimes([&] { return 2015 + upto(9); });
    if (maybe()) lot.packed_year = lot.harvest_year.value_or(2016) + upto(1);
    lot.label_germination = sometimes([&] { return real(0, 1); });
    lot.label_tested_on = sometimes([&] { return day(0, 100); });
    lot.coating = word();
    lot.seed_treatment = word();
    lot.seeds_per_gram = sometimes([&] { return real(0.1, 3000); });
    lot.irreplaceable = maybe();
    for (int p = 0; p < i; ++p)
      if (maybe())
        lot.parents.push_back({"LOT-" + std::to_string(p), static_cast<records::Descent>(upto(2))});
    add_lot(entry, lot);
  }

  void treatment(Entry& entry, int i) {
    records::Treatment t;
    t.label = "way." + std::to_string(i);
    t.soak_hours = sometimes([&] { return real(0, 48); });
    t.water_c = sometimes([&] { return real(5, 60); });
    t.scarification = word();
    t.chill_days = sometimes([&] { return real(0, 90); });
    t.chill_c = sometimes([&] { return real(-5, 5); });
    t.priming = word();
    add_treatment(entry, t);
    if (maybe()) {
      records::Batch batch;
      batch.code = "jar" + std::to_string(i);
      batch.treatment = t.label;
      batch.made_on = sometimes([&] { return day(0, 100); });
      add_batch(entry, batch);
    }
  }

  void trial(Entry& entry, int i) {
    records::Trial trial;
    trial.code = "T_" + std::to_string(i);
    trial.question = word();
    if (maybe()) trial.blocks = {"south", "10", "2"};
    if (maybe()) trial.inspections = {day(10, 5), day(20, 5)};
    trial.closes_on = sometimes([&] { return day(60, 5); });
    trial.worth = sometimes([&] { return real(0.01, 1); });
    trial.blind = maybe();
    add_trial(entry, trial);
  }

  void sowing(Entry& entry) {
    records::Sowing s;
    s.label = "S" + std::to_string(upto(5));
    s.sown = moment(day(30, 400));
    if (maybe()) s.lot = "LOT-" + std::to_string(upto(3));
    if (s.lot.empty() || (s.lot == "LOT-3" && maybe())) s.crop = word();
    if (s.lot.empty()) s.variety = word();
    const int way = upto(3);
    if (way < 3) s.treatment = "way." + std::to_string(way);
    if (way < 3 && maybe() && find_batch(entry.logbook(), "jar" + std::to_string(way)))
      s.batch = "jar" + std::to_string(way);
    if (maybe()) s.trial = "T_" + std::to_string(upto(1));
    if (!s.trial.empty() && maybe()) s.block = maybe() ? "south" : "new-" + std::to_string(upto(2));
    s.units_known = static_cast<records::UnitsKnown>(upto(2));
    if (s.units_known != records::UnitsKnown::unknown) s.units = 1 + upto(60);
    s.grams = sometimes([&] { return real(0.1, 9); });
    s.metres = sometimes([&] { return real(0.1, 9); });
    s.unit = static_cast<records::UnitKind>(upto(2));
    if (s.unit == records::UnitKind::cell) s.seeds_per_cell = 1 + upto(3);
    s.counting = static_cast<records::Counting>(upto(2));
    s.wetted = sometimes([&] { return moment(s.sown.date - std::chrono::days(1 + upto(2))); });
    s.setting = static_cast<records::Setting>(upto(5));
    s.taken_out = maybe() ? s.setting == records::Setting::towel : maybe();
    s.depth_mm = sometimes([&] { return real(0, 60); });
    s.medium = word();
    s.place = word();
    s.bench_order = maybe() ? 0 : upto(20) - 5;
    try {
      s.id = add_sowing(entry, s);
    } catch (const records::Refused&) {
      return;  // the label is open, or the crop another
    }
    seen(entry, s);
    if (upto(3) == 0) return;
    records::Ending ending;
    ending.kind = static_cast<records::EndingKind>(upto(4));
    ending.at = moment(s.sown.date + std::chrono::days(20 + upto(1)));
    if (const auto counts = counts_of(entry.logbook(), s.id); !counts.empty() && maybe())
      ending.at = counts.back().at;
    ending.why = word();
    try {
      end_sowing(entry, s.id, ending);
    } catch (const records::Refused&) {
      return;  // it was counted later
    }
  }

  void seen(Entry& entry, const records::Sowing& s) {
    static const std::string people[] = {"", "Ilse", "O'Tam, the \"younger\""};
    for (int looks = upto(9); looks > 0; --looks) {
      records::Count count;
      count.at = moment(s.sown.date + std::chrono::days(upto(20)));
      count.by = people[upto(2)];
      count.entered.kind = static_cast<records::CountKind>(upto(3));
      count.entered.value = upto(12);
      if (upto(3) == 0) count.entered.high = count.entered.value + 1 + upto(3);
      if (count.entered.kind == records::CountKind::standing) count.entered.lost = upto(2);
      if (upto(2) == 0) count.entered.seedlings = upto(40);
      if (count.entered.kind == records::CountKind::seedlings) count.entered.value = 0;
      try {
        record_count(entry, s, count);
      } catch (const records::Refused&) {
        continue;  // the course cannot hold it
      }
      if (maybe()) temperature(entry, s, count.at, count.by);
    }
    for (int i = upto(2); i > 0; --i)
      temperature(entry, s, moment(s.sown.date + std::chrono::days(upto(20))), people[upto(2)]);
    for (int i = 0; i < upto(3); ++i) {
      records::Note note;
      note.of = s.id;
      note.on = s.sown.date + std::chrono::days(upto(9));
      note.text = std::to_string(i) + noted() + (maybe() ? " " : "");
      note.by = people[upto(2)];
      add_note(entry, note);
    }
  }

  void temperature(Entry& entry, const records::Sowing& s, const records::Moment& at,
                   const std::string& by) {
    records::Temperature one;
    one.sowing = s.id;
    one.at = at;
    one.spot_c = sometimes([&] { return real(-5, 30); });
    one.min_c = sometimes([&] { return real(-5, 10); });
    one.max_c = sometimes([&] { return real(10, 30); });
    one.by = by;
    if (one.spot_c || one.min_c || one.max_c) add_temperature(entry, one);
  }

  std::mt19937 random_;
};

}  // namespace

TEST_CASE("flat round trip: export and import give the same logbook") {
  int counts = 0;
  for (unsigned seed = 1; seed <= tests::rounds(150U); ++seed) {
    CAPTURE(seed);
    Logbook book = Logbook::in_memory();
    Invented(seed).fill(book);
    const std::string text = tests::export_text(book);
    Logbook other = Logbook::in_memory();
    const auto summary = tests::import_text(other, text);
    REQUIRE_MESSAGE(summary.errors_in_all == 0, tests::errors_of(summary), text);
    CHECK(tests::difference(tests::picture(other), tests::picture(book)) == "");
    CHECK(summary.sown_over.empty());
    counts += static_cast<int>(summary.counts_new);
    // And again: nothing new, and export writes the same.
    const auto twice = tests::import_text(other, text);
    CHECK(tests::errors_of(twice) == "");
    CHECK(twice.counts_new + twice.sowings_new + twice.lots_new == 0);
    CHECK(tests::difference(tests::picture(other), tests::picture(book)) == "");
    Logbook third = Logbook::in_memory();
    tests::import_text(third, tests::export_text(other));
    CHECK(tests::difference(tests::picture(third), tests::picture(book)) == "");
    CHECK(logbook::check(other).empty());
  }
  CHECK(counts > tests::rounds(1000));  // the random logbooks hold something
}

TEST_CASE("flat round trip: two readings of one moment come back in one order") {
  Logbook book = Logbook::in_memory();
  tests::import_text(book, "sowing,sown_on,seeds\nA,2026-04-01,50\n");
  {
    Entry entry(book, "tester", "temp", *records::parse_date("2026-06-30"));
    records::Temperature night;
    night.sowing = sowing_named(book, "A").id;
    night.at = *records::parse_moment("2026-04-10");
    night.min_c = 8;
    night.max_c = 24;
    records::Temperature spot = night;
    spot.min_c = spot.max_c = std::nullopt;
    spot.spot_c = 18;
    for (const auto& one : {night, spot}) add_temperature(entry, one);
    entry.commit();
  }
  const std::string text = tests::export_text(book);
  Logbook other = Logbook::in_memory();
  CHECK(tests::errors_of(tests::import_text(other, text)) == "");
  CHECK(tests::export_text(other) == text);
}

TEST_CASE("flat round trip: an empty logbook") {
  Logbook book = Logbook::in_memory();
  const std::string text = tests::export_text(book);
  CHECK(text == "sowing,sown_on,seeds,counted_on,emerged\n");
  Logbook other = Logbook::in_memory();
  CHECK(tests::errors_of(tests::import_text(other, text)) == "");
  CHECK(tests::difference(tests::picture(other), tests::picture(book)) == "");
}

TEST_CASE("flat round trip: what is not carried is named") {
  Logbook book = Logbook::in_memory();
  tests::import_text(book, "sowing,sown_on,seeds,lot\nA,2026-04-01,50,L1\n");
  {
    Entry entry(book, "tester", "assess", *records::parse_date("2026-06-30"));
    const auto id = sowing_named(book, "A").id;
    records::Assessment assessment;
    assessment.on = *records::parse_date("2026-05-01");
    assessment.units = 3;
    add_assessment(entry, id, assessment);
    records::StockLine stock;
    stock.lot = "L1";
    stock.on = *records::parse_date("2026-05-01");
    stock.seeds = 100;
    stock.reason = "bought";
    add_stock(entry, stock);
    add_stock(entry, stock);
    entry.commit();
  }
  const auto left = logbook::export_flat_log(book, [](std::string_view) {});
  CHECK(left == std::vector<std::string>{"1 assessment", "2 lines of stock", "2 journal entries"});
}

// What somebody computes who reads the logbook with SQL alone. All figures by hand.
#include <doctest/doctest.h>

#include "logbook/keeping.hpp"
#include "logbook/record/moves.hpp"
#include "logbook/record/observations.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

double real(Keeping& keeping, const std::string& sql) {
  Query query(keeping.book.store(), sql);
  return query.next() && !query.null(0) ? query.real(0) : -9999;
}

void read(Keeping& keeping, const char* where, const char* when, std::optional<double> spot,
          std::optional<double> low = {}, std::optional<double> high = {}) {
  records::Temperature one;
  one.at = at(when);
  if (const auto sowing = find_sowing(keeping.book, where))
    one.sowing = sowing->id;
  else
    one.place = where;
  one.spot_c = spot;
  one.min_c = low;
  one.max_c = high;
  keeping.command("temp", [&](Entry& entry) { add_temperature(entry, one); });
}

// K3: 20 seeds, 18 up. K4: 20 seeds, never looked at. R1: a row of an unknown number, 95 up. C1: 20
// clusters of which only seedlings were counted. F1: failed without a look. X1: 5 up when a mouse
// came.
Keeping bench() {
  Keeping keeping;
  records::Lot lot;
  lot.code = "B";
  lot.crop = "bean";
  lot.harvest_year = 2023;
  keeping.command("lot B", [&](Entry& entry) { return add_lot(entry, lot); });
  records::Treatment soak;
  soak.label = "soak8";
  soak.soak_hours = 8;
  keeping.command("treatment", [&](Entry& entry) { return add_treatment(entry, soak); });
  records::Sowing k3 = tray("K3");
  k3.lot = "B";
  k3.treatment = "soak8";
  k3.place = "bench";
  keeping.sow(k3);
  keeping.sow(tray("K4"));
  records::Sowing row = tray("R1");
  row.units.reset();
  row.units_known = records::UnitsKnown::unknown;
  row.metres = 3;
  keeping.sow(row);
  records::Sowing clusters = tray("C1");
  clusters.unit = records::UnitKind::cluster;
  keeping.sow(clusters);
  for (const char* label : {"F1", "X1"}) keeping.sow(tray(label));
  keeping.count("K3=14", "2026-04-10");
  keeping.count("K3=11-5", "2026-04-12");
  keeping.count("K3=13-0", "2026-04-15");
  keeping.count("R1=95", "2026-04-15");
  keeping.command("count C1", [](Entry& entry) {
    records::Entered seedlings{.kind = records::CountKind::seedlings};
    seedlings.seedlings = 31;
    record_count(entry, sowing_named(entry.logbook(), "C1"), {at("2026-04-15"), seedlings, "", 0});
  });
  keeping.count("X1=5", "2026-04-10");
  keeping.end("F1", records::EndingKind::failed, "2026-04-20");
  keeping.end("X1", records::EndingKind::accident, "2026-04-11");
  return keeping;
}

}  // namespace

TEST_SUITE("views") {
  TEST_CASE("the share has its own denominator, alone and over several sowings") {
    Keeping keeping = bench();
    const auto of = [&](const std::string& what, const std::string& label) {
      return real(keeping, "select " + what + " from sowing_state where sowing = '" + label + "'");
    };
    CHECK(of("share", "K3") == doctest::Approx(0.9));  // 14, two of 16 new, two more: 18 of 20
    CHECK(of("share_up", "K3") == 18);
    CHECK(of("share_of", "K3") == 20);
    CHECK(of("emerged", "R1") == 95);
    CHECK(of("emerged", "X1") == 5);
    CHECK(of("share", "F1") == 0);  // failed: nothing came up
    for (const char* label : {"K4", "R1", "C1", "X1"})
      for (const char* column : {"share", "share_up * share_of"}) {
        CAPTURE(label);
        CHECK(of(column, label) == -9999);
      }
    CHECK(of("emerged", "C1") == -9999);  // seedlings were counted, and no clusters
    // 18 of K3's 20 and none of F1's 20: 45 %.
    CHECK(real(keeping, "select 1.0 * sum(share_up) / sum(share_of) from sowing_state") ==
          doctest::Approx(0.45));
    CHECK(real(keeping,
               "select 1.0 * sum(share_up) / sum(share_of) from sowing_state "
               "where crop = 'bean'") == doctest::Approx(0.9));
    // By day: 14 of 20, 16 of 20, 18 of 20; none where there is no number sown.
    CHECK(real(keeping, "select sum(share) from daily_counts where sowing = 'K3'") ==
          doctest::Approx(0.7 + 0.8 + 0.9));
    CHECK(keeping.number("select count(*) from daily_counts where sowing in ('R1', 'C1') and "
                         "(share is not null or sowing = 'C1' and emerged is not null)") == 0);
    CHECK(keeping.number("select count(*) from daily_counts where share <> 1.0 * emerged / "
                         "share_of") == 0);
  }

  TEST_CASE("harvest year and soak hours stand beside the counts") {
    Keeping keeping = bench();
    for (const char* view : {"daily_counts", "sowing_state", "sowing_facts"}) {
      CAPTURE(view);
      const std::string from = std::string(" from ") + view + " where sowing = ";
      CHECK(real(keeping, "select min(harvest_year)" + from + "'K3'") == 2023);
      CHECK(real(keeping, "select min(soak_hours)" + from + "'K3'") == 8);
      CHECK(real(keeping, "select min(soak_hours)" + from + "'R1'") == 0);  // untreated
      CHECK(real(keeping, "select min(harvest_year)" + from + "'R1'") == -9999);
    }
  }

  TEST_CASE("temperatures are of a sowing's own and of the places while it stood there") {
    Keeping keeping = bench();
    read(keeping, "bench", "2026-04-02", 1);  // before it was sown
    read(keeping, "bench", "2026-04-10", {}, 8, 24);
    read(keeping, "K3", "2026-04-10T07:30", 9);
    read(keeping, "K3", "2026-04-10T08:30", 11);
    keeping.command("move", [](Entry& entry) {
      move_sowing(entry, sowing_named(entry.logbook(), "K3").id, {0, day("2026-04-11"), "tunnel"});
    });
    read(keeping, "bench", "2026-04-11", 40);
    read(keeping, "Tunnel", "2026-04-15", {}, 10, 30);
    const std::string state = " from sowing_state where sowing = 'K3'";
    CHECK(real(keeping, "select soil_mean_c" + state) == 18);  // of 16 and 20
    CHECK(real(keeping, "select soil_temp_c" + state) == 10);  // of 9 and 11
    const std::string looks = " from daily_counts where sowing = 'K3' and counted_on = ";
    CHECK(real(keeping, "select soil_temp_c" + looks + "'2026-04-10'") == 10);
    CHECK(real(keeping, "select soil_min_c" + looks + "'2026-04-10'") == 8);
    CHECK(real(keeping, "select soil_max_c" + looks + "'2026-04-10'") == 24);
    CHECK(real(keeping, "select soil_max_c" + looks + "'2026-04-15'") == 30);
    CHECK(real(keeping, "select soil_temp_c" + looks + "'2026-04-12'") == -9999);
    // Beside the readings no count is told twice.
    CHECK(keeping.number("select count(*)" + looks + "'2026-04-10'") == 1);
    CHECK(keeping.number("select count(*) from soil_readings where sowing_id = "
                         "(select id from sowings where label = 'K3')") == 4);
    CHECK(real(keeping, "select soil_mean_c from sowing_state where sowing = 'K4'") == -9999);
  }
}

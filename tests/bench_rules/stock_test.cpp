// A lot's stock: what its ledger adds up to, and what sowing and amending do to it.
#include "bench/stock.hpp"

#include <doctest/doctest.h>

#include "bench/amending.hpp"
#include "bench/sow.hpp"
#include "logbook/keeping.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

void put_in(Keeping& keeping, const std::string& lot, std::optional<std::int64_t> seeds,
            std::optional<double> grams) {
  records::StockLine line;
  line.lot = lot;
  line.on = day("2026-03-01");
  line.seeds = seeds;
  line.grams = grams;
  line.reason = "bought";
  keeping.command("stock", [&](logbook::Entry& entry) { logbook::add_stock(entry, line); });
}

records::Sowing sow(Keeping& keeping, const std::string& label, const std::string& lot) {
  bench::ToSow wanted;
  wanted.labels = {label};
  wanted.lots = {lot};
  wanted.each.sown = at("2026-04-03");
  wanted.each.units = 20;
  return keeping.command("sow",
                         [&](logbook::Entry& entry) { return bench::sow(entry, wanted).all[0]; });
}

records::Sowing amend(Keeping& keeping, const records::Sowing& sowing, std::int64_t units,
                      const std::optional<std::string>& lot) {
  bench::SowingChange change;
  change.fields = sowing;
  change.fields.units = units;
  change.lot = lot;
  return keeping.command(
      "amend", [&](logbook::Entry& entry) { return bench::amend_sowing(entry, sowing, change); });
}

}  // namespace

TEST_SUITE("stock") {
  TEST_CASE("what is sown goes out, and what is amended follows, from one lot to another") {
    Keeping keeping;
    keeping.lot("K");
    keeping.lot("L");
    put_in(keeping, "K", 100, {});
    put_in(keeping, "L", 50, {});
    records::Sowing sowing = sow(keeping, "A1", "K");
    CHECK(bench::stock_left(keeping.book, "K").seeds == 80);
    sowing = amend(keeping, sowing, 25, {});
    CHECK(bench::stock_left(keeping.book, "K").seeds == 75);
    amend(keeping, sowing, 25, "L");
    CHECK(bench::stock_left(keeping.book, "K").seeds == 100);
    CHECK(bench::stock_left(keeping.book, "L").seeds == 25);
  }

  TEST_CASE("a lot without a ledger takes no line, and more may go out than came in") {
    Keeping keeping;
    keeping.lot("K");
    sow(keeping, "A1", "K");
    CHECK_FALSE(bench::stock_left(keeping.book, "K").kept());
    put_in(keeping, "K", 10, {});
    sow(keeping, "A2", "K");
    CHECK(bench::stock_left(keeping.book, "K").seeds == -10);
    CHECK(bench::stock_left(keeping.book, "K").overdrawn());
  }

  TEST_CASE("number and weight are told apart where seeds a gram are not known") {
    Keeping keeping;
    keeping.lot("K");
    put_in(keeping, "K", {}, 12);
    const records::Sowing sowing = sow(keeping, "A1", "K");
    CHECK(bench::stock_left(keeping.book, "K").grams == 12);
    const auto nothing = bench::took_nothing(keeping.book, {sowing}, "K");
    REQUIRE(nothing.has_value());
    CHECK(nothing->label == "A1");
    records::Lot lot = logbook::lot_named(keeping.book, "K");
    lot.seeds_per_gram = 10;
    keeping.command("lot", [&](logbook::Entry& entry) { logbook::change_lot(entry, lot); });
    const records::Sowing other = sow(keeping, "A2", "K");
    CHECK(bench::stock_left(keeping.book, "K").grams == 10);
    CHECK_FALSE(bench::took_nothing(keeping.book, {other}, "K").has_value());
  }

  TEST_CASE("a line like one of that day is seen") {
    Keeping keeping;
    keeping.lot("K");
    put_in(keeping, "K", 100, {});
    records::StockLine line = logbook::stock_of(keeping.book, "K")[0];
    CHECK(bench::stands_already(keeping.book, line));
    line.seeds = 101;
    CHECK_FALSE(bench::stands_already(keeping.book, line));
  }
}

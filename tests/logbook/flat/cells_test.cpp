#include "logbook/flat/cells.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

namespace {

using namespace plumule::logbook;

std::string whole(std::string_view cell) {
  std::int64_t value = 0;
  const Reason reason = read_cell(cell, value);
  return reason.empty() ? std::to_string(value) : reason;
}

std::string guess(std::string_view cell) {
  std::int64_t value = 0;
  std::optional<std::int64_t> high;
  const Reason reason = read_guess(cell, value, high);
  if (!reason.empty()) return reason;
  return std::to_string(value) + (high ? ".." + std::to_string(*high) : "");
}

std::string decimal(std::string_view cell) {
  double value = 0;
  const Reason reason = read_cell(cell, value);
  return reason.empty() ? to_cell(value) : reason;
}

}  // namespace

TEST_CASE("flat cells: whole numbers") {
  CHECK(whole("12") == "12");
  CHECK(whole("007") == "7");
  CHECK(whole("12.0") == "12");
  CHECK(whole("1000000000") == "1000000000");
  CHECK(whole("1000000001") == "\"1000000001\" is absurd; 1000000000 is the most that is taken");
  CHECK(whole("99999999999999999999") ==
        "\"99999999999999999999\" is absurd; 1000000000 is the most that is taken");
  CHECK(whole("-3") == "\"-3\" is negative; there is nothing below 0");
  CHECK(whole("12,5") ==
        "\"12,5\" has a comma; write a whole number in digits alone, such as 1250");
  for (const char* bad : {"12.5", "12.", ".5", "1e3", "+3", "0x10", "nan", "twelve", "1 000", ""})
    CHECK(whole(bad) == '"' + std::string(bad) + "\" is not a whole number");
}

TEST_CASE("flat cells: guesses") {
  CHECK(guess("28..32") == "28..32");
  CHECK(guess("28 .. 32") == "28..32");
  CHECK(guess("12") == "12");
  CHECK(guess("12..12") == "12");
  CHECK(guess("32..28") == "\"32..28\" is a guess whose low end lies above its high end");
  CHECK(guess("28..") == "\"\" is not a whole number");
  CHECK(guess("many") == "\"many\" is not a whole number, nor a guess such as 28..32");
}

TEST_CASE("flat cells: decimals, and the comma that is none") {
  CHECK(decimal("15.5") == "15.5");
  CHECK(decimal("-3") == "-3");
  CHECK(decimal("1e-05") == "1e-05");
  CHECK(decimal("15,5") == "\"15,5\" has a decimal comma; write 15.5");
  CHECK(decimal("-3,25") == "\"-3,25\" has a decimal comma; write -3.25");
  for (const char* bad : {"nan", "inf", "-inf", "warm", "15.5C", "1e999", "", "1.2.3"})
    CHECK(decimal(bad) == '"' + std::string(bad) + "\" is not a number");
}

TEST_CASE("flat cells: every double comes back as itself") {
  std::uint64_t state = 12345;
  for (int i = 0; i < 20000; ++i) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    const double value =
        std::ldexp(static_cast<double>(state >> 11U), static_cast<int>(state % 200) - 150);
    double back = 0;
    REQUIRE(read_cell(to_cell(value), back).empty());
    CHECK(back == value);
  }
}

TEST_CASE("flat cells: days, moments, lists, words") {
  plumule::records::Date day;
  CHECK(read_cell("2026-04-03", day).empty());
  CHECK(read_cell("2026-04-03T07:30", day) ==
        "\"2026-04-03T07:30\" has a time of day, where a day is meant");
  CHECK(read_cell("3/4/2026", day).find("more than one way") != std::string::npos);
  CHECK(read_cell("2026-02-30", day) == "\"2026-02-30\" is a day that does not exist");
  std::vector<plumule::records::Date> days;
  CHECK(read_cell("2026-04-03  2026-04-05", days).empty());
  CHECK(to_cell(days) == "2026-04-03 2026-04-05");
  std::vector<std::string> labels;
  CHECK(read_cell("north south", labels).empty());
  CHECK(labels.size() == 2);
  CHECK_FALSE(read_cell("north so/uth", labels).empty());
  std::vector<plumule::records::Parent> parents;
  CHECK(read_cell("split:KALE-1 mix:KALE-2", parents).empty());
  CHECK(to_cell(parents) == "split:KALE-1 mix:KALE-2");
  CHECK(read_cell("KALE-1", parents) ==
        "\"KALE-1\" is no parent; write split:LOT, mix:LOT or own-harvest:LOT");
  bool yes = false;
  CHECK(read_cell("Yes", yes).empty());
  CHECK(yes);
  CHECK(read_cell("perhaps", yes) == "\"perhaps\" is neither yes nor no");
  plumule::records::Setting setting{};
  CHECK(read_cell("Towel", setting).empty());
  CHECK(setting == plumule::records::Setting::towel);
  CHECK(read_cell("bucket", setting) ==
        "\"bucket\" is not one of towel, dish, tray, cells, pot or row");
}

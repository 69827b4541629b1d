#include "records/words.hpp"

#include "records/count.hpp"

#include <doctest/doctest.h>

using namespace plumule::records;

namespace {

// Each word leads back to what it stands for, and the list names each.
template <class Kind>
void check_words(std::initializer_list<std::pair<Kind, const char*>> words) {
  for (const auto& one : words) {
    const Kind kind = one.first;
    const char* text = one.second;
    CAPTURE(text);
    CHECK(word(kind) == text);
    CHECK(from_word<Kind>(text) == kind);
    CHECK(known_words<Kind>().find(text) != std::string::npos);
  }
  CHECK_FALSE(from_word<Kind>("").has_value());
  CHECK_FALSE(from_word<Kind>("Tray").has_value());
}

}  // namespace

TEST_SUITE("words") {
  TEST_CASE("the words that are stored stay as they are") {
    check_words<Setting>({{Setting::towel, "towel"},
                          {Setting::dish, "dish"},
                          {Setting::tray, "tray"},
                          {Setting::cells, "cells"},
                          {Setting::pot, "pot"},
                          {Setting::row, "row"}});
    check_words<UnitKind>(
        {{UnitKind::seed, "seed"}, {UnitKind::cluster, "cluster"}, {UnitKind::cell, "cell"}});
    check_words<Counting>({{Counting::root_seen, "root"},
                           {Counting::shoot_up, "shoot"},
                           {Counting::usable_seedling, "usable"}});
    check_words<UnitsKnown>({{UnitsKnown::exact, "exact"},
                             {UnitsKnown::estimated, "estimated"},
                             {UnitsKnown::unknown, "unknown"}});
    check_words<EndingKind>({{EndingKind::finished, "finished"},
                             {EndingKind::accident, "accident"},
                             {EndingKind::failed, "failed"},
                             {EndingKind::given_up, "given-up"},
                             {EndingKind::sown_over, "sown-over"}});
    check_words<Outcome>({{Outcome::hard, "hard"},
                          {Outcome::firm, "firm"},
                          {Outcome::rotted, "rotted"},
                          {Outcome::empty, "empty"},
                          {Outcome::abnormal, "abnormal"},
                          {Outcome::died_below, "died"},
                          {Outcome::eaten, "eaten"},
                          {Outcome::not_found, "not-found"}});
    check_words<Descent>(
        {{Descent::own_harvest, "own-harvest"}, {Descent::split, "split"}, {Descent::mix, "mix"}});
    CHECK(known_words<Setting>() == "towel, dish, tray, cells, pot or row");
  }

  TEST_CASE("the numbers under which kinds of count are stored stay as they are") {
    CHECK(static_cast<int>(CountKind::total) == 0);
    CHECK(static_cast<int>(CountKind::newly) == 1);
    CHECK(static_cast<int>(CountKind::standing) == 2);
    CHECK(static_cast<int>(CountKind::seedlings) == 3);
  }
}

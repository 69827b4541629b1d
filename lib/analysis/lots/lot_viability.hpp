// Is this lot still worth sowing? Its tests in order, how many of its seeds come up and how many
// are alive, the chance that it meets its standard, and what to do.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/lots/lot_clash.hpp"
#include "analysis/rho/rho_choice.hpp"
#include "analysis/summary/stand.hpp"
#include "records/course.hpp"
#include "records/lot.hpp"
#include "stats/trays/batch_sequence.hpp"

namespace plumule::analysis {

// Why a test is shown but in no figure.
enum class TestUse {
  counted,
  older,    // more than half a year before the latest: not in the percentage, but at its age in
            // what is alive now
  treated,  // soaked, chilled, ...: tells of the treatment too
  in_soil,  // a tray or row, where towel tests are to be had
  counts_otherwise,
  not_looked_at,
  units_unknown,
  stopped_early,  // an accident
  failed,         // dried out, damped off: what the sowing met with, not what the lot is worth
  clashes,        // cannot be right beside the others, or not settled yet which of them is
};

struct LotTest {
  std::string name;
  records::Date sown{};
  records::Setting setting = records::Setting::towel;
  records::Counting counting = records::Counting::root_seen;
  std::string treatment;
  std::optional<std::int64_t> seeds;
  std::optional<std::int64_t> emerged;  // none where not looked at
  std::int64_t hard = 0;                // assessed hard, and not come up since
  std::optional<records::Date> last_look;
  std::optional<records::Date> ended_on;
  std::string failed_why;   // in the grower's words; empty where it did not fail or none were given
  bool running = false;     // open, and not yet looked at on its give-up day or later
  int give_up_day = 0;      // after sowing; 28 where none is known of the crop
  std::string give_up_how;  // a sentence without a full stop; empty where none is known
  // Ended before a look on its give-up day, not all up, and something new within the last days (max
  // of five and half the days to the last emergence) before its last look: more might have come.
  bool cut_short = false;
  TestUse use = TestUse::counted;
};

struct LotStandard {
  enum class By { given, crop, label };
  double fraction = 0;
  By by = By::given;
  std::string source;  // in words
  // Hard seed counts as germinated in the least for sale (7 CFR 201.31). On a label it stands apart
  // (7 CFR 201.21, 201.30), and a figure that was given is of what comes up.
  bool counts_hard = false;
};

// How old its tests are, and what that leaves of them.
enum class AgeingMethod {
  own_tests,  // half a year apart or more: they show how fast it ages, the lists leading
  seed_life,  // by the lists of seed life
  none,       // no list has the crop: three years are taken, give or take (a judgement)
};

struct LotAgeing {
  AgeingMethod method = AgeingMethod::none;
  records::Date as_of{};
  std::optional<records::Date> newest_test_on;  // none: untested, by its harvest
  double expected = 0;                          // mean share alive on that day
  stats::Interval now;
  // The days by which it is under its standard with a chance of 5, 50 and 95 %, which may be past;
  // none without a standard, or where two hundred years are too few.
  std::optional<records::Date> falls_p05, falls_p50, falls_p95;
  std::optional<records::Date> retest_by;  // P(meets) is under 0.9 from then on
  std::optional<double> listed_years;      // the middle of the lists
};

enum class ViabilityCode {
  sow_as_usual,
  sow_thicker,
  sow_and_buy,  // with a fresh packet at hand, to fill what stays empty
  nick_seed,    // it would be replaced, but hard seed is what lacks: alive, shut to water until cut
  test_more,
  replace,
  sow_in_two_goes,  // so little is alive that it would be replaced, but can't be
  wait,             // the test is still running
  no_test,
  no_standard,  // a percentage, but nothing to hold it to
};

enum class ViabilityGround {
  meets,        // the chance that it meets its standard is 90 % or more
  near_enough,  // even at its lower limit (90 %, one-sided) a tenth of the stand is lost at most
  falls_short,  // the chance is 10 % or less
  too_low,      // the chance of half the standard is 10 % or less: twice as thick won't make it up
  hard_seed,    // as many are alive, or half as many at least; too few of them come up now
  tests_clash,  // two tests that cannot both be right, and none yet that tells which is
  undecided,
  nothing_known,
};

struct ViabilityVerdict {
  ViabilityCode code = ViabilityCode::no_test;
  ViabilityGround ground = ViabilityGround::nothing_known;
  std::optional<double> times;    // sow so many times as thick; none: as usual
  std::optional<int> more_seeds;  // to test; of tests that clash none where 200 would hardly settle
  bool packet_at_hand = false;    // of test_more: until then
  std::optional<double> decides;  // the chance that so many settle it, where tests clash
  std::optional<double> times_nicked;  // likewise once nicked, if every hard seed then comes up
  // The cost of being wrong: the chance that too few come up, and the share of the stand planned
  // (at the standard) that comes up if it lies at its lower limit (90 %, one-sided). Where the seed
  // is to be nicked, all of this is of those alive, sown `times_nicked` as thick.
  std::optional<double> p_short;
  std::optional<double> sure_of;  // that limit
  std::optional<double> stand_if_wrong;
  // While tests clash all that stands above is of the side that is lower, `more_seeds` and
  // `decides` are of settling it, and this is what that side alone would say; none without a
  // standard. `times` stays empty where it would not make up for it.
  std::optional<ViabilityGround> meanwhile;
  // While a test runs: the day from which a look settles it, today at the earliest.
  std::optional<records::Date> look_again;
};

struct LotViability {
  records::Lot lot;
  records::Date asked_on{};    // today
  records::Date as_of{};       // the day of sowing asked about
  std::vector<LotTest> tests;  // by day
  bool from_soil = false;      // no towel test: trays, where fewer come up than are alive
  records::UnitKind unit = records::UnitKind::seed;  // a cluster that gives any seedling counts
  // Its tests cannot all be right: none of those settled is counted, and each side stands alone.
  std::optional<LotClash> clash;
  Stand stand;                                 // of the tests counted: what comes up
  std::int64_t hard = 0;                       // of them assessed hard
  std::optional<Stand> alive;                  // those up and those hard; none without hard
  std::optional<stats::Interval> lower_limit;  // one-sided, tray-aware
  std::optional<stats::Interval> upper_limit;
  std::optional<stats::Interval> lower_exact;  // one-sided Clopper-Pearson
  std::optional<stats::Interval> upper_exact;
  // Valid after any number of tests, also if one tests on until the answer pleases; a test is a
  // batch. None without a test, or while one is running.
  std::optional<stats::BatchInterval> any_number;
  std::optional<LotStandard> standard;
  // P(true percentage >= standard), hard seed counted or not as the standard does; none while it is
  // to be waited for: the intervals and limits are then of the share so far.
  std::optional<double> p_meets;            // as of the day asked about
  std::optional<LotAgeing> ageing;          // none while tests clash, or nothing is known
  std::optional<std::int64_t> seeds_left;   // in the ledger
  std::optional<std::int64_t> last_use;     // sown in soil in the last year that any was
  std::optional<std::int64_t> seeds_spare;  // left after that, and so for a test; 0 and more
  std::optional<double> p_now;              // of those that come up now; none without hard seed
  std::optional<double> p_alive;            // of those alive; none without hard seed
  // What such a test can show: the one-sided exact lower limit if every seed had come up, and the
  // fewest seeds, all up, that would show the standard.
  std::optional<double> best_lower;
  std::optional<int> seeds_to_show;
  ViabilityVerdict verdict;
};

struct ViabilityQuestion {
  records::Date today{};
  std::optional<double> standard;  // fraction; instead of the crop's or the label's
  RhoChoice rho;
  double level = 0.95;
  bool plan_test = true;  // where tests clash, reckon how many more seeds would settle it
  std::optional<records::Date> as_of;      // the day of sowing; else today
  std::optional<std::int64_t> seeds_left;  // in its ledger
  std::optional<double> price;             // of a packet, and what the season's crop is worth, in
  std::optional<double> season_value;      // the same money; none: a crop of six packets
};

// `histories`: all sowings of the lot. The interval and the limits are of what the latest tests
// gave, by the posterior of `summary`; p_meets and the verdict are of the day asked about, every
// test at its age (stats/ageing), and of what is alive where the tests lay in soil. Throws
// std::domain_error for a standard outside (0, 0.99]: no test can show that every seed is alive. A
// label that says more is taken as 0.99.
LotViability lot_viability(const records::Lot& lot, std::span<const records::History> histories,
                           const ViabilityQuestion& question);

}  // namespace plumule::analysis

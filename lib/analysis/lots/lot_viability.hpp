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
  older,    // more than half a year before the latest: seed ages
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

enum class ViabilityCode {
  sow_as_usual,
  sow_thicker,
  nick_seed,  // it would be replaced, but hard seed is what lacks: alive, shut to water until cut
  test_more,
  replace,
  sow_all,  // would be replaced, but can't be: sow all, each in its own cell, raise fresh seed
  wait,     // the test is still running
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
  std::optional<double> times;         // sow so many times as thick: standard / expected percentage
  std::optional<int> more_seeds;       // to test; none where even 200 would hardly decide
  std::optional<double> decides;       // the chance that so many seeds decide it
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
  std::optional<double> p_meets;
  std::optional<double> p_now;    // of those that come up now; none without hard seed
  std::optional<double> p_alive;  // of those alive; none without hard seed
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
  bool plan_test = true;  // reckon how many more seeds would decide, where that is the verdict
};

// `histories`: all sowings of the lot. p_meets, the interval and the limits are of one posterior,
// that of `summary`. Throws std::domain_error for a standard outside (0, 0.99]: no test can show
// that every seed is alive. A label that says more is taken as 0.99.
LotViability lot_viability(const records::Lot& lot, std::span<const records::History> histories,
                           const ViabilityQuestion& question);

}  // namespace plumule::analysis

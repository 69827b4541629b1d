// A lot's tests at their age: what is alive on the day asked about, by when it falls under its
// standard, and when to test it again.
#pragma once

#include <optional>
#include <vector>

#include "analysis/lots/lot_tests.hpp"
#include "records/date.hpp"
#include "records/lot.hpp"
#include "stats/ageing/aged_lot.hpp"
#include "stats/trays/rho_prior.hpp"

namespace plumule::analysis {

// Days as the posterior counts them.
double day_number(records::Date date);

// By the middle of the crop's lists of seed life.
stats::AgeingRate ageing_rate(const records::Lot& lot);

// The tests that count, and those of the same kind that are older: each at its own age. What came
// up; with `hard_too`, what was found hard as well.
std::vector<stats::AgedTest> aged_tests(const LotTests& tests, bool hard_too);

// The lot by these tests; untested, by its harvest (1 October of that year; else 1 January of the
// year it was packed in). None where neither is known.
std::optional<stats::AgedLot> aged_lot(const records::Lot& lot,
                                       const std::vector<stats::AgedTest>& tests,
                                       const stats::RhoPrior& prior);

// What that says on the day asked about.
LotAgeing ageing_of(const stats::AgedLot& aged, const records::Lot& lot,
                    const std::vector<stats::AgedTest>& tests, std::optional<double> standard,
                    records::Date as_of, double level);

}  // namespace plumule::analysis

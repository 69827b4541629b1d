// The parts of a calibration, each in a file of its own.
#pragma once

#include "report.hpp"

namespace plumule::calibration {

void stand_intervals(Report& report, const Effort& effort);     // one percentage
void prior_constant(Report& report, const Effort& effort);      // why 1/2, and what it misses
void learned_rhos(Report& report, const Effort& effort);        // rho from own sowings
void seeds_alone(Report& report, const Effort& effort);         // seeds as independent, exactly
void stand_differences(Report& report, const Effort& effort);   // intervals of a difference
void stand_tests(Report& report, const Effort& effort);         // tests of a difference
void stand_errors(Report& report, const Effort& effort);        // verdicts on the stand, wrong
void stand_coverage(Report& report, const Effort& effort);      // its ranges; random layouts
void several_treatments(Report& report, const Effort& effort);  // families; blocks by seeds
void stand_powers(Report& report, const Effort& effort);        // what is found, and neither
void stand_uses(Report& report, const Effort& effort);          // after looking, planning
void doses(Report& report, const Effort& effort);               // the best one, and the trend
void batches(Report& report, const Effort& effort);             // one lot in batches
void clashing_tests(Report& report, const Effort& effort);      // of one lot, not both right
void aged_percentages(Report& report, const Effort& effort);    // of lots, to any day
void old_seed(Report& report, const Effort& effort);            // what to do with it, and its loss
void promised_stands(Report& report, const Effort& effort);     // seeds sown for a stand
void speed(Report& report, const Effort& effort);               // mean days and ratio of times
void emergence_models(Report& report, const Effort& effort);    // fraction, its bound, t50
void rank_tests(Report& report, const Effort& effort);          // by sowings, and seed-level
void sowing_means(Report& report, const Effort& effort);        // t of one, Welch, lots in blocks
void one_trial(Report& report, const Effort& effort);           // the whole course to its verdicts
void stopped_looks(Report& report, const Effort& effort);       // looked at no more
void still_alive(Report& report, const Effort& effort);         // merely not up, or dead
void give_ups(Report& report, const Effort& effort);            // no more is waited for
void any_day(Report& report, const Effort& effort);             // read every day

// A single p whose exact coverage falls under its bar, and the coverage at the lower end of the
// interval of "all up".
struct Dip {
  int k, n;
  double b, p, bar, covered, at_end;
};

// Where the step made by that one outcome is proven to be the cause: the proof in words; else
// empty.
std::string why_low(const Dip& dip);

// The pooled t at 5 % in a cell of independent seeds, exactly: its error, and the smallest |t| at
// or past the critical one with its chance.
struct LatticeError {
  double error, nearest, nearest_chance, critical;
};
LatticeError pooled_t_error(int k, int n, double p);

// Where that one value, or else how skew the fractions are (skewness 0.5 and more), is the cause of
// an error above 5 %: in words; else empty.
std::string why_over(const LatticeError& found, int n, double p);

}  // namespace plumule::calibration

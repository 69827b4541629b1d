// The parts of a calibration, each in a file of its own.
#pragma once

#include "report.hpp"

namespace plumule::calibration {

void stand_intervals(Report& report, const Effort& effort);    // one percentage
void stand_differences(Report& report, const Effort& effort);  // intervals of a difference
void stand_tests(Report& report, const Effort& effort);        // tests of a difference
void stand_verdicts(Report& report, const Effort& effort);     // more, fewer, neither
void batches(Report& report, const Effort& effort);            // one lot in batches
void speed(Report& report, const Effort& effort);              // mean days and ratio of times
void any_day(Report& report, const Effort& effort);            // read every day

}  // namespace plumule::calibration

// Simulates whole trials and prints coverage, width and error rate of every interval, test and
// verdict; fails if a bar is breached. `calibration` is the short form, `calibration full` the
// whole.
#include <cstdio>
#include <cstring>

#include "parts.hpp"

int main(int argc, char** argv) {
  using namespace plumule::calibration;
  if (argc > 2 || (argc == 2 && std::strcmp(argv[1], "full") != 0)) {
    std::fputs("usage: calibration [full]\n", stderr);
    return 2;
  }
  const Effort effort{argc == 2};
  Report report;
  report.say("# Calibration");
  report.say("\nWritten by `ninja calibration_table`. k: sowings (trays) a treatment; n: seeds a");
  report.say(
      "sowing; rho: correlation of seeds within a sowing; tau: spread between sowings of log");
  report.say(
      "time. Coverage and error in per cent. Simulated trials are invented; seeds are fixed.");
  stand_intervals(report, effort);
  stand_differences(report, effort);
  stand_tests(report, effort);
  stand_verdicts(report, effort);
  batches(report, effort);
  speed(report, effort);
  any_day(report, effort);
  report.summary();
  return report.failed() == 0 ? 0 : 1;
}

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
  report.say("time. Coverage and error in per cent. Simulated trials are invented.");
  report.say(
      "\nSeeds of the random numbers are fixed: a section's cells take one after another from 1");
  report.say(
      "(differences), 100 (tests), 300 (speed), 900 (batches), 2000 (several treatments), 2600");
  report.say(
      "(doses), 2700 (blocks), 3000 (tests of the course), 3500 (models), 4000, 4200, 4400 (values "
      "of sowings), 5000 (verdicts), 6000 (blocks and jars), 700");
  report.say(
      "(read every day), 7500 (looks stopped), 7800 (learned rho), 9000 (seeds alone), 12000 "
      "(tests "
      "that clash), 14000, "
      "15000, 16000 (the model of the stand); drawn trays "
      "100000 k + 100 n + 100 p. Barred figures "
      "are counted "
      "up");
  report.say("under Bars, at the end, where every bar missed stands with its reason; all others");
  report.say("are printed only.");
  stand_intervals(report, effort);
  prior_constant(report, effort);
  learned_rhos(report, effort);
  seeds_alone(report, effort);
  stand_differences(report, effort);
  stand_tests(report, effort);
  several_treatments(report, effort);
  stand_verdicts(report, effort);
  stand_models(report, effort);
  stand_model_powers(report, effort);
  stand_model_uses(report, effort);
  block_verdicts(report, effort);
  batches(report, effort);
  clashing_tests(report, effort);
  speed(report, effort);
  rank_tests(report, effort);
  emergence_models(report, effort);
  sowing_means(report, effort);
  stopped_looks(report, effort);
  any_day(report, effort);
  report.summary();
  return report.failed() == 0 ? 0 : 1;
}

// Simulates whole trials and prints coverage, width and error rate of every interval, test and
// verdict; fails if a bar is breached. `calibration` is the short form, `calibration full` the
// whole; names of parts after it, and it is those alone.
#include <algorithm>
#include <cstdio>
#include <string_view>
#include <vector>

#include "parts.hpp"

namespace {

using namespace plumule::calibration;

struct Part {
  std::string_view name;
  void (*run)(Report&, const Effort&);
};

// The verdicts first, then what stands beside them.
constexpr Part every_part[] = {{"stand_errors", stand_errors},
                               {"several_treatments", several_treatments},
                               {"stand_coverage", stand_coverage},
                               {"stand_powers", stand_powers},
                               {"stand_uses", stand_uses},
                               {"speed", speed},
                               {"one_trial", one_trial},
                               {"stopped_looks", stopped_looks},
                               {"any_day", any_day},
                               {"doses", doses},
                               {"stand_intervals", stand_intervals},
                               {"prior_constant", prior_constant},
                               {"learned_rhos", learned_rhos},
                               {"batches", batches},
                               {"clashing_tests", clashing_tests},
                               {"aged_percentages", aged_percentages},
                               {"old_seed", old_seed},
                               {"promised_stands", promised_stands},
                               {"still_alive", still_alive},
                               {"give_ups", give_ups},
                               {"stand_differences", stand_differences},
                               {"stand_tests", stand_tests},
                               {"seeds_alone", seeds_alone},
                               {"rank_tests", rank_tests},
                               {"sowing_means", sowing_means},
                               {"emergence_models", emergence_models}};

void preface(Report& report) {
  report.say("# Calibration");
  report.say("\nWritten by `ninja calibration_table`. k: sowings (trays) a treatment; n: seeds a");
  report.say(
      "sowing; rho: correlation of seeds within a sowing; tau: spread between sowings of log");
  report.say("time. Coverage and error in per cent. Simulated trials are invented.");
  report.say(
      "\nError rates and coverages that are barred are drawn until their standard error is 0.3");
  report.say(
      "points at most, powers a point; no cell is drawn anew because of what it gave. Barred");
  report.say(
      "figures are counted up under Bars, at the end, where every bar missed stands by name;");
  report.say("all others are printed only.");
  report.say(
      "\nSeeds of the random numbers are fixed: a section's cells take one after another from 1");
  report.say("(differences), 100 (tests), 300 (speed), 700 (read every day), 900 (batches), 2000");
  report.say(
      "(several treatments), 2600 (doses), 2700 (blocks by seeds), 3000 (tests of the course),");
  report.say("3500 (models), 4000, 4200, 4400 (values of sowings), 6000 (one trial), 7500 (looks");
  report.say(
      "stopped), 7800 (learned rho), 9000 (seeds alone), 12000 (tests that clash), 14000 (wrong");
  report.say(
      "claims on the stand), 15000 (its ranges), 15500 (its powers), 16000 (its uses), 16500");
  report.say(
      "(percentages carried forward), 17000 (old seed), 18000 (giving up), 18500 (still alive),");
  report.say("19000 (stands promised); drawn trays 100000 k + 100 n + 100 p.");
}

}  // namespace

int main(int argc, char** argv) {
  std::vector<std::string_view> asked(argv + 1, argv + argc);
  Effort effort;
  if (!asked.empty() && asked.front() == "full") {
    effort.full = true;
    asked.erase(asked.begin());
  }
  const auto is_part = [](std::string_view name) {
    return std::ranges::any_of(every_part, [&](const Part& part) { return part.name == name; });
  };
  if (!std::ranges::all_of(asked, is_part)) {
    std::fputs("usage: calibration [full] [PART...], parts:", stderr);
    for (const Part& part : every_part) std::fprintf(stderr, " %s", part.name.data());
    std::fputs("\n", stderr);
    return 2;
  }
  Report report;
  preface(report);
  for (const Part& part : every_part)
    if (asked.empty() || std::ranges::find(asked, part.name) != asked.end())
      part.run(report, effort);
  report.summary();
  return report.failed() == 0 ? 0 : 1;
}

// How long to soak the beans? A spreadsheet of counts is read into a logbook that is kept in
// memory, the trial is asked about as `plumule compare` would, and the curve over the hours soaked
// is shown: does more soaking bring more beans, and is there a best within what was tried?
//
// Data: sample-logs/beans-soaked.csv, invented (dry, 8 and 24 hours, four trays of each;
// drawn so that the long soak loses seed and the short one does not).
#include <algorithm>
#include <cstdio>
#include <fstream>

#include "analysis/comparison/treatment_comparison.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"

using namespace plumule;

int main() {
  auto book = logbook::Logbook::in_memory();
  std::ifstream file("sample-logs/beans-soaked.csv");  // run from the project's folder
  const records::Date today = *records::parse_date("2026-05-10");
  logbook::Entry entry(book, "example", "import", today);
  logbook::import_flat_log(entry,
                           [&](char* into, std::size_t size) {
                             file.read(into, static_cast<std::streamsize>(size));
                             return static_cast<std::size_t>(file.gcount());
                           },
                           {});
  entry.commit();

  analysis::ComparisonQuestion question;
  question.trial = logbook::find_trial(book, "SOAK-26");
  question.treatments = logbook::treatments(book);
  question.today = today;
  logbook::Selection asked;
  asked.trial = "SOAK-26";
  const auto found = analysis::compare_treatments(logbook::histories(book, asked), question);

  for (const auto& contrast : found.contrasts)
    std::printf("%-9s against %s: %s\n", contrast.treatment.c_str(), contrast.against.c_str(),
                contrast.code.c_str());

  const auto& dose = *found.dose;
  for (const double hours : dose.tried)
    std::printf("%2.0f hours: %.0f %% by the curve\n", hours, 100 * dose.curve.at(hours));
  if (dose.best.status == stats::BestDoseStatus::peak)
    std::printf("best %.1f hours (95 %%, of what was tried: %.1f to %.1f)\n", dose.best.dose,
                std::max(dose.best.interval.lower, dose.tried.front()),
                std::min(dose.best.interval.upper, dose.tried.back()));
  else
    std::printf("no best soak within what was tried\n");
}

// It prints:
// soaked-8h against untreated: sooner
// soaked-24h against untreated: fewer+sooner
//  0 hours: 87 % by the curve
//  8 hours: 93 % by the curve
// 24 hours: 55 % by the curve
// no best soak within what was tried

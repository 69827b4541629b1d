// A trial from the bench to its verdict, by calls of the library alone, as a page or another
// program would make them: it is laid out and sown, walked and counted on nine days, ended and
// compared.
//
// Data: Keshtkar et al. 2017 (Weed Science 65:732-742), blackgrass biotype R at 10 C, the four pots
// of experiment 1 at the surface and 3 cm deep, 36 seeds a pot; totals up at nine of their looks.
// The article gives days from sowing; the calendar here is ours.
#include <cstdio>
#include <map>
#include <vector>

#include "analysis/comparison/treatment_comparison.hpp"
#include "bench/count_walk.hpp"
#include "bench/ending.hpp"
#include "bench/sow.hpp"
#include "bench/trials.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "records/refused.hpp"

using namespace plumule;

namespace {

const std::vector<int> days{17, 18, 20, 22, 24, 26, 29, 33, 39};
using Pots = std::vector<std::vector<int>>;
const std::map<std::string, Pots> published{{"untreated",
                                             {{0, 0, 1, 4, 5, 9, 12, 18, 23},
                                              {0, 0, 0, 1, 4, 8, 10, 23, 26},
                                              {0, 0, 1, 1, 4, 8, 14, 22, 27},
                                              {0, 0, 0, 0, 3, 7, 22, 30, 33}}},
                                            {"deep",
                                             {{0, 1, 5, 7, 10, 12, 12, 12, 14},
                                              {1, 5, 12, 17, 17, 18, 20, 20, 20},
                                              {1, 4, 6, 9, 12, 18, 21, 21, 21},
                                              {0, 1, 4, 11, 12, 14, 15, 19, 20}}}};
const records::Date sown = *records::parse_date("2026-01-05");

records::Date on(int day) { return sown + std::chrono::days(day); }

bench::Sown lay_out(logbook::Logbook& book) {
  bench::ToSow wanted;
  wanted.each.sown.date = sown;
  wanted.each.crop = "blackgrass";
  wanted.each.setting = records::Setting::pot;
  wanted.each.units = 36;
  for (const char* label : {"untreated", "deep"})
    wanted.treatments.push_back({.treatment = {.label = label}, .may_be_new = true});
  wanted.trial.name = "DEPTH";
  wanted.trial.plan.until = on(43);
  wanted.trays = 4;
  wanted.draw = 1;
  logbook::Entry entry(book, "example", "sow", sown);
  const bench::Sown done = bench::sow(entry, wanted);
  entry.commit();
  return done;
}

}  // namespace

int main() {
  auto book = logbook::Logbook::in_memory();
  const bench::Sown bench = lay_out(book);
  std::map<std::string, const std::vector<int>*> counts;  // by label
  std::map<std::string, std::size_t> used;
  for (const records::Sowing& pot : bench.all) {
    counts[pot.label] = &published.at(pot.treatment)[used[pot.treatment]++];
    std::printf("%s %s%s", pot.label.c_str(), pot.treatment.c_str(),
                &pot == &bench.all.back() ? "\n" : ", ");
  }

  for (std::size_t i = 0; i < days.size(); ++i) {
    const records::Moment at{on(days[i]), {}};
    for (bench::Stop& stop : bench::count_walk(book, at, "example", {}).stops) {
      logbook::Entry entry(book, "example", "count", at.date);
      bench::answer(entry, at, stop, records::Entered{.value = (*counts.at(stop.sowing.label))[i]});
      entry.commit();
    }
  }

  try {  // what the record will not take comes as facts, and as data what may have been meant
    const records::Moment at{on(40), {}};
    bench::CountWalk walk = bench::count_walk(book, at, "example", {});
    logbook::Entry entry(book, "example", "count", at.date);
    bench::answer(entry, at, walk.stops[0], records::Entered{.value = 10});
  } catch (const records::Refused& refused) {
    std::printf("%s\n", refused.what());
    for (const records::Hint& hint : refused.hints())
      if (hint.advice == records::Advice::some_died)
        std::printf("a button for it: %lld stand, %lld died\n",
                    static_cast<long long>(hint.figure->value),
                    static_cast<long long>(hint.figure->lost));
  }

  logbook::Entry entry(book, "example", "end", on(43));
  for (const records::Sowing& pot : bench::sowings_to_end(book, "DEPTH"))
    logbook::end_sowing(entry, pot.id, {records::EndingKind::finished, {on(43), {}}, {}});
  entry.commit();

  const auto trial = bench::trial_sowings(book, "DEPTH");
  analysis::ComparisonQuestion question;
  question.subject = "DEPTH";
  question.trial = trial->trial;
  question.treatments = logbook::treatments(book);
  question.today = on(43);
  const auto found = analysis::compare_treatments(trial->histories, question);
  for (const auto& contrast : found.contrasts)
    std::printf("%s against %s: %s\n", contrast.treatment.c_str(), contrast.against.c_str(),
                contrast.code.c_str());
}

// It prints:
// A1 untreated, A2 untreated, A3 deep, A4 deep, A5 deep, A6 deep, A7 untreated, A8 untreated
// A1: 23 stood on Friday, 10 now.
// a button for it: 10 stand, 13 died
// deep against untreated: sooner

// One side of `run.sh --peers`: draws the trials, times the library on them, and checks that R
// found the same numbers.
//   peers draw DIR TRIALS        DIR/trials.csv and the logbook DIR/trials.db
//   peers time DIR TRIALS        a line `step seconds` each, on standard output
//   peers check DIR TRIALS SIMULATED    against DIR/r.tsv; 1 where a number differs
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <span>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/course/sowing_course.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/store/one_moment.hpp"
#include "peers_check.hpp"
#include "peers_simulation.hpp"
#include "peers_steps.hpp"
#include "stats/proportions/fisher.hpp"
#include "stats/proportions/two_proportions.hpp"
#include "stats/stand/contrast.hpp"
#include "stats/stand/plan.hpp"
#include "stats/times/emergence_model.hpp"
#include "stats/trays/tray_aware.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::peers {
namespace {

volatile double sink;  // what is reckoned must be kept

// Seconds of processor time that work() takes: median of five passes of 0.05 s or more.
template <class Work>
double seconds(Work&& work) {
  std::vector<double> each;
  for (int pass = 0; pass < 5; ++pass) {
    const double start = cpu_seconds();
    double spent = 0;
    int times = 0;
    while (spent < 0.05) {
      sink = work();
      ++times;
      spent = cpu_seconds() - start;
    }
    each.push_back(spent / times);
  }
  std::ranges::sort(each);
  return each[each.size() / 2];
}

void tell(const char* step, double time) {
  fmt::print("{}\t{:.9g}\n", step, time);
  std::fflush(stdout);
}

// `work` once on every trial, the time of one.
template <class Work>
void each_trial(const char* step, const std::vector<Trial>& trials, int per_trial, Work&& work) {
  const double all = seconds([&] {
    double sum = 0;
    for (const Trial& trial : trials) sum += work(trial);
    return sum;
  });
  tell(step, all / static_cast<double>(trials.size()) / per_trial);
}

std::array<Arm, 2> stored(logbook::Logbook& book, const std::string& code,
                          std::vector<records::History>& histories) {
  logbook::Selection selection;
  selection.trial = code;
  histories = logbook::histories(book, selection);
  std::array<Arm, 2> arms;
  for (const records::History& history : histories)
    arms[history.sowing.treatment == "dry" ? 0 : 1].push_back(
        analysis::sowing_course(history).course);
  return arms;
}

void time_stored(const std::string& folder, const std::vector<Trial>& trials) {
  auto book = logbook::Logbook::open(folder + "/trials.db", logbook::Access::read);
  analysis::ComparisonQuestion question;
  question.treatments = logbook::treatments(book);
  question.today = *records::parse_date("2030-01-01");
  question.against = "dry";
  std::vector<records::History> histories;
  const logbook::OneMoment moment(book.store());  // all trials as of one, as R reads its file once
  each_trial("stored: read", trials, 1, [&](const Trial& trial) {
    return static_cast<double>(stored(book, trial.code, histories)[0].size());
  });
  each_trial("stored: same steps", trials, 1, [&](const Trial& trial) {
    const auto arms = stored(book, trial.code, histories);
    return figures(arms[0], arms[1]).fisher;
  });
  const auto compared = [&](const Trial& trial, bool detail) {
    const auto arms = stored(book, trial.code, histories);
    const double same = detail ? 0 : figures(arms[0], arms[1]).fisher;
    question.subject = trial.code;
    question.trial = logbook::find_trial(book, trial.code);
    question.detail = detail;
    const auto answer = analysis::compare_treatments(histories, question);
    return same + answer.contrasts.front().stand.came_up->difference();
  };
  each_trial("stored: all", trials, 1, [&](const Trial& trial) { return compared(trial, false); });
  const std::vector<Trial> few(trials.begin(), trials.begin() + 2);
  each_trial("stored: full", few, 1, [&](const Trial& trial) { return compared(trial, true); });
}

void time_steps(const std::vector<Trial>& trials) {
  std::vector<std::vector<stats::Span>> pooled;
  for (const Trial& trial : trials)
    for (const Arm& arm : trial.arms) pooled.push_back(stats::pool(arm).spans);
  const auto each_pool = [&](const char* step, auto&& work) {
    const double all = seconds([&] {
      double sum = 0;
      for (const auto& spans : pooled) sum += work(spans);
      return sum;
    });
    tell(step, all / static_cast<double>(pooled.size()));
  };
  each_trial("intervals", trials, 1, [](const Trial& trial) {
    double sum = 0;
    for (const Arm& arm : trial.arms) {
      double up = 0;
      double sown = 0;
      for (const stats::TimeCourse& course : arm) {
        up += stats::emerged(course);
        sown += *course.sown;
      }
      sum += stats::wilson({up, sown}).lower + stats::clopper_pearson({up, sown}).lower;
    }
    return sum;
  });
  each_trial("indices", trials, 1, [](const Trial& trial) {
    return *stats::emergence_indices(trial.arms[0]).mean +
           *stats::emergence_indices(trial.arms[1]).mean;
  });
  each_pool("npmle",
            [](const std::vector<stats::Span>& spans) { return stats::npmle(spans).loglik; });
  each_pool("fit", [](const std::vector<stats::Span>& spans) { return fit(spans).se_log_median; });
  each_trial("model", trials, 2, [](const Trial& trial) {
    double sum = 0;
    stats::ModelOptions options;
    options.family = stats::TimeFamily::log_logistic;
    for (const Arm& arm : trial.arms) sum += stats::fit_emergence(arm, options).t50.estimate;
    return sum;
  });
  std::vector<stats::TwoByTwo> tables;
  for (std::size_t i = 0; i < pooled.size(); i += 2) {
    const auto dry = stats::pool(trials[i / 2].arms[0]);
    const auto soaked = stats::pool(trials[i / 2].arms[1]);
    tables.emplace_back(soaked.emerged, soaked.units, dry.emerged, dry.units);
  }
  const auto each_table = [&](const char* step, auto&& work) {
    const double all = seconds([&] {
      double sum = 0;
      for (const auto& table : tables) sum += work(table);
      return sum;
    });
    tell(step, all / static_cast<double>(tables.size()));
  };
  each_table("newcombe",
             [](const stats::TwoByTwo& t) { return stats::newcombe_difference(t).lower; });
  each_table("fisher", [](const stats::TwoByTwo& t) { return stats::fisher(t); });
}

void time_alone() {
  constexpr int simulated = 2'000;
  std::uint64_t seed = 1;
  tell("simulation",
       seconds([&] { return simulate(simulated, stats::Random(++seed)).covered; }) / simulated);
  stats::Random random(3);
  std::vector<std::vector<stats::TrayCount>> sets;
  for (int i = 0; i < 200; ++i) {
    auto& trays = sets.emplace_back();
    const double p = 0.05 + 0.9 * random.unit();
    for (int k = 0; k < 4; ++k) trays.push_back({random.beta_binomial(50, p, 0.03), 50});
  }
  tell("tray-aware", seconds([&] {
                       double sum = 0;
                       for (const auto& trays : sets)
                         sum += stats::tray_aware_interval(trays, {}).lower;
                       return sum;
                     }) / static_cast<double>(sets.size()));
  std::vector<stats::RandomisedUnit> units;
  for (int i = 0; i < 24; ++i)
    units.push_back(
        {fmt::format("U{:02}", i), 0, i % 2 == 0,
         static_cast<double>(random.beta_binomial(50, i % 2 == 0 ? 0.8 : 0.7, 0.03)) / 50});
  tell("randomisation", seconds([&] { return stats::randomisation_test(units, ++seed).p; }));
}

// Trials of so many treatments in so many blocks, of trays of 50, and what the model of the stand
// says of each: the treatments' ranges and every difference from the first.
class StandTrials {
 public:
  StandTrials(int treatments, int blocks, int trays, stats::Random random)
      : treatments_(treatments) {
    for (int i = 0; i < 20; ++i) {
      auto& units = trials_.emplace_back();
      for (int unit = 0; unit < treatments * blocks * trays; ++unit) {
        const int treatment = unit % treatments;
        const int block = unit / treatments % blocks;
        const double p = 0.9 - 0.05 * treatment - 0.03 * block;
        units.push_back({treatment, block, random.beta_binomial(50, p, 0.03), 50});
      }
    }
  }

  // Seconds of one trial: with the ranges, and without.
  double model_and_differences(bool ranges) const {
    return each([&](const std::vector<stats::PlacedUnit>& units) {
      const stats::StandModel model(units, treatments_, {});
      double sum = 0;
      for (int t = 1; t < treatments_; ++t) sum += stats::contrast(model, t, 0).range.lower;
      for (int t = 0; ranges && t < treatments_; ++t) sum += model.range(t).lower;
      return sum;
    });
  }
  double trays_needed() const {
    return each([&](const std::vector<stats::PlacedUnit>& units) {
      const stats::StandModel model(units, treatments_, {});
      return stats::trays_needed(model, 1, 0, {}).chance;
    });
  }

 private:
  template <class Work>
  double each(Work&& work) const {
    return seconds([&] {
             double sum = 0;
             for (const auto& units : trials_) sum += work(units);
             return sum;
           }) /
           static_cast<double>(trials_.size());
  }

  int treatments_;
  std::vector<std::vector<stats::PlacedUnit>> trials_;
};

void time_stand() {
  const StandTrials small(2, 1, 4, stats::Random(5));
  const StandTrials large(6, 8, 1, stats::Random(6));
  tell("stand: small", small.model_and_differences(false));
  tell("stand: large", large.model_and_differences(false));
  tell("stand: small, ranges", small.model_and_differences(true));
  tell("stand: large, ranges", large.model_and_differences(true));
  tell("stand: trays needed", small.trays_needed());
}

int run(std::span<char*> arguments) {
  const std::string what = arguments[1];
  const std::string folder = arguments[2];
  const auto trials = draw_trials(std::atoi(arguments[3]), stats::Random(1));
  if (what == "draw") {
    const std::string flat = flat_log(trials);
    std::ofstream(folder + "/trials.csv") << flat;
    store(flat, folder + "/trials.db");
    return 0;
  }
  if (what == "time") {
    time_stored(folder, trials);
    time_steps(trials);
    time_alone();
    time_stand();
    return 0;
  }
  const Agreement found = check(trials, folder + "/r.tsv", std::atoi(arguments[4]));
  for (const std::string& line : found.agree) fmt::print("{}\n", line);
  for (const std::string& line : found.differences) fmt::print(stderr, "differs: {}\n", line);
  return found.differences.empty() ? 0 : 1;
}

}  // namespace
}  // namespace plumule::peers

int main(int count, char** arguments) {
  const std::span given(arguments, static_cast<std::size_t>(count));
  if (count < 4 || (std::string(given[1]) == "check" && count < 5)) {
    std::fputs("usage: peers draw|time|check DIR TRIALS [SIMULATED]\n", stderr);
    return 2;
  }
  try {
    return plumule::peers::run(given);
  } catch (const std::exception& problem) {
    fmt::print(stderr, "peers: {}\n", problem.what());
    return 1;
  }
}

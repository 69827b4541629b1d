#include "peers_trials.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <ctime>
#include <stdexcept>

#include "logbook/flat/log.hpp"
#include "logbook/journal/entry.hpp"

namespace plumule::peers {
namespace {

constexpr int last_day = 16;
constexpr int looks = 14;
constexpr int trays = 4;

std::vector<int> draw_days(stats::Random& random) {
  std::vector<int> early(last_day - 1);
  for (int i = 0; i < last_day - 1; ++i) early[static_cast<std::size_t>(i)] = i + 1;
  random.shuffle(std::span(early));
  early.resize(looks - 1);
  std::ranges::sort(early);
  early.push_back(last_day);
  return early;
}

// One tray: the share that can come up, and their times.
stats::TimeCourse draw_tray(stats::Random& random, const std::vector<int>& days, double share,
                            double log_median, double shape) {
  const auto seeds = static_cast<std::int64_t>(10 + random.below(91));
  std::vector<double> times(static_cast<std::size_t>(random.beta_binomial(seeds, share, 0.03)));
  for (double& time : times) {
    const double u = random.open_unit();
    time = std::exp(log_median + std::log(u / (1 - u)) / shape);
  }
  stats::TimeCourse course;
  course.sown = static_cast<double>(seeds);
  for (const int day : days)
    course.looks.push_back(
        {static_cast<double>(day),
         static_cast<double>(std::ranges::count_if(times, [&](double t) { return t <= day; }))});
  return course;
}

}  // namespace

std::vector<Trial> draw_trials(int number, stats::Random random) {
  constexpr std::array<double, 2> more = {0, 0.4};
  constexpr std::array<double, 2> sooner = {0, 0.15};
  const records::Date first = *records::parse_date("2015-01-01");
  std::vector<Trial> trials;
  while (static_cast<int>(trials.size()) < number) {
    Trial trial;
    trial.code = fmt::format("T{:04}", trials.size() + 1);
    trial.sown = first + std::chrono::days(random.below(3650));
    const double share = std::clamp(random.beta(6, 2), 0.01, 0.99);
    const double log_median = std::log(6.0) + 0.25 * random.normal();
    const double shape = std::exp(std::log(6.0) + 0.25 * random.normal());
    const auto common = draw_days(random);
    double up = 1e9;  // of the arm with the fewest
    for (std::size_t arm = 0; arm < 2; ++arm) {
      const double p = 1 / (1 + (1 - share) / share * std::exp(-more[arm]));
      double here = 0;
      for (int i = 0; i < trays; ++i) {
        const auto days = random.unit() < 0.25 ? draw_days(random) : common;
        trial.arms[arm].push_back(draw_tray(random, days, p, log_median - sooner[arm], shape));
        here += stats::emerged(trial.arms[arm].back());
      }
      up = std::min(up, here);
    }
    if (up >= 10) trials.push_back(std::move(trial));  // enough for R's search to find a fit
  }
  return trials;
}

std::string flat_log(const std::vector<Trial>& trials) {
  std::string text = "sowing,sown_on,counted_on,emerged,seeds,lot,treatment,trial\n";
  int sowing = 0;
  for (const Trial& trial : trials)
    for (std::size_t arm = 0; arm < 2; ++arm)
      for (const stats::TimeCourse& course : trial.arms[arm]) {
        ++sowing;
        for (const stats::Look& look : course.looks)
          text += fmt::format(
              "S{:06},{},{},{},{},L{},{},{}\n", sowing, records::to_text(trial.sown),
              records::to_text(trial.sown + std::chrono::days(static_cast<int>(look.time))),
              static_cast<int>(look.total), static_cast<int>(*course.sown), trial.code,
              arm == 0 ? "dry" : "soaked", trial.code);
      }
  return text;
}

void store(const std::string& flat, const std::string& path) {
  auto book = logbook::Logbook::create(path);
  logbook::Entry entry(book, "the benchmark", "import", *records::parse_date("2030-01-01"));
  std::size_t at = 0;
  const auto summary = logbook::import_flat_log(entry,
                                                [&](char* into, std::size_t size) {
                                                  const std::size_t here =
                                                      std::min(size, flat.size() - at);
                                                  std::memcpy(into, flat.data() + at, here);
                                                  at += here;
                                                  return here;
                                                },
                                                {});
  if (summary.errors_in_all > 0)
    throw std::runtime_error("line " + std::to_string(summary.errors.front().line) + ": " +
                             summary.errors.front().reason);
  entry.commit();
}

double cpu_seconds() {
  std::timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace plumule::peers

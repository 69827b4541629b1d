#include "report/parts/method_words.hpp"

#include <fmt/format.h>

namespace plumule::report {

std::string_view word(stats::TimeFamily family) {
  switch (family) {
    case stats::TimeFamily::log_logistic:
      return "log-logistic";
    case stats::TimeFamily::lognormal:
      return "lognormal";
    case stats::TimeFamily::weibull:
      return "weibull";
    case stats::TimeFamily::gamma:
      break;
  }
  return "gamma";
}

std::string_view word(stats::ModelStatus status) {
  switch (status) {
    case stats::ModelStatus::fitted:
      return "fitted";
    case stats::ModelStatus::nothing_emerged:
      return "nothing-emerged";
    case stats::ModelStatus::single_count:
      return "single-count";
    case stats::ModelStatus::one_interval:
      return "one-interval";
    case stats::ModelStatus::two_intervals:
      return "two-intervals";
    case stats::ModelStatus::not_converged:
      break;
  }
  return "not-converged";
}

std::string_view word(stats::RangeSource source) {
  switch (source) {
    case stats::RangeSource::table:
      return "table";
    case stats::RangeSource::exact:
      return "exact";
    case stats::RangeSource::normal:
      break;
  }
  return "normal";
}

std::string_view unit_word(records::UnitKind unit, std::int64_t number) {
  switch (unit) {
    case records::UnitKind::cluster:
      return number == 1 ? "cluster" : "clusters";
    case records::UnitKind::cell:
      return number == 1 ? "cell" : "cells";
    case records::UnitKind::seed:
      break;
  }
  return number == 1 ? "seed" : "seeds";
}

std::string_view counting_words(records::Counting counting) {
  switch (counting) {
    case records::Counting::root_seen:
      return "roots seen";
    case records::Counting::usable_seedling:
      return "usable seedlings";
    case records::Counting::shoot_up:
      break;
  }
  return "shoots up";
}

std::string prior_words(const stats::RhoPrior& prior, double rho90) {
  if (prior.is_fixed())
    return fmt::format("seeds of one sowing alike at rho = {:.3g}, as asked", prior.fixed);
  const std::string b =
      prior.b < 1000 ? fmt::format("{:.3g}", prior.b) : fmt::format("{:.0f}", prior.b);
  const std::string own =
      prior.groups > 0 ? fmt::format(" from {} of your own groups", prior.groups) : "";
  const std::string most =
      rho90 < 0.01 ? fmt::format("{:.1g}", rho90) : fmt::format("{:.2f}", rho90);
  return fmt::format("seeds of one sowing alike: rho ~ Beta(1, {}){}, 90 % below {}", b, own, most);
}

}  // namespace plumule::report

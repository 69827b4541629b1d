#include "peers_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>
#include <map>
#include <sstream>
#include <stdexcept>

#include "peers_simulation.hpp"
#include "peers_steps.hpp"

namespace plumule::peers {
namespace {

constexpr double not_there = std::numeric_limits<double>::quiet_NaN();

using Values = std::map<std::string, double>;  // "trial treatment name"

Values read(const std::string& path) {
  std::ifstream file(path);
  Values values;
  for (std::string line; std::getline(file, line);) {
    std::istringstream fields(line);
    std::string kind, trial, treatment, name, number;
    std::getline(fields, kind, '\t');
    if (kind != "value") continue;
    std::getline(fields, trial, '\t');
    std::getline(fields, treatment, '\t');
    std::getline(fields, name, '\t');
    std::getline(fields, number);
    values[trial + ' ' + treatment + ' ' + name] =
        number == "NA" ? not_there : std::strtod(number.c_str(), nullptr);
  }
  if (values.empty()) throw std::runtime_error("R left no results in " + path);
  return values;
}

class Checker {
 public:
  Checker(const Values& theirs, Agreement& agreement) : theirs_(theirs), agreement_(agreement) {}

  void about(const std::string& kind) {
    finish();
    kind_ = kind;
  }
  // Ours against R's of that name, within `reach` of it.
  void close(const std::string& key, double ours, double reach) {
    const auto at = theirs_.find(key);
    const double theirs = at == theirs_.end() ? not_there : at->second;
    const double off = std::fabs(ours - theirs);
    ++compared_;
    if (off <= reach)
      furthest_ = std::max(furthest_, off);
    else
      agreement_.differences.push_back(
          fmt::format("{}: {}, {:.10g} here and {:.10g} in R", kind_, key, ours, theirs));
  }
  void holds(const std::string& what, bool does) {
    ++compared_;
    if (!does) agreement_.differences.push_back(kind_ + ": " + what);
  }
  void finish() {
    if (compared_ > 0)
      agreement_.agree.push_back(
          fmt::format("{}: {} compared, at most {:.1g} apart", kind_, compared_, furthest_));
    compared_ = 0;
    furthest_ = 0;
  }

 private:
  const Values& theirs_;
  Agreement& agreement_;
  std::string kind_;
  int compared_ = 0;
  double furthest_ = 0;
};

using Each = std::vector<std::pair<std::string, Figures>>;

void check_intervals(Checker& checker, const Each& all) {
  checker.about("intervals and Fisher's p");
  for (const auto& [trial, ours] : all) {
    for (std::size_t arm = 0; arm < 2; ++arm) {
      const std::string key = trial + (arm == 0 ? " dry " : " soaked ");
      const ArmFigures& figures = ours.arms[arm];
      checker.close(key + "wilson_lower", figures.wilson.lower, 1e-9);
      checker.close(key + "wilson_upper", figures.wilson.upper, 1e-9);
      checker.close(key + "exact_lower", figures.exact.lower, 1e-9);
      checker.close(key + "exact_upper", figures.exact.upper, 1e-9);
    }
    checker.close(trial + " both newcombe_lower", ours.newcombe.lower, 1e-9);
    checker.close(trial + " both newcombe_upper", ours.newcombe.upper, 1e-9);
    checker.close(trial + " both fisher", ours.fisher, 1e-9);
  }
}

void check_indices(Checker& checker, const Each& all) {
  checker.about("indices");
  for (const auto& [trial, ours] : all)
    for (std::size_t arm = 0; arm < 2; ++arm) {
      const std::string key = trial + (arm == 0 ? " dry " : " soaked ");
      const stats::EmergenceIndices& x = ours.arms[arm].indices;
      const std::array<std::pair<const char*, std::optional<double>>, 12> pairs = {
          {{"first", x.first},
           {"last", x.last},
           {"mean", x.mean},
           {"variance", x.variance},
           {"cv", x.cv},
           {"velocity", x.velocity},
           {"speed", x.speed},
           {"bits", x.uncertainty_bits},
           {"synchrony", x.synchrony},
           {"t50_coolbear", x.t50_coolbear},
           {"t50_farooq", x.t50_farooq},
           {"peak", x.peak_value}}};
      for (const auto& [name, value] : pairs)
        checker.close(key + name, value.value_or(not_there), 1e-7);
      checker.close(key + "value", x.germination_value.value_or(not_there), 1e-6);
      checker.close(key + "timson", x.timson_sum.value_or(not_there), 1e-6);
    }
}

// R names a mass by the middle of the set it lies in (by its end where the set begins with the
// sowing), and stops up to 5e-4 short of the maximum.
void check_masses(Checker& checker, const Each& all, const Values& theirs) {
  checker.about("NPMLE masses");
  for (const auto& [trial, ours] : all)
    for (std::size_t arm = 0; arm < 2; ++arm) {
      const std::string key = trial + (arm == 0 ? " dry mass@" : " soaked mass@");
      const stats::Npmle& estimate = ours.arms[arm].npmle;
      checker.holds(key + " has a KKT gap over 1e-8", estimate.kkt_gap <= 1e-8);
      for (const stats::MassPoint& point : estimate.points) {
        if (point.right == stats::no_end) continue;
        const std::string where = fmt::format(
            "{}{:g}", key, point.left > 0 ? (point.left + point.right) / 2 : point.right);
        if (point.mass > 2e-3 || theirs.contains(where)) checker.close(where, point.mass, 2e-3);
      }
    }
}

// Where the fraction is at its boundary R's logit runs away; it may also stop short of the maximum.
void check_fits(Checker& checker, const Each& all, const Values& theirs) {
  checker.about("fits");
  int left_out = 0;
  for (const auto& [trial, ours] : all)
    for (std::size_t arm = 0; arm < 2; ++arm) {
      const std::string key = trial + (arm == 0 ? " dry " : " soaked ");
      const Fit& fit = ours.arms[arm].fit;
      checker.holds(key + " did not converge", fit.converged);
      const auto loglik = theirs.find(key + "loglik");
      const double short_by = loglik == theirs.end() ? not_there : fit.loglik - loglik->second;
      checker.holds(key + fmt::format("log likelihood {:.3g} from R's", short_by),
                    short_by > -1e-6 && short_by < 0.01);
      const auto logit = theirs.find(key + "logit");
      if (fit.whole || short_by > 1e-6 || (logit != theirs.end() && logit->second > 6)) {
        ++left_out;
        continue;
      }
      checker.close(key + "logit", fit.logit, 2e-3);
      checker.close(key + "log_median", fit.log_median, 5e-4);
      checker.close(key + "log_spread", fit.log_spread, 5e-3);
      checker.close(key + "se_logit", fit.se_logit, 2e-3 * std::max(1.0, fit.se_logit));
      checker.close(key + "se_log_median", fit.se_log_median, 1e-4);
      checker.close(key + "se_log_spread", fit.se_log_spread, 2e-3);
    }
  checker.holds(fmt::format("{} fits where R stopped short or ran to the boundary", left_out),
                left_out <= static_cast<int>(all.size()) / 4);
}

void check_simulation(Checker& checker, int simulated) {
  checker.about("simulation");
  const Simulated ours = simulate(20'000, stats::Random(5));
  // Four standard errors of R's smaller simulation.
  const auto reach = [&](double p, int number) { return 4 * std::sqrt(p * (1 - p) / number); };
  const std::string key = "simulation both ";
  checker.close(key + "rejected", ours.rejected, reach(ours.rejected, simulated));
  checker.close(key + "covered", ours.covered, reach(ours.covered, 2 * simulated));
  checker.close(key + "newcombe_covered", ours.newcombe_covered,
                reach(ours.newcombe_covered, simulated));
}

}  // namespace

Agreement check(const std::vector<Trial>& trials, const std::string& results, int simulated) {
  const Values theirs = read(results);
  Each all;
  all.reserve(trials.size());
  for (const Trial& trial : trials)
    all.emplace_back(trial.code, figures(trial.arms[0], trial.arms[1]));
  Agreement agreement;
  Checker checker(theirs, agreement);
  check_intervals(checker, all);
  check_indices(checker, all);
  check_masses(checker, all, theirs);
  check_fits(checker, all, theirs);
  check_simulation(checker, simulated);
  checker.finish();
  return agreement;
}

}  // namespace plumule::peers

// The emergence model of several treatments at once: each with its own timing, and its own or a
// shared spread and germinable fraction; and the ratio of times between two of them.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "stats/times/emergence_model.hpp"

namespace plumule::stats {

struct TreatmentOptions {
  TimeFamily family = TimeFamily::log_logistic;
  bool shared_spread = false;          // one shape for all treatments
  bool shared_fraction = false;        // one germinable fraction for all
  bool fraction_fixed_at_one = false;  // every unit would come up in the end
  double level = 0.95;
  std::optional<double> dispersion;  // for qaic, >= 1; else that of the fit itself
};

struct TreatmentsModel {
  TimeFamily family = TimeFamily::log_logistic;
  ModelStatus status = ModelStatus::nothing_emerged;
  std::vector<EmergenceModel> treatments;  // in the order given
  double loglik = 0;
  double aic = 0;
  int parameters = 0;
  // As of EmergenceModel, over the sowings of all treatments; none where no treatment has two
  // sowings, or without degrees of freedom.
  std::optional<double> dispersion;
  std::optional<double> qaic;
  int df = 0;  // units (see TimeCourse) - treatments
  // Covariance of log t50 over the treatments, row by row: by Hessian, and clustered by unit
  // with factor k/(k - 1) within each treatment (empty where a treatment has one unit only).
  std::vector<double> log_t50_covariance;
  std::vector<double> log_t50_clustered;
};

// Treatments with too little to fit make the whole not fitted (see status, that of the first such).
// Throws std::domain_error for no treatments, one without sowings, a bad course or level.
TreatmentsModel fit_treatments(std::span<const std::vector<TimeCourse>> treatments,
                               const TreatmentOptions& options = {});

// The family of least QAIC for all treatments together, of the four, by one dispersion, that of
// the family that comes closest; of least AIC where no treatment has two sowings. Where none can be
// fitted, what the log-logistic says. Throws likewise; options.family and dispersion are not looked
// at.
TreatmentsModel fit_likeliest_treatments(std::span<const std::vector<TimeCourse>> treatments,
                                         TreatmentOptions options = {});

// The likeliest family, likewise, of those treatments that can be fitted; none where none can.
std::optional<TimeFamily> likeliest_family(std::span<const std::vector<TimeCourse>> treatments);

// t50 of one treatment over t50 of another: below 1, sooner. log_se, log_se_clustered: standard
// errors of its logarithm. The interval uses the clustered one with Student t on df; none where
// either treatment has one unit only, or the units agree to a seed.
struct TimeRatio {
  double ratio = 1;
  std::optional<double> log_se;
  std::optional<double> log_se_clustered;
  std::optional<double> lower;
  std::optional<double> upper;
  int df = 0;
  double level = 0.95;
};

// None unless the model was fitted. Throws std::domain_error for an index out of range.
std::optional<TimeRatio> time_ratio(const TreatmentsModel& model, std::size_t treatment,
                                    std::size_t against, double level = 0.95);

}  // namespace plumule::stats

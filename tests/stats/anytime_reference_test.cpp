// Every row of anytime_cases.csv (computed by an independent Python program) against the library.
#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "stats/batch_sequence.hpp"
#include "stats/mean_sequence.hpp"
#include "stats/paired_block_evidence.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using plumule::tests::number;

namespace {

// "S=9 n=10 alpha=0.05 blocks=9:5 8:6": words with = begin a field, the others go on with the last.
struct Input {
  std::map<std::string, std::string> text;
  std::vector<PairedBlock> blocks;

  double at(const std::string& name) const { return std::stod(text.at(name)); }
  std::int64_t whole(const std::string& name) const { return std::stoll(text.at(name)); }
  // "9/10" as its two numbers
  std::pair<std::int64_t, std::int64_t> of(const std::string& name) const {
    const std::string& value = text.at(name);
    const auto slash = value.find('/');
    return {std::stoll(value), std::stoll(value.substr(slash + 1))};
  }
};

Input read(const std::string& cell) {
  Input made;
  std::istringstream words(cell);
  std::string word;
  const auto block = [&made](const std::string& pair) {
    made.blocks.push_back({std::stoll(pair), made.whole("na"),
                           std::stoll(pair.substr(pair.find(':') + 1)), made.whole("nb")});
  };
  while (words >> word) {
    const auto equals = word.find('=');
    if (equals == std::string::npos) {
      block(word);
    } else if (word.substr(0, equals) == "blocks") {
      block(word.substr(equals + 1));
    } else {
      made.text[word.substr(0, equals)] = word.substr(equals + 1);
    }
  }
  return made;
}

// The mean of E over every outcome of one block when both have probability theta.
double expected_evidence(std::int64_t na, std::int64_t nb, double theta_a, double theta_b,
                         double theta) {
  const auto chance = [theta](std::int64_t y, std::int64_t n) {
    const double up = static_cast<double>(y), all = static_cast<double>(n);
    return std::exp(std::lgamma(all + 1) - std::lgamma(up + 1) - std::lgamma(all - up + 1) +
                    up * std::log(theta) + (all - up) * std::log1p(-theta));
  };
  double sum = 0;
  for (std::int64_t a = 0; a <= na; ++a)
    for (std::int64_t b = 0; b <= nb; ++b)
      sum += chance(a, na) * chance(b, nb) *
             std::exp(log_block_evidence({a, na, b, nb}, theta_a, theta_b));
  return sum;
}

double computed(const std::string& method, const std::string& quantity, const Input& in) {
  if (method == "beta_binomial_mixture_martingale")
    return log_mixture_martingale(in.whole("S"), in.whole("n"), in.at("a"), in.at("b"),
                                  in.at("p0"));
  if (method == "beta_binomial_confidence_sequence") {
    const auto ends =
        mixture_sequence(in.whole("S"), in.whole("n"), in.at("a"), in.at("b"), in.at("alpha"));
    return quantity == "lower" ? ends.lower : ends.upper;
  }
  if (method == "exact_type_I_crossing")
    return probability_ever_excluded(in.at("p"), in.at("alpha"), in.whole("N"), in.at("a"),
                                     in.at("b"));
  if (method == "normal_mixture_two_sided")
    return normal_mixture_half_width(in.whole("n"), in.at("alpha"), in.at("rho"));
  if (method == "stitched_eq2_times_sigma")
    return stitched_half_width(in.whole("n"), in.at("alpha"), in.at("sigma"));
  if (method == "stitched_two_sided_intrinsic_time")
    return stitched_intrinsic_half_width(in.whole("n"), in.at("alpha"), std::sqrt(in.at("sigma2")));
  if (method == "fixed_n_hoeffding") return hoeffding_half_width(in.whole("n"), in.at("alpha"));
  if (method == "two_by_two_point_e_value") {
    const auto [ya, na] = in.of("ya");
    const auto [yb, nb] = in.of("yb");
    return log_block_evidence({ya, na, yb, nb}, in.at("theta_a"), in.at("theta_b"));
  }
  if (method == "expected_e_under_null") {
    const auto na = in.whole("na"), nb = in.whole("nb");
    const double a = in.at("theta_a"), b = in.at("theta_b");
    if (quantity == "at_weighted_mean") {
      const double n1 = static_cast<double>(na), n2 = static_cast<double>(nb);
      return expected_evidence(na, nb, a, b, (n1 * a + n2 * b) / (n1 + n2));
    }
    double highest = 0;
    for (int i = 1; i < 100; ++i)
      highest = std::max(highest, expected_evidence(na, nb, a, b, i / 100.0));
    return highest;
  }
  if (method.rfind("two_by_two_e_process", 0) == 0) {
    const bool scaled = in.text.count("gamma_a") > 0;
    const auto evidence = paired_block_evidence(in.blocks, in.at(scaled ? "gamma_a" : "gamma"),
                                                in.at(scaled ? "gamma_b" : "gamma"));
    if (quantity == "anytime_p_value") return evidence.anytime_p;
    const auto block = std::stoull(quantity.substr(quantity.rfind('_') + 1));
    return evidence.log_e.at(block - 1);
  }
  FAIL("a row of a method unknown here: ", method);
  return 0;
}

}  // namespace

TEST_CASE("intervals and evidence that hold at any stop agree with the table, row by row") {
  int used = 0;
  for (const auto& row : plumule::tests::read_csv("reference/statistics/anytime_cases.csv")) {
    const std::string &method = row.at("method"), &quantity = row.at("quantity");
    CAPTURE(row.at("case_id"));
    CAPTURE(row.at("input"));
    CAPTURE(quantity);
    const double got = computed(method, quantity, read(row.at("input")));
    const double expected = number(row, "value");
    // The table prints twelve digits; ends are good to 1e-9, logs to 1e-10, near 0 absolutely.
    CHECK_WITHIN(got, expected, 1e-9 * std::max(1.0, std::fabs(expected)));
    if (expected != 0 && std::fabs(expected) < 1e-3 && std::fabs(expected) > 1e-13)
      CHECK_CLOSE(got, expected, 1e-9);
    ++used;
  }
  CHECK(used == 268);
}

// Every row of anytime_cases.csv (computed by an independent Python program) against the library.
#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "stats/trays/batch_sequence.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using plumule::tests::number;

namespace {

// "S=9 n=10 alpha=0.05": a field a word.
struct Input {
  std::map<std::string, std::string> text;

  double at(const std::string& name) const { return std::stod(text.at(name)); }
  std::int64_t whole(const std::string& name) const { return std::stoll(text.at(name)); }
};

Input read(const std::string& cell) {
  Input made;
  std::istringstream words(cell);
  std::string word;
  while (words >> word) {
    const auto equals = word.find('=');
    REQUIRE(equals != std::string::npos);
    made.text[word.substr(0, equals)] = word.substr(equals + 1);
  }
  return made;
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
  FAIL("a row of a method unknown here: ", method);
  return 0;
}

}  // namespace

TEST_CASE("intervals that hold at any stop agree with the table, row by row") {
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
  CHECK(used == 144);
}

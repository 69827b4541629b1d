// Numbers as a grower reads them: no false digits, never NaN or infinity.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plumule::report {

// A fraction as a percentage: whole, with one decimal below 1 % and above 99 % unless exact.
std::string percent(double fraction);
std::string percent(const std::optional<double>& fraction, std::string_view otherwise = "-");
// "66 % to 94 %".
std::string percent_range(double lower, double upper);
// A difference of two fractions: "+18 points", "-3 points", "0 points".
std::string points(double difference);
std::string points_range(double lower, double upper);
// "over 1000", "108", "0.32": of factors and evidence, which may be huge.
std::string factor(const std::optional<double>& value);

// Days (or any measure) with one decimal; `otherwise` where there is none.
std::string days(double value);
std::string days(const std::optional<double>& value, std::string_view otherwise = "-");
std::string signed_days(double value);

// Three figures that count: "0.0123", "12.3", "1230". `otherwise` where none or not finite.
std::string figure(double value);
std::string figure(const std::optional<double>& value, std::string_view otherwise = "-");

// "0.21", "0.013", "below 0.001".
std::string p_value(double p);
// "p = 0.21", "p below 0.001".
std::string p_words(double p);

// "1 tray", "4 trays"; thousands are grouped: "12,000 seeds".
std::string counted(std::int64_t number, std::string_view one, std::string_view many);
std::string whole(std::int64_t number);
// "1/3" for a probability that is one over a whole number, 2/n likewise; else as a p value.
std::string chance_of_layout(double smallest_p, double arrangements);

// "95 %".
std::string level_words(double level);

// "A1, A2 and A3"; of more than six the first, and how many more.
std::string some_of(const std::vector<std::string>& names);

}  // namespace plumule::report

#include "report/parts/number_words.hpp"
#include "records/names.hpp"

#include <fmt/format.h>

#include <cmath>

namespace plumule::report {

namespace {

// Rounds "-0" and "-0.0" to nought.
double tidy(double value, int decimals) {
  const double scale = std::pow(10.0, decimals);
  const double rounded = std::round(value * scale) / scale;
  return rounded == 0 ? 0.0 : rounded;
}

}  // namespace

std::string percent(double fraction) {
  if (!std::isfinite(fraction)) return "-";
  const double value = 100 * fraction;
  if (value > 0 && value < 0.05) return "under 0.1 %";
  if (value < 100 && value > 99.95) return "over 99.9 %";
  const bool near_an_end = (value > 0 && value < 0.95) || (value > 99.05 && value < 100);
  if (near_an_end) return fmt::format("{:.1f} %", value);
  return fmt::format("{:.0f} %", value);
}

std::string percent(const std::optional<double>& fraction, std::string_view otherwise) {
  return fraction ? percent(*fraction) : std::string(otherwise);
}

std::string percent_range(double lower, double upper) {
  return percent(lower) + " to " + percent(upper);
}

std::string points(double difference) {
  const double value = tidy(100 * difference, 0);
  if (value == 0) return "0 points";
  return fmt::format("{:+.0f} point{}", value, std::fabs(value) == 1 ? "" : "s");
}

std::string points_range(double lower, double upper) {
  const auto one = [](double difference) {
    const double value = tidy(100 * difference, 0);
    return value == 0 ? std::string("0") : fmt::format("{:+.0f}", value);
  };
  return one(lower) + " to " + one(upper) + " points";
}

std::string factor(const std::optional<double>& value) {
  return value && *value > 1000 ? "over 1000" : figure(value);
}

std::string days(double value) {
  return std::isfinite(value) ? fmt::format("{:.1f}", tidy(value, 1)) : "-";
}

std::string days(const std::optional<double>& value, std::string_view otherwise) {
  return value && std::isfinite(*value) ? days(*value) : std::string(otherwise);
}

std::string signed_days(double value) {
  if (!std::isfinite(value)) return "-";
  const double rounded = tidy(value, 1);
  return rounded == 0 ? "0.0" : fmt::format("{:+.1f}", rounded);
}

std::string figure(double value) {
  if (!std::isfinite(value)) return "-";
  const double size = std::fabs(value);
  if (size == 0) return "0";
  if (size < 0.0005) return fmt::format("{:.1e}", value);
  // Three digits, also of what is rounded up to the next ten: 0.9999 is 1.00.
  const int decimals = size >= 99.95 ? 0 : size >= 9.995 ? 1 : size >= 0.9995 ? 2 : 3;
  return fmt::format("{:.{}f}", tidy(value, decimals), decimals);
}

std::string figure(const std::optional<double>& value, std::string_view otherwise) {
  return value && std::isfinite(*value) ? figure(*value) : std::string(otherwise);
}

std::string p_value(double p) {
  if (!std::isfinite(p)) return "-";
  if (p < 0.001) return "below 0.001";
  if (p < 0.2) return fmt::format("{:.3f}", p);  // 1/8 is not 0.12
  if (p > 0.995) return "1";
  return fmt::format("{:.2f}", p);
}

std::string p_words(double p) {
  return std::isfinite(p) && p < 0.001 ? "p below 0.001" : "p = " + p_value(p);
}

std::string whole(std::int64_t number) {
  const std::string digits = fmt::format("{}", number);
  std::string grouped;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    const std::size_t rest = digits.size() - i;
    if (i > 0 && rest % 3 == 0 && digits[i - 1] != '-' && digits.size() > 4) grouped += ',';
    grouped += digits[i];
  }
  return grouped;
}

std::string counted(std::int64_t number, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", whole(number), number == 1 ? one : many);
}

std::string chance_of_layout(double smallest_p, double arrangements) {
  if (arrangements < 2 || arrangements > 1e6) return p_value(smallest_p);
  const double parts = smallest_p * arrangements;
  if (std::fabs(parts - std::round(parts)) > 1e-6) return p_value(smallest_p);
  const auto top = static_cast<std::int64_t>(std::round(parts));
  const auto bottom = static_cast<std::int64_t>(std::round(arrangements));
  if (bottom == top) return "1";
  if (bottom % top == 0) return fmt::format("1/{}", bottom / top);
  return fmt::format("{}/{}", top, bottom);
}

std::string level_words(double level) {
  const double value = 100 * level;
  if (std::fabs(value - std::round(value)) < 1e-9) return fmt::format("{:.0f} %", value);
  return fmt::format("{:g} %", value);
}

std::string some_of(const std::vector<std::string>& names) {
  constexpr std::size_t most = 6;
  return records::listed_some(names, most);
}

}  // namespace plumule::report

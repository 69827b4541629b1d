#include "records/number_check.hpp"

#include <cmath>
#include <cstdint>
#include <cstdio>

#include "records/refused.hpp"

namespace plumule::records {

std::string shown(double value) {
  if (std::isnan(value)) return "not a number";
  if (std::isinf(value)) return value > 0 ? "infinity" : "-infinity";
  char text[32];
  const int length = std::snprintf(text, sizeof text, "%.6g", value);
  return std::string(text, static_cast<std::size_t>(length));
}

namespace {

// Large whole numbers with all their digits, in threes: 1,000,000,000.
std::string written_out(double value) {
  if (!(std::abs(value) >= 1e6 && std::abs(value) < 1e15) || value != std::floor(value))
    return shown(value);
  std::string digits = std::to_string(static_cast<std::int64_t>(std::abs(value)));
  for (std::size_t at = digits.size(); at > 3;) digits.insert(at -= 3, 1, ',');
  return value < 0 ? '-' + digits : digits;
}

}  // namespace

void refuse_outside(const std::string& what, const std::optional<double>& value, double low,
                    double high, Ends ends) {
  if (!value) return;
  const bool above = ends == Ends::closed ? *value >= low : *value > low;
  const bool below = ends == Ends::both_open ? *value < high : *value <= high;
  if (above && below && std::isfinite(*value)) return;
  if (std::isnan(*value)) throw Refused(what + " is not a number.");
  if (ends != Ends::closed && low == 0 && !above)
    throw Refused(what + " must be above 0, not " + written_out(*value) + '.');
  if (ends == Ends::both_open)
    throw Refused(what + " must be " + (above ? "below " : "above ") +
                  written_out(above ? high : low) + ", not " + written_out(*value) + '.');
  throw Refused(what + ": " + written_out(*value) + " lies outside " + written_out(low) + " to " +
                written_out(high) + '.');
}

}  // namespace plumule::records

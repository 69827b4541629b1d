#include "records/number_check.hpp"

#include <cmath>
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

void refuse_outside(const std::string& what, const std::optional<double>& value, double low,
                    double high, Ends ends) {
  if (!value) return;
  const bool above = ends == Ends::closed ? *value >= low : *value > low;
  const bool below = ends == Ends::both_open ? *value < high : *value <= high;
  if (above && below && std::isfinite(*value)) return;
  if (std::isnan(*value)) throw Refused(what + " is not a number.");
  if (ends == Ends::low_open && low == 0 && !above)
    throw Refused(what + " must be above 0, not " + shown(*value) + '.');
  throw Refused(what + ": " + shown(*value) + " lies outside " + shown(low) + " to " + shown(high) +
                '.');
}

}  // namespace plumule::records

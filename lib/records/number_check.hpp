// Refusing a figure that lies outside what can be, in one sentence form for all fields.
#pragma once

#include <optional>
#include <string>

namespace plumule::records {

enum class Ends { closed, low_open, both_open };  // which ends of the range are themselves refused

// A number as a grower would write it: at most six figures, no trailing zeros.
std::string shown(double value);

// Throws Refused `WHAT: VALUE lies outside LOW to HIGH.` where the value is set and outside, or
// `WHAT must be below HIGH, not VALUE.` where the ends are open; NaN and infinity always are.
void refuse_outside(const std::string& what, const std::optional<double>& value, double low,
                    double high, Ends ends = Ends::closed);

}  // namespace plumule::records

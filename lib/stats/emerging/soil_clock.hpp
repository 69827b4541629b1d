// The soil's clock: how far a sowing has come towards emergence, as the sum over its days of
// 1/days(T). It has run once round when a crop that keeps to its published days has half come up.
#pragma once

#include <optional>
#include <span>
#include <vector>

namespace plumule::stats {

// Published days to emergence at a temperature (C).
struct DaysAt {
  double temp_c = 0, days = 0;
};

// The speed 1/days by temperature: a straight line between the published ones; above the hottest as
// there; below the coldest straight to 0 at the base (none, or one that is not colder: 0 at once).
class EmergenceSpeed {
 public:
  // Throws std::domain_error for an empty table, temperatures that do not rise, days not above 0.
  EmergenceSpeed(std::vector<DaysAt> table, std::optional<double> base_c);

  double at(double temp_c) const;
  double fewest_days() const { return fewest_; }  // at the best published temperature
  double most_days() const { return most_; }      // of those up to the best

 private:
  std::vector<DaysAt> table_;
  std::optional<double> base_c_;
  double fewest_ = 0, most_ = 0;
};

// A thermometer in the soil. `spot`: read once, mostly of a morning, so the day's mean lies
// N(1, 1.5^2) C above it; else the middle of the day's lowest and highest.
struct SoilReading {
  double day = 0;  // since sowing; before it is negative
  double temp_c = 0;
  bool spot = true;
};

enum class Warmth {
  heated,     // a towel or dish, a place known to be heated: 15 to 25 C, all alike
  not_known,  // days to half up log-uniform over the published ones up to the optimum
};

inline constexpr double reading_days = 14;  // for so long a reading speaks

// One way in which the soil may have been, and its weight (all together 1).
class ClockPath {
 public:
  ClockPath(double weight, double unread_speed, std::vector<double> by_day)
      : weight_(weight), unread_(unread_speed), by_day_(std::move(by_day)) {}

  double weight() const { return weight_; }
  bool read() const { return by_day_.size() > 1; }  // some reading is in it
  double at(double day) const;                      // the clock so many days after sowing
  ClockPath unread() const { return {weight_, unread_, {0}}; }  // as if nothing had been read

 private:
  double weight_ = 1;
  double unread_ = 0;           // speed on days that no reading speaks for
  std::vector<double> by_day_;  // at whole days from 0; after the last at the unread speed
};

// A day is read where one lies on it or up to 14 days before; then it is as warm as the line to the
// next reading says, or as the last where no other follows. Readings in any order.
// Throws std::domain_error for a reading that is not finite.
std::vector<ClockPath> soil_clock(const EmergenceSpeed& speed,
                                  std::span<const SoilReading> readings, Warmth elsewhere);

}  // namespace plumule::stats

// Alive, or merely not up? One sowing's posterior: a seed of it is up by a day with chance pi F, pi
// by the fraction alive and what the ground gives, F by the crop's timing on the soil's clock.
// From it come what the sowing says of its lot, the chance of any more, what is still to come, the
// give-up day, and whether to sow again.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "stats/emerging/coming_times.hpp"
#include "stats/emerging/standing_share.hpp"

namespace plumule::stats {

inline constexpr double hardly_any =
    0.05;  // a chance of one more under which no more is waited for

// What is still to come: mean, and the middle 90 %.
struct StillToCome {
  double mean = 0, lower = 0, upper = 0;
};

class SowingOutlook {
 public:
  // `share` must live on. Throws std::domain_error for a course that is none, and where the number
  // sown is not known: then nothing can be said of what is not up.
  // `beside`: seed known to be good that was laid beside it (coming_times.hpp).
  SowingOutlook(const TimeCourse& course, std::vector<ClockPath> paths, const StandingShare& share,
                std::span<const TimeCourse> beside = {});

  // The likelihood of g at StandingShare's points, the highest 1; and of any g, between them.
  std::array<double, StandingShare::alive_points> likelihood() const;
  static double likelihood_at(std::span<const double, StandingShare::alive_points> likelihood,
                              double alive);

  // Each with a belief in g from all else (the lot's tests, its age, its other sowings). `day`: as
  // if looked at with nothing new up to that day after sowing, no earlier than the last look.
  double any_more(std::span<const Alive> alive, double day) const;
  double any_more(std::span<const Alive> alive) const { return any_more(alive, last_look_); }

  // Of those not up at the last look, up by that day (infinite: ever).
  StillToCome still_to_come(std::span<const Alive> alive, double by_day) const;
  // P(at least `wanted` ever up by that day).
  double stand(std::span<const Alive> alive, double wanted, double by_day) const;

  // The first whole day, from the last look on and no sooner than `never_before`, on which
  // any_more is under 5 % if nothing comes till then. None within 3 years.
  std::optional<int> give_up_day(std::span<const Alive> alive, double never_before = 0) const;

  double up() const { return up_; }
  double not_up() const { return rest_; }

 private:
  // F by steps, dense near 0 and 1, and what the ways of timing weigh in each.
  static constexpr std::size_t levels = 129;
  using Levels = std::array<double, levels>;
  Levels levels_at(double day) const;
  // The ways' weights with (F by the day)^up taken out of them, as up is written (pi F)^up below.
  std::vector<double> weights(std::span<const double> up_by_day) const;
  // By cell of pi: the likelihood of the course (alike) and of it with none to come (done), both on
  // one scale.
  struct ByChance {
    std::array<double, StandingShare::cells> all{}, done{};
  };
  ByChance by_chance(const Levels& weights) const;
  std::vector<double> more_by(std::span<const Alive> alive, double by_day) const;

  ComingTimes times_;
  const StandingShare* share_;
  double up_ = 0, rest_ = 0, never_ = 0, last_look_ = 0;
};

// The belief in g after the sowings of a lot, each by its likelihood: prior times all of them.
std::vector<Alive> alive_after(
    std::span<const Alive> prior,
    std::span<const std::array<double, StandingShare::alive_points>> likelihoods);

// The chance that of a sowing made on day 0 of these paths `share` of all that will come are up by
// a day, the crop keeping roughly to its published days.
double in_time(std::vector<ClockPath> paths, double by_day, double share = 0.7);

// Sow again now: 70 % of the wanted are up by the day with less than 20 %, and a new sowing can
// still make it, as likely as not.
bool sow_again(double chance_of_stand, double new_one_in_time);
inline constexpr double enough_of_wanted = 0.7;

}  // namespace plumule::stats

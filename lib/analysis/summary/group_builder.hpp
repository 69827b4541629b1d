// Takes sowings one after the other and makes a group of them, keeping no more of each than its
// figures need: a logbook of any size can be summed up in bounded memory.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "analysis/course/course_fold.hpp"
#include "analysis/course/sowing_course.hpp"
#include "analysis/rho/rho_choice.hpp"
#include "analysis/summary/group.hpp"

namespace plumule::analysis {

// What is wanted of each group.
struct GroupOptions {
  double level = 0.95;
  RhoChoice rho;       // instead of the prior by setting
  bool range = true;   // of the stand
  bool detail = true;  // other intervals, agreement, gaps and model too
  bool model = true;
  std::optional<stats::TimeFamily> family;  // none: the best by AIC (QAIC)
  bool lag = false;                         // the model with a time before which none can come
  std::optional<double> by_day;             // how many were up by then, days from sowing
  std::uint64_t seed = stats::default_seed;
};

// Whether a sowing was looked at until it, and the others beside it, had finished coming up.
enum class Followed {
  to_its_end,
  stopped,   // it was not: it has no final stand and no final mean days
  by_group,  // stopped by an accident; whether the rest of the group had done is for the builder
};

class GroupBuilder {
 public:
  GroupBuilder(std::string key, records::Counting counting, records::UnitKind unit);

  // `name`: how the sowing is called should it have to be named. `course`: sowing_course of it.
  // A stopped sowing is left out of percentage and indices unless the group has no other; it stays
  // in what allows for gaps. Throws std::domain_error for a course that the record's rules would
  // have refused.
  void add(const records::History& history, SowingCourse course, const std::string& name,
           bool keep_course, Followed followed);
  Group finish(const GroupOptions& options);

  // Another key where it shares its name with another group.
  void call(std::string key) { group_.key = std::move(key); }

  // To be asked before any sowing is added: how many were up by that day from sowing, >= 0.
  void count_by(double day);

  // Courses kept so far for the time model.
  std::size_t courses() const { return courses_.size(); }

  // More than this many sowings are not fitted as one.
  static constexpr std::size_t most_modelled = 400;

 private:
  // Of one sowing, or of all those treated in one jar.
  struct UnitMean {
    double sum = 0;   // of mean days
    double half = 0;  // of the days by which half were up
    int sowings = 0;
  };
  struct Stopped {
    std::string name;
    bool by_group = false;
    bool at_rest = false;
    SowingCourse sowing;
  };
  // Counts by sowing, and by unit: all of one jar put together.
  struct Counts {
    std::vector<stats::TrayCount> sowings;
    std::map<int, stats::TrayCount> jars;
    std::vector<stats::TrayCount> alone;  // of sowings of no jar
    void add(const stats::TrayCount& count, int jar);
    std::int64_t up() const;
    std::vector<stats::TrayCount> units() const;
  };
  void add_whole(const SowingCourse& sowing);
  void add_by_day(const SowingCourse& sowing);
  void finish_by_day(const GroupOptions& options);
  Stand stand_by(const Counts& counts, const GroupOptions& options) const;
  void add_gaps(const SowingCourse& sowing, bool keep_course);
  void finish_stopped();
  void finish_detail(const GroupOptions& options);

  Group group_;
  std::vector<records::Setting> settings_;
  Counts trays_, standing_, fewest_by_day_, most_by_day_;
  std::vector<Stopped> stopped_;
  double last_emergence_ = 0;  // latest day of any emergence in a sowing not stopped early
  bool wetted_ = false;
  CourseFold since_sowing_, since_wetting_;  // of the sowings seen to their end
  CourseFold gaps_;                          // of all
  std::map<std::string, int> jars_;
  std::vector<UnitMean> means_;
  std::map<int, UnitMean> jar_means_;
  std::vector<stats::TimeCourse> courses_;
  bool courses_whole_ = true;
};

}  // namespace plumule::analysis

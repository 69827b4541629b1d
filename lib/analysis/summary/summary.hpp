// What came up: every sowing asked about, summed up by sowing, lot, treatment, trial, crop or
// season, as the histories stream past.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "analysis/course/stopped_sowings.hpp"
#include "analysis/summary/group_builder.hpp"
#include "records/treatment.hpp"

namespace plumule::analysis {

enum class SummaryBy { sowing, lot, treatment, trial, crop, season };

struct SummaryQuestion {
  SummaryBy by = SummaryBy::sowing;
  GroupOptions options;
  std::vector<records::Treatment> treatments;            // for the soak hours
  std::function<bool(const std::string&)> label_shared;  // by two sowings of the logbook
};

// Groups by sowing are given as they come, in the order of the histories; any other grouping when
// all have been taken, by name (numbers in a name by their value). Sowings that count different
// things (roots, shoots, usable seedlings) or differ in what a unit is are never put together: they
// make groups of the same name, whose keys say in what they differ.
class SummaryStream {
 public:
  SummaryStream(SummaryQuestion question, std::function<void(const Group&)> give);
  // Where sowings are put together, whole trials are to be shown first, and then what is asked
  // about is taken: whether a sowing was followed to its end hangs on the others of its trial.
  bool looks_ahead() const { return question_.by != SummaryBy::sowing; }
  void look_ahead(const records::History& history);  // those of no trial may be left out
  void take(const records::History& history);
  // Gives the groups taken so far and begins afresh: where all of one group come together it may be
  // called after each, and no more than one is held. By trial, what was shown ahead ends with it.
  void finish();

  // Courses kept for the time model over all groups; beyond it groups go without.
  static constexpr std::size_t most_courses = 50'000;

 private:
  // Whether it is of a lot, a trial or a crop at all: a crop may be called "no crop".
  struct Name {
    std::string text;
    bool of_none = false;
  };
  using Key = std::tuple<std::string, bool, records::Counting, records::UnitKind>;
  struct ByName {
    bool operator()(const Key& a, const Key& b) const;
  };
  Name group_of(const records::Sowing& sowing) const;
  void tell_apart();
  std::string name_of(const records::Sowing& sowing) const;
  Followed followed(const records::History& history, const SowingCourse& course) const;

  SummaryQuestion question_;
  std::function<void(const Group&)> give_;
  std::map<Key, GroupBuilder, ByName> groups_;
  std::size_t courses_ = 0;
  StoppedSowings stopped_;
};

}  // namespace plumule::analysis

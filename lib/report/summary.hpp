// What came up, as text and as JSON.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "analysis/summary/group.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

// The head of the list, and its lines as the groups come. Where the share up by a day was asked for
// it stands in place of the days.
std::string summary_header(const Style& style, std::string_view grouped_by, double level,
                           const std::optional<analysis::ByDay>& by = std::nullopt);
std::string summary_line(const Style& style, const analysis::Group& group);
// All of one group, within a screen; with `full` also the gaps, the model and the agreement.
std::string summary_detail(const Style& style, const analysis::Group& group, bool full);
// The same as JSON.
std::string summary_json(const analysis::Group& group);

// What stands below a list or a single group: what the marks mean, what became of the accidents,
// the method and the priors in force. Takes groups as they come and keeps no more than it prints.
class SummaryNotes {
 public:
  void take(const analysis::Group& group);
  // `list`: the groups stood in a list, whose lines carry marks; a single one has told its remarks.
  std::string text(const Style& style, bool list) const;

 private:
  bool any_ = false;
  bool open_ = false;
  bool not_final_ = false;
  bool uneven_ = false;
  bool moved_ = false;
  std::vector<std::string> stopped_;  // ten at most
  std::size_t more_stopped_ = 0;
  std::vector<std::string> priors_;
};

}  // namespace plumule::report

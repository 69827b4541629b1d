// Columns that the flat log does not know: what they hold, so that no advice and no option passes
// over a figure; and a wide sheet, with a row for each sowing and a column for each day, which is
// told what form is read.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/flat/errors.hpp"
#include "logbook/flat/header.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/flat/sheet/dates.hpp"
#include "records/date.hpp"

namespace plumule::logbook {

// The day that heads a column, as it is to be written: in the form that is kept where it can be
// read, else as it stands there. None where the heading is no day ("14.4." and "day 5" are some).
std::optional<std::string> day_heading(std::string_view heading, records::Date today,
                                       DateOrder order);

class StrangeColumns {
 public:
  StrangeColumns(const FlatHeader& header, std::size_t line, const ImportOptions& options,
                 records::Date today, char separator);

  bool any() const { return !columns_.empty(); }
  // Looks at a row that is as wide as the header.
  void look_at(std::span<const std::string_view> row);
  // Once every row was looked at: what is wrong of each, or that it is passed over.
  void judge(FlatErrors& errors, std::vector<std::string>& ignored) const;

 private:
  struct Column {
    UnknownColumn unknown;
    std::optional<std::string> day;  // of day_heading
    bool filled = false;             // in any row
    bool figures = false;            // in any row a number
    bool counts = true;              // in every row that fills it, none above what was sown
  };
  SheetDate day_of(const Column& column) const;
  bool may_be_lost(const Column& column) const;
  std::string wide_sheet() const;
  std::string row_of_look(std::string_view day, std::string_view figure) const;

  const FlatHeader& header_;
  std::size_t line_;
  const ImportOptions& options_;
  char separator_;
  std::size_t seeds_;  // position, or absent
  std::vector<Column> columns_;
  std::vector<std::string> example_;  // the cells of the first row with a figure below a day
};

}  // namespace plumule::logbook

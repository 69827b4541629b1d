// The flat log: what a spreadsheet keeps, one row a count, in and out.
#pragma once

#include <cstdint>
#include <functional>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/hint.hpp"

namespace plumule::logbook {

// Which of 4/5/2026 is the day, in the whole of a sheet.
enum class DateOrder { unsaid, day_first, month_first };

struct ImportOptions {
  // Pass over columns that are not known; those that may hold counts are refused all the same.
  bool ignore_columns = false;
  DateOrder dates = DateOrder::unsaid;
  // Plain soil temperatures of 32 or more in a column of Celsius are known to be that.
  bool celsius_settled = false;
  std::size_t most_errors = 50;
  // Whether a crop is known; unknown ones are accepted and listed in the summary.
  std::function<bool(std::string_view)> known_crop;
};

struct RowError {
  std::size_t line = 0;  // of the file, from 1
  std::string column;
  std::string value;
  std::string reason;
  std::vector<records::Hint> hints = {};
};

// So many things of a kind ("sowing", "lot"), which stood already, got what their column says.
struct FilledIn {
  std::string_view kind;
  std::string_view column;
  std::int64_t things = 0;
};

// What was added; of a file with errors, what was met before them.
struct ImportSummary {
  std::int64_t rows = 0;
  std::int64_t counts_new = 0;
  std::int64_t counts_there = 0;  // stood in the logbook already
  std::int64_t sowings_new = 0;
  std::int64_t lots_new = 0;
  std::int64_t treatments_new = 0;
  std::int64_t batches_new = 0;
  std::int64_t trials_new = 0;
  std::int64_t temperatures_new = 0;
  std::int64_t notes_new = 0;
  std::int64_t endings_new = 0;  // of sowings that stood open
  std::vector<FilledIn> filled_in;
  std::vector<std::string> sown_over;  // labels closed because they were sown again
  std::vector<std::string> unknown_crops;
  std::vector<std::string> ignored_columns;
  std::vector<RowError> errors;  // the first `most_errors`
  std::int64_t errors_in_all = 0;
};

// Gives up to `size` bytes, 0 at the end.
using Reader = std::function<std::size_t(char* into, std::size_t size)>;
using Writer = std::function<void(std::string_view)>;

// Reads in blocks and writes within the entry; with errors nothing must be committed. Twice is
// once: a count that stands already is nothing new, another figure for it is an error.
ImportSummary import_flat_log(Entry& entry, const Reader& read, const ImportOptions& options);

// What the flat form did not carry, in words, for stderr: "3 assessments", "12 journal entries" ...
std::vector<std::string> export_flat_log(Logbook& logbook, const Writer& write);

}  // namespace plumule::logbook

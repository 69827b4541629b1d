// Any bytes at all given to the readers of the flat log: the CSV reader, each kind of cell, and a
// whole import, which must leave nothing behind where it refuses. For libFuzzer; see
// CMakeLists.txt.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string_view>

#include "fuzz/sqlite_memory.hpp"
#include "logbook/flat/cells.hpp"
#include "logbook/flat/csv_reader.hpp"
#include "logbook/flat/log.hpp"
#include "logbook/record/sowings.hpp"

namespace {

using namespace plumule;

logbook::Reader reader_of(std::string_view text, std::size_t step) {
  return [text, step](char* into, std::size_t size) mutable {
    const std::size_t count = std::min({size, step, text.size()});
    std::memcpy(into, text.data(), count);
    text.remove_prefix(count);
    return count;
  };
}

// A cell that is read must be written as something that reads the same.
template <class Value>
void back_and_forth(std::string_view cell) {
  Value value{};
  if (!logbook::read_cell(cell, value).empty()) return;
  Value again{};
  const std::string written = logbook::to_cell(value);
  if (!logbook::read_cell(written, again).empty() || logbook::to_cell(again) != written)
    std::abort();
}

void read_as_everything(std::string_view cell) {
  std::int64_t low = 0;
  std::optional<std::int64_t> high;
  logbook::read_guess(cell, low, high);
  back_and_forth<double>(cell);
  back_and_forth<bool>(cell);
  back_and_forth<int>(cell);
  back_and_forth<records::Date>(cell);
  back_and_forth<records::Moment>(cell);
  back_and_forth<std::vector<records::Date>>(cell);
  back_and_forth<std::vector<records::Parent>>(cell);
  back_and_forth<records::Setting>(cell);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);  // NOLINT
  logbook::CsvReader csv(reader_of(text, 1 + size % 61), 16);
  while (csv.next())
    for (const std::string_view cell : csv.cells()) read_as_everything(cell);

  // One logbook for all: an entry that is not kept takes its rows back.
  static logbook::Logbook book = [] {
    tests::give_sqlite_its_own_memory();
    return logbook::Logbook::in_memory();
  }();
  {
    logbook::Entry entry(book, "fuzz", "import", *records::parse_date("2026-06-30"));
    const auto summary = logbook::import_flat_log(entry, reader_of(text, 4096), {});
    if (summary.errors_in_all > 0 && !logbook::open_sowings(book).empty()) std::abort();
  }
  if (!logbook::open_sowings(book).empty()) std::abort();
  return 0;
}

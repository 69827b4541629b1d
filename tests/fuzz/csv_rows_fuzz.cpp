// Any rows at all under the header of a flat log: read whole, without a logbook. Each fault names a
// line that is there. (Any header at all is flat_log's.)
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <string>
#include <string_view>

#include "logbook/flat/log_reader.hpp"

using namespace plumule;

namespace {

constexpr const char* headers[] = {
    "sowing,sown_on,seeds,counted_on,emerged\n",
    "sowing,sown_on,seeds,counted_on,newly_emerged,lost,notes\n",
    "sowing,lot,crop,sown_on,seeds,treatment,trial,block,counted_on,emerged,ended,ended_on\n",
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  std::string text = headers[data[0] % std::size(headers)];
  text.append(reinterpret_cast<const char*>(data) + 1, size - 1);  // NOLINT
  std::string_view left = text;
  const logbook::Reader read = [&left](char* into, std::size_t room) {
    const std::size_t some = std::min(room, left.size());
    std::memcpy(into, left.data(), some);
    left.remove_prefix(some);
    return some;
  };
  logbook::ImportOptions options;
  options.ignore_columns = (data[0] & 8) != 0;
  logbook::FlatFile file;
  logbook::ImportSummary summary;
  logbook::FlatErrors errors(options.most_errors);
  std::vector<std::string> ignored;
  logbook::read_flat_file(read, options, *records::parse_date("2026-06-30"), file, errors, ignored);
  errors.give(summary);
  const auto lines = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n') +
                                              std::count(text.begin(), text.end(), '\r') + 1);
  for (const logbook::RowError& error : summary.errors)
    if (error.line > lines || error.reason.empty()) std::abort();
  return 0;
}

#include "logbook/store/utc.hpp"

#include <chrono>

#include "records/date.hpp"

namespace plumule::logbook {

std::string utc_now() {
  const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
  const std::int64_t seconds = now.time_since_epoch().count();
  const std::int64_t rest = seconds % 60;
  return records::to_text(records::Moment::from_minutes(seconds / 60, true)) +
         (rest < 10 ? ":0" : ":") + std::to_string(rest) + 'Z';
}

}  // namespace plumule::logbook

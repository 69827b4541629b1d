#include "logbook/flat/errors.hpp"

#include <algorithm>

namespace plumule::logbook {

void FlatErrors::add(std::size_t line, std::string_view column, std::string_view value,
                     std::string reason, std::vector<records::Hint> hints) {
  ++in_all_;
  kept_.push_back(
      {line, std::string(column), std::string(value), std::move(reason), std::move(hints)});
  if (kept_.size() >= 4 * (most_ + 16)) keep_first();
}

void FlatErrors::keep_first() {
  std::stable_sort(kept_.begin(), kept_.end(),
                   [](const RowError& a, const RowError& b) { return a.line < b.line; });
  if (kept_.size() > most_) kept_.resize(most_);
}

void FlatErrors::give(ImportSummary& summary) {
  keep_first();
  summary.errors = kept_;
  summary.errors_in_all = in_all_;
}

}  // namespace plumule::logbook

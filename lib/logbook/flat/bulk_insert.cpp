#include "logbook/flat/bulk_insert.hpp"

#include <algorithm>

#include "logbook/journal/tally_watch.hpp"

namespace plumule::logbook {
namespace {

std::size_t width_of(const std::string& columns) {
  return static_cast<std::size_t>(std::count(columns.begin(), columns.end(), ',')) + 1;
}

std::string insert_sql(const std::string& table, const std::string& columns, std::size_t rows) {
  std::string row = "(?";
  for (std::size_t i = 1; i < width_of(columns); ++i) row += ", ?";
  row += ')';
  std::string sql = "insert into " + table + " (" + columns + ") values " + row;
  for (std::size_t i = 1; i < rows; ++i) sql += ", " + row;
  return sql;
}

}  // namespace

BulkInsert::BulkInsert(Store& store, const std::string& table, const std::string& columns,
                       std::size_t batch, Rows rows)
    : store_(store),
      table_(table),
      columns_(columns),
      width_(width_of(columns)),
      full_(width_ * batch),
      insert_(store, insert_sql(table, columns, batch)),
      tallied_(rows == Rows::whole ? tallied(table) : nullptr) {
  values_.reserve(full_);
}

void BulkInsert::added() {
  if (values_.size() == full_) write();
}

void BulkInsert::add(std::int64_t value) {
  values_.emplace_back(value);
  added();
}

void BulkInsert::add(double value) {
  values_.emplace_back(value);
  added();
}

void BulkInsert::add(const std::string& value) {
  values_.emplace_back(value);
  added();
}

void BulkInsert::add(std::nullopt_t) {
  values_.emplace_back();
  added();
}

void BulkInsert::write() { run(insert_); }

void BulkInsert::run(Scan& insert) {
  for (const Value& value : values_) insert.bind(value);
  TallyWatch* const watch = tallied_ != nullptr ? store_.watch : nullptr;
  if (watch != nullptr) {
    tell(*watch);
    watch->look_away();
  }
  values_.clear();
  insert.run();  // where it fails nothing of the entry is kept, its tally neither
  if (watch != nullptr) watch->look_again();
}

void BulkInsert::tell(TallyWatch& watch) {
  for (std::size_t row = 0; row < values_.size(); row += width_) {
    hash_.begin(tallied_->name);
    for (std::size_t i = 0; i < width_; ++i)
      if (static_cast<int>(i) != tallied_->derived) hash_.add(values_[row + i]);
    watch.told(hash_.end());
  }
}

void BulkInsert::finish() {
  if (values_.empty()) return;
  Scan rest(store_, insert_sql(table_, columns_, values_.size() / width_));
  run(rest);
}

}  // namespace plumule::logbook

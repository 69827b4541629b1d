#include "logbook/scan.hpp"

#include <sqlite3.h>

namespace plumule::logbook {

Scan::Scan(Store& store, const std::string& sql) : store_(store), statement_(store.take_raw(sql)) {
  if (statement_) return;
  sqlite3_stmt* statement = nullptr;
  const int code =
      sqlite3_prepare_v2(store.database().getHandle(), sql.c_str(), -1, &statement, nullptr);
  statement_.reset(statement);
  if (code != SQLITE_OK) fail(code);
}

Scan::~Scan() {
  if (!statement_) return;
  again();
  sqlite3_clear_bindings(statement_.get());
  store_.give_back(std::move(statement_));
}

void Scan::fail(int code) { store_.refuse(SQLite::Exception(store_.database().getHandle(), code)); }

bool Scan::next() {
  const int code = sqlite3_step(statement_.get());
  if (code != SQLITE_ROW && code != SQLITE_DONE) fail(code);
  return code == SQLITE_ROW;
}

bool Scan::null(int column) const {
  return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

std::int64_t Scan::integer(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}

std::optional<std::int64_t> Scan::maybe_integer(int column) const {
  if (null(column)) return std::nullopt;
  return integer(column);
}

std::optional<double> Scan::maybe_real(int column) const {
  if (null(column)) return std::nullopt;
  return sqlite3_column_double(statement_.get(), column);
}

std::string_view Scan::text(int column) const {
  const unsigned char* const text = sqlite3_column_text(statement_.get(), column);
  if (text == nullptr) return {};
  return {reinterpret_cast<const char*>(text),
          static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column))};
}

void Scan::bind(const Value& value) {
  sqlite3_stmt* const statement = statement_.get();
  ++bound_;
  if (const auto* const whole = std::get_if<std::int64_t>(&value))
    sqlite3_bind_int64(statement, bound_, *whole);
  else if (const auto* const text = std::get_if<std::string>(&value))
    sqlite3_bind_text64(statement, bound_, text->data(), text->size(), SQLITE_TRANSIENT,
                        SQLITE_UTF8);
  else if (const auto* const real = std::get_if<double>(&value))
    sqlite3_bind_double(statement, bound_, *real);
  else
    sqlite3_bind_null(statement, bound_);
}

void Scan::bind(std::int64_t value) { sqlite3_bind_int64(statement_.get(), ++bound_, value); }

void Scan::again() {
  sqlite3_reset(statement_.get());
  bound_ = 0;
}

void Scan::run() {
  const int code = sqlite3_step(statement_.get());
  if (code != SQLITE_DONE) fail(code);
  again();
}

}  // namespace plumule::logbook

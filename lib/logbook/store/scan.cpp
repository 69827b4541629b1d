#include "logbook/store/scan.hpp"

#include <sqlite3.h>

namespace plumule::logbook {

Scan::Scan(Store& store, const std::string& sql) : store_(store) {
  const int code =
      sqlite3_prepare_v2(store.database().getHandle(), sql.c_str(), -1, &statement_, nullptr);
  if (code != SQLITE_OK) store_.refuse(code);
}

Scan::~Scan() { sqlite3_finalize(statement_); }

bool Scan::next() {
  const int code = sqlite3_step(statement_);
  if (code != SQLITE_ROW && code != SQLITE_DONE) store_.refuse(code);
  return code == SQLITE_ROW;
}

bool Scan::null(int column) const { return sqlite3_column_type(statement_, column) == SQLITE_NULL; }

std::int64_t Scan::integer(int column) const { return sqlite3_column_int64(statement_, column); }

int Scan::columns() const { return sqlite3_column_count(statement_); }

Scan::Kind Scan::kind(int column) const {
  switch (sqlite3_column_type(statement_, column)) {
    case SQLITE_INTEGER:
      return Kind::integer;
    case SQLITE_FLOAT:
      return Kind::real;
    case SQLITE_TEXT:
      return Kind::text;
    default:
      return Kind::none;
  }
}

Row Scan::key(int columns) const {
  Row key;
  for (int i = 0; i < columns; ++i)
    key.emplace_back(sqlite3_column_name(statement_, i), integer(i));
  return key;
}

std::optional<std::int64_t> Scan::maybe_integer(int column) const {
  if (null(column)) return std::nullopt;
  return integer(column);
}

std::optional<double> Scan::maybe_real(int column) const {
  if (null(column)) return std::nullopt;
  return sqlite3_column_double(statement_, column);
}

std::string_view Scan::text(int column) const {
  const unsigned char* const text = sqlite3_column_text(statement_, column);
  if (text == nullptr) return {};
  return {reinterpret_cast<const char*>(text),
          static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
}

void Scan::bind(const Value& value) {
  ++bound_;
  if (const auto* const whole = std::get_if<std::int64_t>(&value))
    sqlite3_bind_int64(statement_, bound_, *whole);
  else if (const auto* const text = std::get_if<std::string>(&value))
    sqlite3_bind_text64(statement_, bound_, text->data(), text->size(), SQLITE_TRANSIENT,
                        SQLITE_UTF8);
  else if (const auto* const real = std::get_if<double>(&value))
    sqlite3_bind_double(statement_, bound_, *real);
  else
    sqlite3_bind_null(statement_, bound_);
}

void Scan::bind(std::int64_t value) { sqlite3_bind_int64(statement_, ++bound_, value); }

void Scan::again() {
  sqlite3_reset(statement_);
  bound_ = 0;
}

void Scan::run() {
  const int code = sqlite3_step(statement_);
  if (code != SQLITE_DONE) store_.refuse(code);
  again();
}

}  // namespace plumule::logbook

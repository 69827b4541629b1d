// A statement for loops over a whole table, a million rows or more: what Query does, but by
// SQLite's bare interface and without a question at each column. The caller knows the types of the
// columns.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"

struct sqlite3_stmt;

namespace plumule::logbook {

class Scan {
 public:
  Scan(Store& store, const std::string& sql);
  Scan(const Scan&) = delete;
  Scan& operator=(const Scan&) = delete;
  ~Scan();

  bool next();  // the next row; Unusable or Refused as of Query
  bool null(int column) const;
  std::int64_t integer(int column) const;  // 0 for NULL
  std::optional<std::int64_t> maybe_integer(int column) const;
  std::optional<double> maybe_real(int column) const;
  std::string_view text(int column) const;  // until the next row; empty for NULL
  int columns() const;
  // The next column of `taker`, by its skip() for NULL or its add() of an integer, real or text.
  template <class Taker>
  void give(int column, Taker& taker) const {
    switch (kind(column)) {
      case Kind::integer:
        return taker.add(integer(column));
      case Kind::real:
        return taker.add(*maybe_real(column));
      case Kind::text:
        return taker.add(text(column));
      case Kind::none:
        return taker.skip();
    }
  }
  // The first columns of the row, integers that tell it from others.
  Row key(int columns) const;

  // Binds each value, in order. A statement that gives no rows is then run, and is ready again; one
  // that gives rows is asked for them by next(), and is ready for other values after again().
  void bind(const Value& value);
  void bind(std::int64_t value);
  void again();
  void run();

 private:
  enum class Kind { none, integer, real, text };
  Kind kind(int column) const;

  Store& store_;
  sqlite3_stmt* statement_ = nullptr;
  int bound_ = 0;
};

}  // namespace plumule::logbook

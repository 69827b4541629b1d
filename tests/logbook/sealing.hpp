// Files as plumule itself would have left them, made by other means.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <cstddef>
#include <string>

#include "logbook/file/mark.hpp"
#include "logbook/file/seal.hpp"
#include "logbook/folder.hpp"
#include "logbook/upkeep/migrations.hpp"

namespace plumule::tests {

// Seals every page as it stands, as if plumule had written it so.
inline void seal_all(const std::string& path) {
  std::string bytes = bytes_of(path);
  auto* const at = reinterpret_cast<unsigned char*>(bytes.data());
  const std::size_t page = logbook::head_in(at).page_size;
  for (std::size_t i = 0; i * page < bytes.size(); ++i)
    logbook::seal(at + i * page, page, static_cast<std::uint32_t>(i + 1), logbook::mark_in(at));
  write_bytes(path, bytes);
}

// Marks a file of a make before the seals.
inline void lay_mark(const std::string& path) {
  std::string bytes = bytes_of(path);
  logbook::put_mark(logbook::fresh_mark(), reinterpret_cast<unsigned char*>(bytes.data()));
  write_bytes(path, bytes);
}

// A logbook of the given make, without seals or a mark: one sowing of twenty, K3, by the first
// line.
inline void lay_older(const std::string& path, int version) {
  SQLite::Database plain(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  plain.exec("pragma application_id = " + std::to_string(logbook::application_id));
  for (int i = 0; i < version; ++i)
    plain.exec(logbook::ladder().steps[static_cast<std::size_t>(i)].sql);
  plain.exec("pragma user_version = " + std::to_string(version) +
             "; insert into journal (at, by, command, summary) values ('2026-04-03T23:30:00Z', "
             "'ada', 'plumule sow K3', 'sowed');"
             "insert into sowings (label, sown_on, treatment, units_known, units, unit, counting, "
             "setting, taken_out, entry) values ('K3', '2026-04-03', 1, 'exact', 20, 'seed', "
             "'shoot', 'tray', 0, 1)");
}

}  // namespace plumule::tests

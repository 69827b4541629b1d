// Telling what stands at a path before anything is written there: a logbook, or what else.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "logbook/logbook.hpp"
#include "logbook/upkeep/migrations.hpp"

namespace plumule::logbook {

// A new logbook, which `fill` (may be empty) fills before it bears its name: stopped on the way it
// never was. Returns what a stopped command left beside the name, and where it lies now.
Leftovers create_file(const std::string& path, const std::function<void(Logbook&)>& fill);
std::unique_ptr<Store> create_store(const std::string& path);
// A logbook of this make or an older one, recognised and not brought up to date. Open for writing
// where it and its folder may be written, so that what a stopped command left can be rolled back.
struct Opened {
  std::unique_ptr<Store> store;
  Marks marks;
  bool can_write = false;
};
Opened open_as_it_is(const std::string& path, Access access, const Ladder& ladder,
                     Seals seals = Seals::heeded);
std::unique_ptr<Store> open_store(const std::string& path, Access access, const Ladder& ladder,
                                  Seals seals = Seals::heeded);

}  // namespace plumule::logbook

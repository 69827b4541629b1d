// Telling what stands at a path before anything is written there: a logbook, or what else.
#pragma once

#include <memory>
#include <string>

#include "logbook/logbook.hpp"
#include "logbook/upkeep/migrations.hpp"

namespace plumule::logbook {

std::unique_ptr<Store> create_store(const std::string& path);
std::unique_ptr<Store> open_store(const std::string& path, Access access, const Ladder& ladder);

}  // namespace plumule::logbook

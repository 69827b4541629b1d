// Copying a logbook's file whole, under a name that nothing bears yet.
#pragma once

#include <string>

namespace plumule::logbook {

class Store;

// `wanted`, or `wanted-2`, `wanted-3` ... where something stands there.
std::string free_name(const std::string& wanted);

// A compact single-file copy of an open logbook, also while others write (but not within a
// transaction of its own). It is opened, its structure and marks are checked, and it is on the disk
// before it takes the name `to`, where nothing may stand. Throws Unusable, and leaves nothing
// behind.
void copy_verified(Store& from, const std::string& to);

// Gives the finished file `temporary` its name, durably; false where something stands there.
bool take_name(const std::string& temporary, const std::string& name);

}  // namespace plumule::logbook

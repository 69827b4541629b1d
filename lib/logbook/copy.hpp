// Copying a logbook's file whole, under a name that nothing bears yet.
#pragma once

#include <string>

namespace plumule::logbook {

// `wanted`, or `wanted-2`, `wanted-3` ... where something stands there.
std::string free_name(const std::string& wanted);

// A compact single-file copy of the logbook at `from`, also while others write; its structure is
// checked and it is on the disk before it takes the name `to`, where nothing may stand. Throws
// Unusable, and leaves nothing behind.
void copy_verified(const std::string& from, const std::string& to);

// Gives the finished file `temporary` its name, durably; false where something stands there.
bool take_name(const std::string& temporary, const std::string& name);

}  // namespace plumule::logbook

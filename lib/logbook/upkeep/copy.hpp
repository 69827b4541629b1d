// Copying a logbook's file whole, under a name that nothing bears yet.
#pragma once

#include <functional>
#include <string>

#include "logbook/file/leftover.hpp"

namespace plumule::logbook {

class Part;
class Store;

// Fills a part, compact and whole, from an open logbook, also while others write (but not within a
// transaction of its own); opened and checked, marked as a file of its own, and on the disk.
// `place` is where the part is to go. Throws Unusable, which names the file that is at fault.
void fill_part(Store& from, const Part& part, const std::string& place);

// Whatever is to be done to a filled part before it gets its name; it is on the disk afterwards.
void change_part(const Part& part, const std::function<void(Store&)>& act);

// A compact single-file copy under the name `to`, where nothing may stand, for those only who may
// use the logbook's own file; what a stopped command left beside that name is set aside. Throws
// Unusable, and leaves nothing behind.
Leftovers copy_verified(Store& from, const std::string& to);

}  // namespace plumule::logbook

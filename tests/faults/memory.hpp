// An allocator of the tests' own, for the program and for SQLite, that has nothing left to give
// when it is told so.
#pragma once

#include <cstddef>

namespace plumule::tests {

// Before SQLite is used at all.
void take_over_memory();

// From now on the allocation of this number (from 1) fails, and with `lasting` each one after it of
// at least as many bytes as `lasting` says. 0: none fails, and they are counted.
void fail_allocation(int at, std::size_t lasting = 0);
// How many there were since; none fails any more.
int allocations();

}  // namespace plumule::tests

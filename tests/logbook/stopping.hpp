// A process that stops dead at a chosen write to the disk, as at a power cut.
#pragma once

namespace plumule::tests {

// From now on this process counts each write, cut and sync of a database or its journal, and kills
// itself in place of the one of that number (from 1). Call it once, in a process of its own.
void stop_at(int write);

}  // namespace plumule::tests

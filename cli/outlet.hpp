// Standard output as it may be found: closed, on a full disk, or read by nobody any more.
#pragma once

#include <optional>
#include <string>

namespace plumule::cli {

// Puts something in the place of a standard file that is closed, so that no logbook takes its
// number and what is printed never lands there; to write to it fails as it would have.
void occupy_closed_files();

// From now on a reader who goes away does not end the command: what it wrote has to be told.
void outlive_the_reader();

// Sends out what was printed; why not all of it arrived, in a clause, or none where it did. Ends
// the process as usual where its reader went away and `to_be_told` is not set.
std::optional<std::string> output_trouble(bool to_be_told);

}  // namespace plumule::cli

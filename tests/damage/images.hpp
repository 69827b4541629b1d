// The bytes of a small logbook, with something in each of its tables, and of what may lie beside
// it.
#pragma once

#include <cstddef>
#include <string>

namespace plumule::tests {

struct Images {
  std::string log;    // sound
  std::string older;  // the same logbook a few commands ago
  std::string other;  // another logbook
  // Stopped in the midst of a commit: the file half written, and the journal that puts it right.
  std::string half, journal;
  std::string other_journal;  // of the other logbook, stopped likewise

  // Whether each page bears a checksum: then no damage may pass unseen.
  bool sealed() const { return log[20] != 0; }
};

constexpr std::size_t page_size = 4096;

// Made in `folder`, which is used for nothing else.
Images make_images(const std::string& folder);

}  // namespace plumule::tests

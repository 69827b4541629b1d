// Damages, each of a kind that disks, copies and cables do: told apart by a number, so that each
// can be made again.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "damage/images.hpp"

namespace plumule::tests {

struct Damaged {
  std::string what;  // in words
  std::string log;
  std::string journal = {};  // empty: none lies there
  // Each page is as some command wrote it, only not at that time, or in that file, or without the
  // journal that belongs to it: what a seal of each page by itself does not tell.
  bool pages_whole = false;
};

// Every one that can be counted: header bytes, each page lost or of another time or place, the file
// cut at each page, each journal of another file or with its head hurt. About 600.
std::vector<Damaged> each_damage(const Images& images);
// One drawn by its number: bytes and bits anywhere, pages swapped, pieces lost, in file or journal.
Damaged drawn_damage(const Images& images, std::uint32_t number);

}  // namespace plumule::tests

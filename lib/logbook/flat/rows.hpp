// The looks of a flat log in short form, taken in any order and given back by sowing and time. What
// memory should not hold goes to a nameless temporary file in sorted runs, which are merged.
#pragma once

#include <cstdint>
#include <cstdio>
#include <memory>
#include <vector>

namespace plumule::logbook {

struct FlatLook {
  static constexpr std::int32_t blank = -1;

  std::uint32_t sowing = 0;  // in the order of the file
  std::int32_t day = 0;      // since 1970-01-01
  std::int16_t minute = -1;  // of the day; -1 where no time was given
  std::uint32_t person = 0;  // a text of the file; 0: not said
  std::uint32_t line = 0;
  std::int32_t emerged = blank;
  std::int32_t emerged_high = blank;  // of a guess
  std::int32_t newly = blank;
  std::int32_t newly_high = blank;
  std::int32_t lost = blank;
  std::int32_t seedlings = blank;

  std::int64_t at() const { return std::int64_t{day} * 1440 + (minute < 0 ? 720 : minute); }
};

class FlatLooks {
 public:
  // `most` looks are held in memory at a time (44 bytes each).
  explicit FlatLooks(std::size_t most = 400'000) : most_(most) {}

  void add(const FlatLook& look);
  // No more will come. False where the temporary file could not be written.
  bool sort();
  // The next by sowing, time and line; null at the end. Valid until the next call.
  const FlatLook* next();
  bool sound() const { return sound_; }
  std::size_t size() const { return added_; }

 private:
  struct Close {
    void operator()(std::FILE* file) const { std::fclose(file); }
  };
  struct Run {
    std::size_t at = 0;   // in the file, in looks
    std::size_t end = 0;  // likewise
    std::vector<FlatLook> block;
    std::size_t in_block = 0;
  };

  bool spill();
  bool load(Run& run);

  std::size_t most_;
  std::size_t added_ = 0;
  bool sorted_ = true;
  bool sound_ = true;
  std::vector<FlatLook> looks_;
  std::size_t given_ = 0;
  std::unique_ptr<std::FILE, Close> file_;
  std::vector<Run> runs_;
  std::vector<std::size_t> heap_;  // runs by their next look, the first one on top
};

}  // namespace plumule::logbook

// An open file of the operating system, closed with its scope.
#pragma once

#include <fcntl.h>
#include <unistd.h>

#include <cstdint>
#include <string>
#include <string_view>

namespace plumule::logbook {

class Descriptor {
 public:
  Descriptor(const std::string& path, int flags, mode_t mode = 0)
      : number_(::open(path.c_str(), flags | O_CLOEXEC, mode)) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }

  explicit operator bool() const { return number_ >= 0; }
  int number() const { return number_; }

  // How many bytes were read from `offset` on; 0 at the end, or where it fails.
  std::size_t read(void* into, std::size_t size, std::uint64_t offset) const {
    const ssize_t got = ::pread(number_, into, size, static_cast<off_t>(offset));
    return got > 0 ? static_cast<std::size_t>(got) : 0;
  }
  bool reads(void* into, std::size_t size, std::uint64_t offset) const {
    return read(into, size, offset) == size;
  }
  // All of it, at the end of what was written before.
  bool write(std::string_view bytes) const {
    while (!bytes.empty()) {
      const ssize_t put = ::write(number_, bytes.data(), bytes.size());
      if (put <= 0) return false;
      bytes.remove_prefix(static_cast<std::size_t>(put));
    }
    return true;
  }

 private:
  int number_;
};

}  // namespace plumule::logbook

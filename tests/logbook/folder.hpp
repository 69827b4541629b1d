// A temporary folder that is gone when the test is over.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace plumule::tests {

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "plumule-test-XXXXXX").string();
    if (!::mkdtemp(name.data())) std::abort();
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);
    std::filesystem::remove_all(path_, ignored);
  }

  std::string operator/(const std::string& name) const { return path_ + '/' + name; }
  const std::string& path() const { return path_; }
  // How many files lie in it, rollback journals (which stay beside their logbook) not counted.
  std::ptrdiff_t files() const {
    return std::count_if(
        std::filesystem::directory_iterator(path_), std::filesystem::directory_iterator(),
        [](const auto& entry) { return !entry.path().string().ends_with("-journal"); });
  }

 private:
  std::string path_;
};

inline std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream bytes;
  bytes << file.rdbuf();
  return bytes.str();
}

inline void write_bytes(const std::string& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary | std::ios::trunc);
  file << bytes;
}

}  // namespace plumule::tests

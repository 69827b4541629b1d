// The files of schema/ (and sample-logs/) as compiled into the program; see schema/CMakeLists.txt.
#pragma once

#include <span>
#include <string_view>

namespace plumule::schema {

struct File {
  std::string_view path;  // from the top of the source tree, e.g. "schema/0001_record.sql"
  std::string_view text;
};

std::span<const File> files();

// The text of one file by its path; empty where there is none of that name.
std::string_view text(std::string_view path);

}  // namespace plumule::schema

// A finished file takes the place of another whole, or leaves it as it is.
#include <doctest/doctest.h>

#include "logbook/file/disk.hpp"
#include "logbook/folder.hpp"

using namespace plumule;

TEST_CASE("flat file: the finished one takes the place of what stood there, or it stays") {
  const tests::Folder folder;
  const std::string place = folder / "season.csv";
  const std::string finished = folder / "season.csv.part";
  tests::write_bytes(finished, "new");
  CHECK(logbook::replace_file(finished, place));
  CHECK(tests::bytes_of(place) == "new");
  tests::write_bytes(finished, "newer");
  CHECK(logbook::replace_file(finished, place));
  CHECK(tests::bytes_of(place) == "newer");
  CHECK(folder.files() == 1);
  CHECK_FALSE(logbook::replace_file(finished, place));
  CHECK(tests::bytes_of(place) == "newer");
}

// What is said of a figure that was noted, and what of it in a blind trial.
#include "cli/showing/count_words.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

using namespace plumule;
using bench::Fate;
using bench::Noted;
using cli::in_words;
using cli::to_json;

namespace {

// 20 sown; 14 up before, six more now.
Noted six_more(bool blind) {
  Noted noted;
  noted.sowing.label = "A1";
  noted.sowing.units = 20;
  noted.count.entered = {records::CountKind::newly, 6};
  noted.count.total = 20;
  noted.before.emplace();
  noted.before->total = 14;
  noted.blind = blind;
  return noted;
}

}  // namespace

TEST_CASE("a count is said with the total and how many are new; of a blind trial as entered") {
  CHECK(in_words(six_more(false)) == "20 of 20 up (+6)");
  const std::string blind = in_words(six_more(true));
  CHECK(blind == records::in_words(six_more(true).count.entered));
  CHECK(blind.find("20") == std::string::npos);
}

TEST_CASE("that a figure stood there already is not told of a blind trial") {
  for (const bool is : {true, false}) {
    Noted noted = six_more(is);
    noted.fate = Fate::nothing_new;
    CHECK((in_words(noted).find("stood there already") == std::string::npos) == is);
  }
}

TEST_CASE("JSON of a blind count holds what was entered and nothing derived from earlier ones") {
  const auto seen = to_json(six_more(false));
  CHECK(seen["emerged"] == 20);
  CHECK(seen["newly_emerged"] == 6);
  const auto blind = to_json(six_more(true));
  CHECK(blind["emerged"].is_null());
  CHECK(blind["newly_emerged"].is_null());
  Noted total = six_more(true);  // a total that was entered may be said
  total.count.entered = {records::CountKind::total, 20};
  CHECK(to_json(total)["emerged"] == 20);
  CHECK(to_json(total)["newly_emerged"].is_null());
}

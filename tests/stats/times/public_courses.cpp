#include "stats/times/public_courses.hpp"

#include <stdexcept>

#include "support/csv.hpp"

namespace plumule::tests {
namespace {

std::map<std::string, Dishes> read_courses(const std::string& name) {
  std::map<std::string, Dishes> groups;
  std::map<std::string, double> rest;
  for (const Row& row : read_csv("data/" + name + ".csv")) {
    stats::TimeCourse& course = groups[row.at("group")][row.at("dish")];
    const std::string key = row.at("group") + "/" + row.at("dish");
    if (stats::last_look(course) != number(row, "start"))
      throw std::runtime_error("a gap in " + key);
    course.sown = number(row, "n");
    if (row.at("end") == "Inf")
      rest[key] = number(row, "count");
    else
      course.looks.push_back({number(row, "end"), stats::emerged(course) + number(row, "count")});
  }
  for (const auto& [group, dishes] : groups)
    for (const auto& [dish, course] : dishes) {
      std::string key = group;
      key.append("/").append(dish);
      if (stats::emerged(course) + rest[key] != *course.sown)
        throw std::runtime_error("counts do not add up: " + key);
    }
  return groups;
}

}  // namespace

const std::map<std::string, Dishes>& public_courses(const std::string& name) {
  // A test over a table of references asks for the same file a hundred times.
  static std::map<std::string, std::map<std::string, Dishes>> known;
  const auto found = known.find(name);
  return found != known.end() ? found->second
                              : known.emplace(name, read_courses(name)).first->second;
}

std::vector<stats::TimeCourse> group_courses(const std::string& name, const std::string& group) {
  std::vector<stats::TimeCourse> courses;
  for (const auto& [dish, course] : public_courses(name).at(group)) courses.push_back(course);
  return courses;
}

std::vector<stats::Span> cosmesis_spans(const std::string& arm) {
  std::vector<stats::Span> spans;
  for (const Row& row : read_csv("data/cosmesis.csv")) {
    if (!arm.empty() && row.at("treatment") != arm) continue;
    const bool open = row.at("right") == "Inf";
    spans.push_back({number(row, "left"), open ? stats::no_end : number(row, "right"), 1});
  }
  return spans;
}

}  // namespace plumule::tests

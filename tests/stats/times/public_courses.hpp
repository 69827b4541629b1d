// The public time courses of tests/data as TimeCourse records, by group and dish.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "stats/times/time_course.hpp"

namespace plumule::tests {

// group -> dish -> course, from tests/data/NAME.csv (dataset,group,dish,n,start,end,count). Throws
// where a dish's intervals leave a gap or its counts do not add up to n.
using Dishes = std::map<std::string, stats::TimeCourse>;
const std::map<std::string, Dishes>& public_courses(const std::string& name);

// The dishes of one group, in order of dish.
std::vector<stats::TimeCourse> group_courses(const std::string& name, const std::string& group);

// (L, R] rows of one arm of tests/data/cosmesis.csv, or of both for an empty arm, each its own
// span of count 1, in file order.
std::vector<stats::Span> cosmesis_spans(const std::string& arm);

}  // namespace plumule::tests

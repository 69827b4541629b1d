// What the record will not take, said to the grower: what is wrong, what was seen before, what may
// have happened and what to type. The one exception that a grower's own input can cause.
#pragma once

#include <stdexcept>
#include <string>

namespace plumule::records {

class Refused : public std::runtime_error {
 public:
  // `sentence` stands on its own, without "Nothing saved." (the command adds that).
  explicit Refused(const std::string& sentence) : std::runtime_error(sentence) {}
};

}  // namespace plumule::records

// What the record will not take: what is wrong and what was seen before, in a sentence of facts,
// and beside it as data what may have been meant and would mend it.
#pragma once

#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "records/hint.hpp"

namespace plumule::records {

struct Refusal {
  std::string fact;         // stands on its own, and names no command
  std::vector<Hint> hints;  // in the order in which they are best tried; may be none
};

// An exception that carries a refusal: `what()` is its fact.
class Hinted : public std::runtime_error {
 public:
  const std::vector<Hint>& hints() const noexcept { return *hints_; }

 protected:
  Hinted(const std::string& fact, std::vector<Hint> hints)
      : std::runtime_error(fact),
        hints_(std::make_shared<const std::vector<Hint>>(std::move(hints))) {}

 private:
  std::shared_ptr<const std::vector<Hint>> hints_;  // shared: copying an exception must not throw
};

// The one exception that a grower's own input can cause.
class Refused : public Hinted {
 public:
  explicit Refused(const std::string& fact, std::vector<Hint> hints = {})
      : Hinted(fact, std::move(hints)) {}
  explicit Refused(Refusal refusal) : Hinted(refusal.fact, std::move(refusal.hints)) {}
};

}  // namespace plumule::records

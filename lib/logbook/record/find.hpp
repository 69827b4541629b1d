// What a bare name means: a sowing, trial, lot, treatment or crop.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "logbook/record/histories.hpp"

namespace plumule::logbook {

enum class NameKind { sowing, trial, lot, treatment, crop };

struct Named {
  NameKind kind = NameKind::sowing;
  std::string name;    // as the logbook spells it
  records::Id id = 0;  // 0 for a crop
};

// "A1", "lot:A1", "A1@2025". Refused where it is two things (both named, with how to settle it),
// and where it is nothing (with the nearest names).
Named named(Logbook& logbook, const std::string& text);
Selection selection_of(Logbook& logbook, const Named& name);

// `There is no lot "X12". Near it: X11, X2.`
std::string unknown_name(const std::string& what, const std::string& text,
                         const std::vector<std::string>& known);

}  // namespace plumule::logbook

// How commands say things: counted nouns, a sowing in a few words.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "records/lot.hpp"
#include "records/names.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

using records::listed;  // "a, b and c"

// "1 seed", "2 seeds"; `many` where an s does not do it.
std::string number_of(std::int64_t count, std::string_view one, std::string_view many = {});

// "12 of 50 up", "12 up" where the number sown is unknown, "none of 50 up".
std::string up_of(const records::Sowing& sowing, std::int64_t total);

// What was sown: "50 seeds", "about 400 seeds", "40 cells of 2 seeds", "3 m of row".
std::string sown_amount(const records::Sowing& sowing);

// "50 seeds of K (bean, Long Tom) in a tray, soak8, trial SOAK block 1".
std::string described(const records::Sowing& sowing);

// "A1" while it is open, else "A1@2025-04-03": closed ones share their labels.
std::string name_of(const records::Sowing& sowing);

// "bean, Long Tom, harvest 2021, label 90 %".
std::string described(const records::Lot& lot);

}  // namespace plumule::cli

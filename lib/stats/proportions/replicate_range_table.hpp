// The published table of the largest range accepted among replicates of 100 seeds, as data.
// Source: 7 CFR 201.55(a), 2015 annual edition (US federal regulation, public domain), read in two
// copies. The low means mirror the high ones about 50.5 (99 pairs with 2), as printed there; two
// evident misprints in the low column (38 for 39, 48 for 49) are corrected. Means of 0, 1 and 100
// are not in it, and for two replicates neither are 2, 3, 98 and 99.
#pragma once

#include <array>

namespace plumule::stats {

struct PublishedRange {
  int high, low;  // mean of all replicates in whole percent
  int four;       // largest range accepted, in percent: 4 replicates of 100
  int two;        // 2 replicates of 100; 0 where the table has none
};

inline constexpr std::array<PublishedRange, 49> published_ranges{{
    {99, 2, 5, 0},    {98, 3, 6, 0},    {97, 4, 7, 6},    {96, 5, 8, 6},    {95, 6, 9, 7},
    {94, 7, 10, 8},   {93, 8, 10, 8},   {92, 9, 11, 9},   {91, 10, 11, 9},  {90, 11, 12, 9},
    {89, 12, 12, 10}, {88, 13, 13, 10}, {87, 14, 13, 11}, {86, 15, 14, 11}, {85, 16, 14, 11},
    {84, 17, 14, 11}, {83, 18, 15, 12}, {82, 19, 15, 12}, {81, 20, 15, 12}, {80, 21, 16, 13},
    {79, 22, 16, 13}, {78, 23, 16, 13}, {77, 24, 17, 13}, {76, 25, 17, 13}, {75, 26, 17, 14},
    {74, 27, 17, 14}, {73, 28, 17, 14}, {72, 29, 18, 14}, {71, 30, 18, 14}, {70, 31, 18, 14},
    {69, 32, 18, 14}, {68, 33, 18, 15}, {67, 34, 18, 15}, {66, 35, 19, 15}, {65, 36, 19, 15},
    {64, 37, 19, 15}, {63, 38, 19, 15}, {62, 39, 19, 15}, {61, 40, 19, 15}, {60, 41, 19, 15},
    {59, 42, 19, 15}, {58, 43, 19, 15}, {57, 44, 19, 15}, {56, 45, 19, 15}, {55, 46, 20, 15},
    {54, 47, 20, 16}, {53, 48, 20, 16}, {52, 49, 20, 16}, {51, 50, 20, 16},
}};

}  // namespace plumule::stats

// Contrasts that are shown together are judged together, so that every claim among them holds over
// all of them; and how many trays would tell what they leave open.
#pragma once

#include <span>
#include <vector>

#include "analysis/comparison/contrast.hpp"

namespace plumule::analysis {

// Gives each of `family` from `first` on its claims, verdicts, joint verdict and p values over the
// whole family; the others keep theirs. Stand and days are questions of their own, as are what came
// up and what stands: each by Holm over the family.
void judge_together(std::span<Contrast* const> family, std::size_t first = 0);

// p values over that family, of each of its contrasts, where there are two or more.
void adjust(std::span<Contrast* const> family, std::optional<Adjusted> Contrast::*part);

// Trays, or blocks, that would tell the stand of each contrast that was too small for it. A trial
// that nobody followed to its end is told so only where one of the two has a single unit laid out.
void reckon_trays_needed(std::span<Contrast* const> family, const TrialLayout& layout,
                         const StandModels& models, double worth);

}  // namespace plumule::analysis

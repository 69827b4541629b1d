// How small the germinable fraction could be where its best estimate is 1: Wald errors mean nothing
// there, the likelihood does.
#pragma once

#include <optional>
#include <span>

#include "stats/times/emergence_solver.hpp"

namespace plumule::stats {

// The least pi with 2 (l_max - l(pi)) <= 2.706, l the profile likelihood: one-sided 95 % (Self &
// Liang 1987, J. Am. Stat. Assoc. 82:605-610). `maximum` is a converged one with the fraction at 1
// for these spans and family. None where the profile can't be followed down to it.
std::optional<double> least_fraction(std::span<const Span> spans, TimeFamily family,
                                     const EmergenceMaximum& maximum);

}  // namespace plumule::stats

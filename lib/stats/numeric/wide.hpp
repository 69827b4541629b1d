// Four doubles side by side, and the mark of a loop that is compiled twice: for processors with
// AVX2 and FMA, and for every other; the program picks when it starts.
#pragma once

#include <cstdint>
#include <cstring>

namespace plumule::stats {

using Four = double __attribute__((vector_size(4 * sizeof(double))));
using FourBits = std::uint64_t __attribute__((vector_size(4 * sizeof(std::uint64_t))));

// Passed by reference: by value its place would depend on the processor. So would its alignment: a
// struct that holds it needs alignas(sizeof(Four)).
[[gnu::always_inline]] inline void load(Four& to, const double* from) {
  std::memcpy(&to, from, sizeof to);
}
[[gnu::always_inline]] inline void store(double* to, const Four& from) {
  std::memcpy(to, &from, sizeof from);
}
[[gnu::always_inline]] inline double total(const Four& of) {
  return (of[0] + of[1]) + (of[2] + of[3]);
}

}  // namespace plumule::stats

#if defined(__x86_64__)
#define PLUMULE_WIDE __attribute__((target_clones("arch=x86-64-v3", "default")))
#else
#define PLUMULE_WIDE
#endif

// Four doubles side by side, and the mark of a loop that is compiled twice: for processors with
// AVX2 and FMA, and for every other; the program picks when it starts.
#pragma once

#include <cstring>

namespace plumule::stats {

using Four = double __attribute__((vector_size(4 * sizeof(double))));

// Passed by reference: by value its place would depend on the processor.
[[gnu::always_inline]] inline void load(Four& to, const double* from) {
  std::memcpy(&to, from, sizeof to);
}
[[gnu::always_inline]] inline void store(double* to, const Four& from) {
  std::memcpy(to, &from, sizeof from);
}

}  // namespace plumule::stats

#if defined(__x86_64__)
#define PLUMULE_WIDE __attribute__((target_clones("arch=x86-64-v3", "default")))
#else
#define PLUMULE_WIDE
#endif

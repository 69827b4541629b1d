// How often a random test draws. Under the address sanitizer a round takes about ten times as long,
// and a fifth of them passes the same lines: it looks for bad reads and writes, while rules and
// figures are for the plain build, whose tests draw all rounds. What must be seen among them, such
// as the refusals in a test of refusals, shrinks alike, so that these checks still can fail.
#pragma once

namespace plumule::tests {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool sanitized = true;
#elif defined(__has_feature)
constexpr bool sanitized = __has_feature(address_sanitizer);
#else
constexpr bool sanitized = false;
#endif

// All of so many rounds, a fifth under the sanitizer (at least one).
template <class Count>
constexpr Count rounds(Count full) {
  return sanitized ? (full + 4) / 5 : full;
}

}  // namespace plumule::tests

// A clock of the tests' own: the day stands still, and to sleep takes no time, so that a command
// that waits for five seconds is done at once and two runs of a command write the same rows.
#include <sys/syscall.h>
#include <time.h>
#include <unistd.h>

namespace {

constexpr time_t noon = 1'779'278'400;  // 2026-05-20 12:00 UTC
timespec slept{};

void sleep_for(const timespec& wait) {
  slept.tv_sec += wait.tv_sec;
  slept.tv_nsec += wait.tv_nsec;
  if (slept.tv_nsec >= 1'000'000'000) {
    slept.tv_nsec -= 1'000'000'000;
    ++slept.tv_sec;
  }
}

}  // namespace

extern "C" {

int clock_gettime(clockid_t clock, timespec* into) noexcept {
  if (clock == CLOCK_REALTIME) {
    *into = {noon, 0};
    return 0;
  }
  const int code = static_cast<int>(::syscall(SYS_clock_gettime, clock, into));
  into->tv_sec += slept.tv_sec;
  into->tv_nsec += slept.tv_nsec;
  if (into->tv_nsec >= 1'000'000'000) {
    into->tv_nsec -= 1'000'000'000;
    ++into->tv_sec;
  }
  return code;
}
time_t time(time_t* into) noexcept {
  if (into != nullptr) *into = noon;
  return noon;
}
int nanosleep(const timespec* wait, timespec*) {
  sleep_for(*wait);
  return 0;
}
int clock_nanosleep(clockid_t, int, const timespec* wait, timespec*) {
  sleep_for(*wait);
  return 0;
}
int usleep(useconds_t wait) {
  sleep_for({0, static_cast<long>(wait) * 1000});
  return 0;
}
}

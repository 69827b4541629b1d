# cmake -C tests/build-kinds/sanitize.cmake -G Ninja -B build/sanitize
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_CXX_FLAGS "-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer"
  CACHE STRING "")
set(PLUMULE_STATIC OFF CACHE BOOL "")
# GCC's null-dereference warning sees ghosts through the sanitizers' own checks.
set(PLUMULE_WERROR OFF CACHE BOOL "")

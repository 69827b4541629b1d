# cmake -C tests/build-kinds/coverage.cmake -G Ninja -B build/coverage; ninja, ctest, then
# gcovr -r . --object-directory build/coverage --filter lib/
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O0 -g --coverage" CACHE STRING "")
set(PLUMULE_STATIC OFF CACHE BOOL "")

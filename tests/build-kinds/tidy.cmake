# cmake -C tests/build-kinds/tidy.cmake -G Ninja -B build/tidy: every file passes clang-tidy as it
# is compiled.
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_DISABLE_PRECOMPILE_HEADERS ON CACHE BOOL "")
set(CMAKE_CXX_CLANG_TIDY clang-tidy-22 --quiet CACHE STRING "")

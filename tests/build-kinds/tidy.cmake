# cmake -C tests/build-kinds/tidy.cmake -G Ninja -B build/tidy: every file passes clang-tidy as it
# is compiled; tidy.py beside this reads all of them in less than half of that time. The compiler is
# of clang-tidy's own version, whose parsed headers it can then read: a third of its time is saved.
# That a file includes what it uses is for tests/structure/includes.py.
set(CMAKE_CXX_COMPILER clang++-22 CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_CLANG_TIDY clang-tidy-22 --quiet CACHE STRING "")

# cmake -C tests/build-kinds/fuzz.cmake -G Ninja -B build/fuzz: the fuzz targets for long runs
# (tests/fuzz/run.sh). As sanitize.cmake, but optimised, so that many more are run in a minute.
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O1 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_CXX_FLAGS "-fsanitize=address,undefined -fno-sanitize=null,alignment,vptr \
-fno-sanitize-recover=all -fno-omit-frame-pointer" CACHE STRING "")
set(PLUMULE_STATIC OFF CACHE BOOL "")
set(PLUMULE_FUZZ ON CACHE BOOL "")

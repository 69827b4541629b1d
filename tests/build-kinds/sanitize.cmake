# cmake -C tests/build-kinds/sanitize.cmake -G Ninja -B build/sanitize
# The clang build: with the address and undefined-behaviour sanitizers, as shared libraries, and with
# the fuzz targets, so that one build folder shows that all of these hold.
# Unoptimised, and without the undefined-behaviour checks that stand at every use of a pointer
# (null, alignment, vptr): a third of the time to build. A null pointer that is read from stops at
# the address sanitizer all the same.
set(CMAKE_CXX_COMPILER clang++-14 CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_CXX_FLAGS_DEBUG "-O0 -g1 -D_GLIBCXX_ASSERTIONS" CACHE STRING "")
set(CMAKE_CXX_FLAGS "-fsanitize=address,undefined -fno-sanitize=null,alignment,vptr \
-fno-sanitize-recover=all -fno-omit-frame-pointer" CACHE STRING "")
set(BUILD_SHARED_LIBS ON CACHE BOOL "")
set(PLUMULE_FUZZ ON CACHE BOOL "")

# How each room of the library is made and compiled. The project includes it, and so does a project
# that builds one room alone (tests/stats/alone).
option(PLUMULE_WERROR "Treat warnings in our own code as errors" ON)
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)

# A missing library is named with its Debian package.
macro(plumule_find package debian)
  find_package(${package} ${ARGN} QUIET)
  if(NOT ${package}_FOUND)
    message(FATAL_ERROR "${package} is missing: apt-get install ${debian}")
  endif()
endmacro()

# Every target of ours compiles with these.
add_library(plumule_flags INTERFACE)
target_compile_options(plumule_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
  -Wnull-dereference -Wduplicated-cond -Wduplicated-branches -Wlogical-op -Wuseless-cast
  -Wformat=2 -Wdouble-promotion $<$<BOOL:${PLUMULE_WERROR}>:-Werror>)

# What nearly every file includes is parsed once a target, which halves the time of a file. A compiler
# cache can't see into it, so with one each file is parsed whole; and so it is by clang-tidy
# (tests/build-kinds/tidy.cmake), where a forgotten include fails.
add_library(plumule_parsed_once INTERFACE)
if(CMAKE_CXX_COMPILER_LAUNCHER)
  set(CMAKE_DISABLE_PRECOMPILE_HEADERS ON)
else()  # GCC 12 sees ghosts in std::string once it comes from there
  target_compile_options(plumule_parsed_once INTERFACE
    -Wno-array-bounds -Wno-stringop-overread -Wno-stringop-overflow)
endif()
target_precompile_headers(plumule_parsed_once INTERFACE
  <algorithm> <array> <cmath> <functional> <map> <memory> <optional> <set> <span> <string>
  <string_view> <vector>)

# One library a folder; what each may use is what it links.
function(plumule_library name)
  cmake_parse_arguments(arg "" "" "SOURCES;USES" ${ARGN})
  add_library(plumule_${name} STATIC ${arg_SOURCES})
  target_include_directories(plumule_${name}
    PUBLIC $<BUILD_INTERFACE:${CMAKE_CURRENT_FUNCTION_LIST_DIR}>)
  target_link_libraries(plumule_${name} PUBLIC ${arg_USES}
    PRIVATE $<BUILD_INTERFACE:plumule_flags> $<BUILD_INTERFACE:plumule_parsed_once>)
  set_target_properties(plumule_${name} PROPERTIES EXPORT_NAME ${name})
  add_library(Plumule::${name} ALIAS plumule_${name})
endfunction()

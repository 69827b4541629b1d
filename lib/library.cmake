# How each room of the library is made and compiled. The project includes it, and so does a project
# that builds one room alone (tests/stats/alone).
option(BUILD_SHARED_LIBS "Build the rooms as shared libraries" OFF)
option(PLUMULE_WERROR "Treat warnings in our own code as errors" ON)
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
if(BUILD_SHARED_LIBS)
  add_compile_options(-fPIC)  # all alike, or a program could not share a library's parsed headers
endif()

# A missing library is named with its Debian package.
macro(plumule_find package debian)
  find_package(${package} ${ARGN} QUIET)
  if(NOT ${package}_FOUND)
    message(FATAL_ERROR "${package} is missing: apt-get install ${debian}")
  endif()
endmacro()

# Every target of ours compiles with these; each compiler has some that the other lacks. Clang's
# double-promotion warns of long double too, which Boost.Math's callers are right to use.
add_library(plumule_flags INTERFACE)
target_compile_options(plumule_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
  -Wnull-dereference
  $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond;-Wduplicated-branches;-Wlogical-op;-Wuseless-cast>
  $<$<CXX_COMPILER_ID:Clang>:-Wextra-semi;-Wloop-analysis>
  -Wformat=2 $<$<CXX_COMPILER_ID:GNU>:-Wdouble-promotion>
  $<$<BOOL:${PLUMULE_WERROR}>:-Werror>)

# What nearly every file of a kind includes is parsed once for all of its targets, which halves the
# time of a file. OPTIONS: what the kind compiles with besides; ALSO: headers of the libraries it USES.
# A compiler cache can't see into it, so with one each file is parsed whole. That a file includes what
# it uses itself is for tests/structure/includes.py.
if(CMAKE_CXX_COMPILER_LAUNCHER)
  set(CMAKE_DISABLE_PRECOMPILE_HEADERS ON)
endif()
function(plumule_kind kind)
  cmake_parse_arguments(arg "" "" "OPTIONS;USES;ALSO" ${ARGN})
  file(CONFIGURE OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/${kind}.cpp CONTENT "// See library.cmake.\n")
  add_library(plumule_kind_${kind} OBJECT ${CMAKE_CURRENT_BINARY_DIR}/${kind}.cpp)
  target_compile_options(plumule_kind_${kind} PUBLIC ${arg_OPTIONS})
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND NOT CMAKE_DISABLE_PRECOMPILE_HEADERS)
    # GCC 12 sees ghosts in a std::string from there.
    target_compile_options(plumule_kind_${kind} PUBLIC
      -Wno-array-bounds -Wno-stringop-overread -Wno-stringop-overflow)
  endif()
  target_link_libraries(plumule_kind_${kind} PRIVATE plumule_flags ${arg_USES})
  target_precompile_headers(plumule_kind_${kind} PRIVATE <algorithm> <array> <cmath> <functional>
    <map> <memory> <optional> <set> <span> <string> <string_view> <vector> ${arg_ALSO})
endfunction()
function(plumule_is target kind)
  target_compile_options(${target} PRIVATE
    $<TARGET_PROPERTY:plumule_kind_${kind},INTERFACE_COMPILE_OPTIONS>
    $<TARGET_PROPERTY:plumule_flags,INTERFACE_COMPILE_OPTIONS>)
  target_precompile_headers(${target} REUSE_FROM plumule_kind_${kind})
endfunction()
plumule_kind(library)

# One library a folder; what each may use is what it links. KIND: library, unless told.
# Where PLUMULE_NAME_OBJECTS is a folder, the room is made of the objects that were compiled there.
# PUBLIC_HEADERS: what other rooms and a guest's program may include, and what is installed
# (install.cmake); all other headers are the room's own.
function(plumule_library name)
  cmake_parse_arguments(arg "" "KIND" "SOURCES;PUBLIC_HEADERS;USES" ${ARGN})
  if(NOT arg_KIND)
    set(arg_KIND library)
  endif()
  string(TOUPPER PLUMULE_${name}_OBJECTS objects)
  if(${objects})
    file(GLOB_RECURSE arg_SOURCES CONFIGURE_DEPENDS ${${objects}}/*.o)
  endif()
  add_library(plumule_${name} ${arg_SOURCES})
  set_target_properties(plumule_${name} PROPERTIES LINKER_LANGUAGE CXX)
  target_include_directories(plumule_${name}
    PUBLIC $<BUILD_INTERFACE:${CMAKE_CURRENT_FUNCTION_LIST_DIR}>)
  target_link_libraries(plumule_${name} PUBLIC ${arg_USES})
  plumule_is(plumule_${name} ${arg_KIND})
  plumule_offers(${name} ${arg_PUBLIC_HEADERS})
endfunction()

# What a guest gets of a library: its name in find_package, its headers, and C++20.
function(plumule_offers name)
  target_compile_features(plumule_${name} PUBLIC cxx_std_20)
  set_target_properties(plumule_${name} PROPERTIES EXPORT_NAME ${name} DEFINE_SYMBOL "")
  set_property(GLOBAL APPEND PROPERTY PLUMULE_ROOMS ${name})
  list(TRANSFORM ARGN PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/)
  set_property(GLOBAL APPEND PROPERTY PLUMULE_PUBLIC_HEADERS ${ARGN})
  add_library(Plumule::${name} ALIAS plumule_${name})
endfunction()

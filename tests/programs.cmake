# One program a room of lib, mirroring it, and one test of ctest a folder of the program's sources:
# `ctest -R stats`, `ctest -R stats_times`, or `stats_tests -tc='*Newcombe*'`.
plumule_find(doctest doctest-dev 2.4 CONFIG)

add_library(plumule_test_main STATIC
  ${CMAKE_CURRENT_LIST_DIR}/support/main.cpp ${CMAKE_CURRENT_LIST_DIR}/support/csv.cpp)
target_include_directories(plumule_test_main PUBLIC ${CMAKE_CURRENT_LIST_DIR})
target_compile_definitions(plumule_test_main PRIVATE PLUMULE_TESTS_FOLDER="${CMAKE_CURRENT_LIST_DIR}")
target_link_libraries(plumule_test_main PUBLIC doctest::doctest PRIVATE plumule_flags)
target_compile_options(plumule_test_main PRIVATE -O0)
# The tests' own code is compiled as it stands, in half the time; what they test is not.
plumule_kind(test OPTIONS -O0 USES doctest::doctest ALSO <doctest/doctest.h>)

# `ninja plumule_room_tests` builds them all, `ctest -L room` runs them.
add_custom_target(plumule_room_tests)
# The tests of each folder are run by themselves, so that processors share a room and a change in a
# sub-room is tested in seconds: `stats_times` runs what stands in tests/stats/times, `analysis` what
# stands in no folder of its own. Every test case must belong to one of them, which NAME_cases sees to.
function(plumule_tests name)
  cmake_parse_arguments(arg "" "" "SOURCES;USES" ${ARGN})
  add_executable(${name}_tests ${arg_SOURCES})
  target_link_libraries(${name}_tests PRIVATE plumule_test_main ${arg_USES})
  plumule_is(${name}_tests test)
  add_dependencies(plumule_room_tests ${name}_tests)

  set(folders ${arg_SOURCES})
  list(FILTER folders INCLUDE REGEX "_test.cpp$")
  list(TRANSFORM folders PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/)
  list(TRANSFORM folders REPLACE "/[^/]*$" "")
  list(REMOVE_DUPLICATES folders)
  set(filters)
  foreach(folder IN LISTS folders)
    string(REPLACE ${CMAKE_CURRENT_SOURCE_DIR} ${name} test ${folder})
    string(REPLACE / _ test ${test})
    set(filter -sf=${folder}/* -sfe=${folder}/*/*)  # sources, without those of folders in it
    add_test(NAME ${test} COMMAND ${name}_tests ${filter})
    # A filter that matches nothing would count as success.
    set_tests_properties(${test} PROPERTIES FAIL_REGULAR_EXPRESSION "test cases: +0 " LABELS room)
    list(JOIN filter " " filter)
    list(APPEND filters ${filter})
  endforeach()
  add_test(NAME ${name}_cases COMMAND ${CMAKE_COMMAND} -D program=$<TARGET_FILE:${name}_tests>
    -D "filters=${filters}" -P ${CMAKE_CURRENT_FUNCTION_LIST_DIR}/support/cases.cmake)
  set_tests_properties(${name}_cases PROPERTIES LABELS room)
endfunction()

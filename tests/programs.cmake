# One program a folder of lib, mirroring it: `ctest -R stats`, or `stats_tests -tc='*Wilson*'`.
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
# A filter that matches nothing would count as success: the property below refuses it.
function(plumule_tests name)
  cmake_parse_arguments(arg "" "" "SOURCES;USES" ${ARGN})
  add_executable(${name}_tests ${arg_SOURCES})
  target_link_libraries(${name}_tests PRIVATE plumule_test_main ${arg_USES})
  plumule_is(${name}_tests test)
  add_test(NAME ${name} COMMAND ${name}_tests)
  set_tests_properties(${name} PROPERTIES FAIL_REGULAR_EXPRESSION "test cases: +0 " LABELS room)
  add_dependencies(plumule_room_tests ${name}_tests)
endfunction()

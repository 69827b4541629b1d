# cmake -D program=... -D filters=... -P cases.cmake: fails unless each test case of the program is
# chosen by exactly one of the filters, each a list of doctest's options that spaces part.
function(cases out)
  execute_process(COMMAND ${program} --count --no-colors ${ARGN}
    OUTPUT_VARIABLE listed COMMAND_ERROR_IS_FATAL ANY)
  string(REGEX MATCH "unskipped test cases passing the current filters: ([0-9]+)" found "${listed}")
  if(NOT found)
    message(FATAL_ERROR "${program} does not say how many test cases it has")
  endif()
  set(${out} ${CMAKE_MATCH_1} PARENT_SCOPE)
endfunction()

cases(all)
set(sum 0)
set(together)
foreach(filter IN LISTS filters)
  separate_arguments(filter)
  cases(chosen ${filter})
  list(JOIN filter " " filter)
  message(STATUS "${chosen} test cases: ${filter}")
  math(EXPR sum "${sum} + ${chosen}")
endforeach()
if(all EQUAL 0 OR NOT sum EQUAL all)
  message(FATAL_ERROR "${program}: ${all} test cases, of which the tests of ctest run ${sum}. Each \
source that holds some must end in _test.cpp.")
endif()
message(STATUS "${sum} of ${all} test cases")

# The library as a guest finds it: installed, and as Debian packages.
set(here ${CMAKE_CURRENT_LIST_DIR})
set(installed ${PROJECT_BINARY_DIR}/installed)
add_test(NAME install COMMAND ${here}/install.sh ${PROJECT_BINARY_DIR} ${installed})
add_test(NAME consumer COMMAND ${here}/run.sh ${installed})
add_test(NAME headers COMMAND ${here}/headers.sh ${installed})
set_tests_properties(install PROPERTIES FIXTURES_SETUP installed)
set_tests_properties(consumer headers PROPERTIES FIXTURES_REQUIRED installed)
set(compiled "CXX=${CMAKE_CXX_COMPILER}" "CXXFLAGS=${CMAKE_CXX_FLAGS}")
set_tests_properties(consumer PROPERTIES ENVIRONMENT "${compiled}")
if(NOT BUILD_SHARED_LIBS)  # of which no package is made
  add_test(NAME package COMMAND ${here}/debian.sh ${PROJECT_BINARY_DIR})
  set_tests_properties(package PROPERTIES ENVIRONMENT "${compiled}")
endif()

# cmake --install: the command with its manual page and completions, and the library with its
# headers, as find_package(Plumule) (COMPONENTS stats for the statistics alone) and for pkg-config.
# Components: the command; the shared libraries, where that is how they were built; and development,
# what a program that uses the library is built with.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(here ${CMAKE_CURRENT_LIST_DIR})
set(package ${CMAKE_INSTALL_LIBDIR}/cmake/Plumule)
set(command_doc ${CMAKE_INSTALL_DATADIR}/doc/plumule)
set(library_doc ${CMAKE_INSTALL_DATADIR}/doc/libplumule-dev)

# A guest writes <plumule/stats/trays/tray_aware.hpp>, while the rooms call each other "stats/...".
# The public headers are installed with those lines rewritten, and so are the examples: a guest's
# include path gains one folder with plumule/ in it, and no name as common as records/ or report/.
get_property(headers GLOBAL PROPERTY PLUMULE_PUBLIC_HEADERS)
file(GLOB examples CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/examples/*.cpp)
set(guest ${PROJECT_BINARY_DIR}/guest)
add_custom_command(OUTPUT ${guest}/rewritten
  COMMAND ${CMAKE_COMMAND} "-DHEADERS=${headers}" "-DEXAMPLES=${examples}"
          -DROOT=${PROJECT_SOURCE_DIR} -DINTO=${guest} -P ${here}/rewritten.cmake
  DEPENDS ${headers} ${examples} ${here}/rewritten.cmake
  VERBATIM)
add_custom_target(plumule_rewritten ALL DEPENDS ${guest}/rewritten)
configure_file(${here}/version.hpp.in ${PROJECT_BINARY_DIR}/version.hpp @ONLY)
install(DIRECTORY ${guest}/plumule DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)
install(FILES ${PROJECT_BINARY_DIR}/version.hpp
  DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/plumule COMPONENT development)
install(DIRECTORY ${guest}/examples ${PROJECT_SOURCE_DIR}/sample-logs DESTINATION ${library_doc}
  COMPONENT development)

# The rooms: the statistics, which stand alone, and the rest.
get_property(rooms GLOBAL PROPERTY PLUMULE_ROOMS)
list(REMOVE_ITEM rooms stats)
list(TRANSFORM rooms PREPEND plumule_ OUTPUT_VARIABLE rest)
set_target_properties(plumule_stats ${rest} PROPERTIES VERSION ${PROJECT_VERSION}
  SOVERSION ${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR} INSTALL_RPATH $ORIGIN)
set(to LIBRARY COMPONENT libraries NAMELINK_COMPONENT development ARCHIVE COMPONENT development
  INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(TARGETS plumule_stats EXPORT PlumuleStats ${to})
install(TARGETS ${rest} EXPORT PlumuleRest ${to})
foreach(set PlumuleStats PlumuleRest)
  install(EXPORT ${set} NAMESPACE Plumule:: DESTINATION ${package} COMPONENT development)
endforeach()
configure_package_config_file(${here}/PlumuleConfig.cmake.in
  ${PROJECT_BINARY_DIR}/PlumuleConfig.cmake INSTALL_DESTINATION ${package})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/PlumuleConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/PlumuleConfig.cmake
              ${PROJECT_BINARY_DIR}/PlumuleConfigVersion.cmake
  DESTINATION ${package} COMPONENT development)

# The same for pkg-config. A static library brings nothing along, so what it is built on is named.
list(TRANSFORM rooms PREPEND -lplumule_ OUTPUT_VARIABLE link)
list(REVERSE link)  # each before those that it uses
list(JOIN link " " link)
set(built_on_link "-lSQLiteCpp -pthread -ldl")
set(built_on "sqlite3")
if(BUILD_SHARED_LIBS)
  set(built_on_link)
  set(built_on)
endif()
file(RELATIVE_PATH prefix /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
string(REGEX REPLACE "/$" "" prefix ${prefix})
foreach(file plumule plumule-stats)
  configure_file(${here}/${file}.pc.in ${PROJECT_BINARY_DIR}/${file}.pc @ONLY)
  install(FILES ${PROJECT_BINARY_DIR}/${file}.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig
    COMPONENT development)
endforeach()

if(BUILD_SHARED_LIBS)
  file(RELATIVE_PATH libraries /${CMAKE_INSTALL_BINDIR} /${CMAKE_INSTALL_LIBDIR})
  set_target_properties(plumule PROPERTIES INSTALL_RPATH $ORIGIN/${libraries})
endif()
install(TARGETS plumule RUNTIME COMPONENT command)
set(pages ${PROJECT_BINARY_DIR}/cli)
install(FILES ${pages}/plumule.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT command)
install(FILES ${pages}/plumule.bash RENAME plumule
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT command)
install(FILES ${pages}/_plumule DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions
  COMPONENT command)
install(FILES ${pages}/plumule.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
  COMPONENT command)
install(FILES ${PROJECT_SOURCE_DIR}/README.md DESTINATION ${command_doc} COMPONENT command)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/schema/json DESTINATION ${CMAKE_INSTALL_DATADIR}/plumule
  COMPONENT command)

# Whose work is in the static command and in the library, under the name that Debian looks for.
install(FILES ${here}/third-party-notices.txt RENAME copyright DESTINATION ${command_doc}
  COMPONENT command)
install(FILES ${here}/third-party-notices.txt RENAME copyright DESTINATION ${library_doc}
  COMPONENT development)

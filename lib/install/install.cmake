# cmake --install: the command with its man page and completions, and the library with its headers
# as find_package(Plumule), or find_package(Plumule COMPONENTS stats) for the statistics alone.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(package ${CMAKE_INSTALL_LIBDIR}/cmake/Plumule)

install(TARGETS plumule_stats EXPORT PlumuleStats
  INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/plumule)
install(EXPORT PlumuleStats NAMESPACE Plumule:: DESTINATION ${package})
install(TARGETS plumule_fmt plumule_schema plumule_records plumule_crops plumule_logbook plumule_analysis
                plumule_report EXPORT PlumuleRest
  INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/plumule)
install(EXPORT PlumuleRest NAMESPACE Plumule:: DESTINATION ${package})

foreach(folder stats records crops logbook analysis report)
  install(DIRECTORY ${PROJECT_SOURCE_DIR}/lib/${folder}
    DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/plumule FILES_MATCHING PATTERN "*.hpp")
endforeach()
install(FILES ${PROJECT_SOURCE_DIR}/schema/embedded.hpp
  DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/plumule/schema)

configure_package_config_file(${PROJECT_SOURCE_DIR}/lib/PlumuleConfig.cmake.in
  ${PROJECT_BINARY_DIR}/PlumuleConfig.cmake INSTALL_DESTINATION ${package})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/PlumuleConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/PlumuleConfig.cmake
              ${PROJECT_BINARY_DIR}/PlumuleConfigVersion.cmake DESTINATION ${package})

install(TARGETS plumule RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${PROJECT_BINARY_DIR}/cli/plumule.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${PROJECT_BINARY_DIR}/cli/plumule.bash RENAME plumule
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES ${PROJECT_BINARY_DIR}/cli/_plumule
  DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
install(FILES ${PROJECT_BINARY_DIR}/cli/plumule.fish
  DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)

# cpack: Debian packages made of what cmake --install installs. Two of them: plumule, the command,
# which stands alone, and libplumule-dev, the library and what a program is built with. The library
# is static by default, so a third one of its own would be empty; of a shared build no package is
# made.
if(BUILD_SHARED_LIBS)
  return()
endif()
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME plumule)
set(CPACK_PACKAGE_CONTACT "The maintainers of Plumule")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL command development)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)

set(CPACK_DEBIAN_COMMAND_PACKAGE_NAME plumule)
set(CPACK_DEBIAN_COMMAND_PACKAGE_SECTION science)
set(CPACK_COMPONENT_COMMAND_DESCRIPTION "logbook of germination trials and its statistics
Keeps seed lots, sowings and daily counts in one SQLite file, and tells what
they can show: what came up and when, whether a treatment helped, whether old
seed is still worth sowing.")
# A static command needs nothing at all; another one what dpkg-shlibdeps finds.
if(NOT PLUMULE_STATIC)
  set(CPACK_DEBIAN_COMMAND_PACKAGE_SHLIBDEPS ON)
endif()

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libplumule-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION "library of germination trials, to build programs with
Records, statistics, findings and reports as static C++20 libraries, with
headers, worked examples, and files for CMake and pkg-config.")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libsqlitecpp-dev (>= 3.2), libsqlite3-dev")
include(CPack)

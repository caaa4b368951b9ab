# SPDX-License-Identifier: MIT
# What `cmake --install` puts where, and the Debian package that `cpack -G DEB` makes of it. For people: docs/installing.md.
include(GNUInstallDirs)

# The module beside the libraries, found by the program from its own place: the tree may be installed, packed or moved anywhere.
set(module_folder ${CMAKE_INSTALL_LIBDIR}/dishwright)
file(RELATIVE_PATH module_from_program ${CMAKE_INSTALL_FULL_BINDIR} ${CMAKE_INSTALL_FULL_LIBDIR}/dishwright)
target_compile_definitions(dishwright_picture PRIVATE DISHWRIGHT_MODULE_FOLDER="${module_from_program}")

# Manual page and completion, written from the program's own command line. (What a program of an instant leaks does not matter.)
add_executable(dishwright_manual src/manual.cpp)
target_link_libraries(dishwright_manual PRIVATE dishwright_command)
set(manual ${PROJECT_BINARY_DIR}/manual)
find_program(GZIP gzip REQUIRED)
add_custom_command(OUTPUT ${manual}/dishwright.1 ${manual}/dishwright.1.gz ${manual}/dishwright.bash ${manual}/dishwright.zsh
    ${manual}/dishwright.fish
  COMMAND ${CMAKE_COMMAND} -E env ASAN_OPTIONS=detect_leaks=0 $<TARGET_FILE:dishwright_manual> ${manual}
  COMMAND ${GZIP} -9 -n -k -f ${manual}/dishwright.1
  DEPENDS dishwright_manual VERBATIM)
add_custom_target(dishwright_manual_files ALL DEPENDS ${manual}/dishwright.1.gz)

set(CMAKE_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE
  WORLD_READ WORLD_EXECUTE)
install(TARGETS dishwright RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(TARGETS dishwright_images LIBRARY DESTINATION ${module_folder})
install(FILES ${manual}/dishwright.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${manual}/dishwright.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME dishwright)
foreach(folder site-functions vendor-completions) # where zsh looks below /usr/local, and below /usr
  install(FILES ${manual}/dishwright.zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/${folder} RENAME _dishwright)
endforeach()
install(FILES ${manual}/dishwright.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)

# The page with the engine for browsers, where bash scenes/page.sh has made it.
install(FILES ${PROJECT_BINARY_DIR}/page.html DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/dishwright OPTIONAL)

# Pages, examples and pictures lie as in the tree, so that the links between them hold; Debian's people look for examples/.
set(pages ${CMAKE_INSTALL_DATADIR}/doc/dishwright)
install(FILES README.md DESTINATION ${pages})
install(FILES LICENSE DESTINATION ${pages} RENAME copyright)
install(DIRECTORY docs renders DESTINATION ${pages})
install(DIRECTORY scenes DESTINATION ${pages} FILES_MATCHING PATTERN *.toml PATTERN *.csv)
file(CREATE_LINK scenes ${PROJECT_BINARY_DIR}/examples SYMBOLIC)
install(FILES ${PROJECT_BINARY_DIR}/examples DESTINATION ${pages})

# The package. Nobody's name or address stands in it: example.org is kept free for examples (RFC 2606).
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME dishwright)
set(CPACK_PACKAGE_CONTACT "The dishwright maintainers <dishwright@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "light, sound and radio of hand-built reflectors")
set(CPACK_PACKAGE_DESCRIPTION
  "A project file of a few lines describes a hand-built mirror, the sun, a lamp, a
sound or a radio wave that meets it, and what it must heat, light or hear. The
program tells how much arrives there, how wide and how strong the spot is, where
the rest went, and how sure each number is. It compares curves, sweeps values,
finds tolerances in shop words, and judges a built dish from measured depths.")
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS ${CMAKE_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS})
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS fonts-dejavu-core) # the pictures' letters; libraries are found by their names
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
# A package for newer processors says so in its name, its description and when it is made (docs/decisions/0025).
if(NOT DISHWRIGHT_PROCESSOR STREQUAL "x86-64")
  set(CPACK_DEBIAN_FILE_NAME "dishwright_${PROJECT_VERSION}_amd64-${DISHWRIGHT_PROCESSOR}.deb")
  string(APPEND CPACK_PACKAGE_DESCRIPTION "\n\nThis package needs a processor of the kind ${DISHWRIGHT_PROCESSOR}.")
  set(CPACK_DISHWRIGHT_PROCESSOR ${DISHWRIGHT_PROCESSOR})
  set(CPACK_PROJECT_CONFIG_FILE ${PROJECT_SOURCE_DIR}/src/package_processor.cmake)
endif()
include(CPack)

# SPDX-License-Identifier: MIT
# How the engine for browsers is configured: cmake -C src/page/browser/preset.cmake -S . -B build-browser -G Ninja
set(CMAKE_TOOLCHAIN_FILE /usr/share/emscripten/cmake/Modules/Platform/Emscripten.cmake CACHE FILEPATH "Debian's Emscripten")
set(CMAKE_BUILD_TYPE Release CACHE STRING "kind of build")
set(DISHWRIGHT_TREE OFF CACHE BOOL "no ray tracing library there")
# Debian keeps a parser that Emscripten needs for linking where its own Node.js looks, and no other does.
set(CMAKE_CXX_LINKER_LAUNCHER ${CMAKE_COMMAND} -E env NODE_PATH=/usr/share/nodejs CACHE STRING "")

# SPDX-License-Identifier: MIT
# The engine as WebAssembly, by Debian's Emscripten: one file, engine.js, that holds module and bytes. Configure with
# preset.cmake beside this; bash scenes/page.sh does it all.
# Libraries that are headers only come from Debian's own folder, by links: the folder itself would hide the compiler's headers.
set(outside ${PROJECT_BINARY_DIR}/outside)
file(MAKE_DIRECTORY ${outside})
option(DISHWRIGHT_ENGINE_TESTS "also the tests of the engine's parts that start no program, to run in node" OFF)
set(libraries eigen3/Eigen fmt boost xsimd toml++ nlohmann)
if(DISHWRIGHT_ENGINE_TESTS)
  list(APPEND libraries doctest)
endif()
foreach(library IN LISTS libraries)
  get_filename_component(name ${library} NAME)
  if(NOT EXISTS /usr/include/${library})
    message(FATAL_ERROR "the headers ${library} are missing: bash scenes/install.sh build browser")
  endif()
  file(CREATE_LINK /usr/include/${library} ${outside}/${name} SYMBOLIC)
endforeach()

set(CMAKE_CXX_FLAGS_RELEASE "-DNDEBUG")
set(CMAKE_POSITION_INDEPENDENT_CODE OFF)

# SSE stands for the vector lanes: the compiler turns it into those of WebAssembly.
add_library(dishwright_options INTERFACE)
target_compile_options(dishwright_options INTERFACE -msimd128 -msse4.2 -fwasm-exceptions -fopenmp-simd -fno-math-errno -Wall -Wextra
  -Wno-unknown-pragmas -Wno-pass-failed -Wno-unused-but-set-variable)
target_include_directories(dishwright_options INTERFACE ${PROJECT_SOURCE_DIR}/src ${PROJECT_SOURCE_DIR})
target_compile_definitions(dishwright_options INTERFACE DISHWRIGHT_VERSION="${PROJECT_VERSION}" DISHWRIGHT_PROCESSOR="wasm"
  FMT_HEADER_ONLY EIGEN_DONT_VECTORIZE)
add_library(dishwright_outside INTERFACE)
target_include_directories(dishwright_outside SYSTEM INTERFACE ${outside})

# Of report/ only what makes words and JSON: pictures need a library to draw with.
set(report_data
  compare/compare_data compare/compare_text compare/compare_verdict compare/compare_widths
  numbers/caution numbers/figure_words numbers/json_quantity numbers/light_units numbers/number_text numbers/provenance
  numbers/scene_words numbers/sky_words numbers/summary_parts numbers/tape_words numbers/text_layout numbers/text_table
  survey/form_dish survey/survey_hidden survey/survey_json survey/survey_places survey/survey_text survey/survey_words
  sweep/sweep_data sweep/sweep_text sweep/sweep_words
  tolerance/shop_table tolerance/tolerance_data tolerance/tolerance_words
  trace/aim_time trace/figure_notes trace/figures_json trace/map_csv trace/map_smooth trace/size_words trace/summary trace/text_map trace/why
  trace/why_story
  waves/wave_help_words waves/wave_json waves/wave_summary waves/wave_tables waves/wave_words
  yard/burn_words yard/keep_clear_words yard/mirror_hull yard/yard_words)

# Arithmetic for speed, the rest for size.
set(numbers base shape sky scene trace tally quadrature wave study)
set(words scenefile survey result question page)
foreach(part numbers words)
  set(${part}_sources "")
  foreach(folder IN LISTS ${part})
    file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/${folder}/*.cpp)
    list(FILTER sources EXCLUDE REGEX "/(trace/tree_[a-z]+|study/heat_[a-z]+|sky/erfa_sun|page/browser/[a-z_]+)[.]cpp$")
    batches_of(${folder} sources ${sources})
    list(APPEND ${part}_sources ${sources})
  endforeach()
endforeach()
list(TRANSFORM report_data REPLACE "(.+)" "${PROJECT_SOURCE_DIR}/src/report/\\1.cpp")
batches_of(report report_data ${report_data})
add_library(dishwright_numbers OBJECT ${numbers_sources})
add_library(dishwright_words OBJECT ${words_sources} ${report_data})
target_compile_options(dishwright_numbers PRIVATE -O2)
target_compile_options(dishwright_words PRIVATE -Os)
foreach(part numbers words)
  target_link_libraries(dishwright_${part} PUBLIC dishwright_options dishwright_outside)
  target_precompile_headers(dishwright_${part} PRIVATE <Eigen/Geometry> <fmt/format.h> <algorithm> <array> <cmath> <cstdint> <filesystem>
    <functional> <map> <memory> <numbers> <optional> <set> <string> <string_view> <utility> <variant> <vector> <nlohmann/json.hpp>)
endforeach()

add_executable(engine ${CMAKE_CURRENT_LIST_DIR}/door.cpp)
target_compile_options(engine PRIVATE -O2)
target_link_libraries(engine PRIVATE dishwright_numbers dishwright_words)
target_link_options(engine PRIVATE -O2 -fwasm-exceptions -sSINGLE_FILE=1 -sMODULARIZE=1 -sEXPORT_NAME=loadDishwright
  -sENVIRONMENT=web,worker,node -sALLOW_MEMORY_GROWTH=1 -sMAXIMUM_MEMORY=1GB -sINITIAL_MEMORY=32MB -sTOTAL_STACK=1MB -sFORCE_FILESYSTEM=1
  -sEXPORTED_RUNTIME_METHODS=cwrap
  -sEXPORTED_FUNCTIONS=_malloc,_free,_dishwright_file,_dishwright_read,_dishwright_solve,_dishwright_map,_dishwright_forget,_dishwright_cancel
  --extern-post-js ${CMAKE_CURRENT_LIST_DIR}/engine.js)
set_target_properties(engine PROPERTIES LINK_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/engine.js SUFFIX ".js")

# The same tests that the program's own parts pass, inside WebAssembly: engine_tests.js.
if(DISHWRIGHT_ENGINE_TESTS)
  set(tests ${PROJECT_SOURCE_DIR}/tests/main.cpp)
  foreach(folder sky shape scene quadrature wave tally)
    file(GLOB cases CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/${folder}/*.cpp)
    batches_of(tests_${folder} cases ${cases})
    list(APPEND tests ${cases})
  endforeach()
  set(source_folder ${PROJECT_SOURCE_DIR}/tests/folders.cpp)
  set_source_files_properties(${source_folder} PROPERTIES COMPILE_DEFINITIONS
    "DISHWRIGHT_SOURCE_DIR=\"${PROJECT_SOURCE_DIR}\";DISHWRIGHT_PROGRAM=\"\"")
  add_executable(engine_tests ${tests} ${source_folder})
  target_include_directories(engine_tests PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  target_compile_definitions(engine_tests PRIVATE DOCTEST_CONFIG_NO_POSIX_SIGNALS)
  target_compile_options(engine_tests PRIVATE -O1)
  target_link_libraries(engine_tests PRIVATE dishwright_numbers dishwright_words)
  target_precompile_headers(engine_tests PRIVATE <Eigen/Geometry> <doctest/doctest.h> <functional> <string> <vector>)
  target_link_options(engine_tests PRIVATE -O1 -fwasm-exceptions -sSINGLE_FILE=1 -sENVIRONMENT=node -sALLOW_MEMORY_GROWTH=1 -sMAXIMUM_MEMORY=2GB
    -sINITIAL_MEMORY=64MB -sTOTAL_STACK=4MB -sNODERAWFS=1 -sEXIT_RUNTIME=1)
endif()

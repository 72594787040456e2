# How Filmwright is put together: a static library for each folder under src, one test program
# for each folder under tests/unit, one program for each file under bench and tests/fuzz. Files
# are found by pattern, so a new file needs no edit here.

find_program(CCACHE ccache)
if(CCACHE)
  # Paths below the project do not count, so that every clone of it shares what was compiled.
  set(CMAKE_CXX_COMPILER_LAUNCHER env CCACHE_BASEDIR=${CMAKE_SOURCE_DIR} CCACHE_NOHASHDIR=1
                                  CCACHE_SLOPPINESS=pch_defines,time_macros ${CCACHE})
endif()
find_program(MOLD mold)
if(MOLD)
  add_link_options(-fuse-ld=mold)
endif()

function(film_options target)
  target_compile_options(${target} PRIVATE
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
    -Wnon-virtual-dtor $<$<BOOL:${FILM_STRICT}>:-Werror>)
endfunction()

# film_library(NAME FOLDERS folder... OUTSIDE library... PRECOMPILED header...): src/NAME as
# film_NAME. What is precompiled are libraries that are one large header; the dev preset does
# without, so that a missing include is seen.
function(film_library name)
  cmake_parse_arguments(ARG "" "" "FOLDERS;OUTSIDE;PRECOMPILED" ${ARGN})
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/${name}/*.cpp)
  file(GLOB_RECURSE headers CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/${name}/*.h)
  if(NOT sources)
    file(WRITE ${PROJECT_BINARY_DIR}/empty/${name}.cpp "")
    set(sources ${PROJECT_BINARY_DIR}/empty/${name}.cpp)
  endif()
  add_library(film_${name} STATIC ${sources})
  # Every header compiles alone. One whose source includes it first (tools/check_layers.py) does so
  # by that, unless something is precompiled before it; the others are compiled by themselves.
  set(alone ${headers})
  if(NOT ARG_PRECOMPILED)
    foreach(header ${headers})
      string(REGEX REPLACE "[.]h$" ".cpp" source ${header})
      if(source IN_LIST sources)
        list(REMOVE_ITEM alone ${header})
      endif()
    endforeach()
  endif()
  target_sources(film_${name} PUBLIC FILE_SET HEADERS
    BASE_DIRS ${PROJECT_SOURCE_DIR}/src FILES ${alone})
  set_target_properties(film_${name} PROPERTIES VERIFY_INTERFACE_HEADER_SETS ON)
  target_include_directories(film_${name} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  list(TRANSFORM ARG_FOLDERS PREPEND film_)
  target_link_libraries(film_${name} PUBLIC ${ARG_FOLDERS} ${ARG_OUTSIDE})
  film_options(film_${name})
  if(ARG_PRECOMPILED)
    target_precompile_headers(film_${name} PRIVATE ${ARG_PRECOMPILED})
  endif()
endfunction()

# The one executable, with the built web page inside.
function(film_program)
  file(GLOB sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/apps/*.cpp)
  add_executable(filmwright ${sources})
  target_link_libraries(filmwright PRIVATE film_cli film_server film_workbench film_store)
  film_options(filmwright)

  # The manual page and the completions are made by the program itself.
  include(GNUInstallDirs)
  set(made ${PROJECT_BINARY_DIR}/share)
  add_custom_command(OUTPUT ${made}/filmwright.1 ${made}/filmwright.bash ${made}/_filmwright
                            ${made}/filmwright.fish
    COMMAND ${CMAKE_COMMAND} -E make_directory ${made}
    COMMAND filmwright manual > ${made}/filmwright.1
    COMMAND filmwright completion bash > ${made}/filmwright.bash
    COMMAND filmwright completion zsh > ${made}/_filmwright
    COMMAND filmwright completion fish > ${made}/filmwright.fish
    DEPENDS filmwright VERBATIM)
  add_custom_target(descriptions ALL DEPENDS ${made}/filmwright.1)
  install(TARGETS filmwright)
  install(FILES ${made}/filmwright.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
  install(FILES ${made}/filmwright.bash RENAME filmwright
          DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
  install(FILES ${made}/_filmwright DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
  install(FILES ${made}/filmwright.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
endfunction()

function(film_tests)
  find_package(GTest REQUIRED)
  include(GoogleTest)

  # Every test includes the same large header, and is compiled with the same options so that it is
  # compiled once: some libraries ask for -pthread, so all have it.
  file(WRITE ${PROJECT_BINARY_DIR}/empty/test_headers.cpp "int main() {}\n")
  add_executable(test_headers ${PROJECT_BINARY_DIR}/empty/test_headers.cpp)
  target_link_libraries(test_headers PRIVATE GTest::gtest)
  target_compile_options(test_headers PRIVATE -pthread)
  film_options(test_headers)
  target_precompile_headers(test_headers PRIVATE <gtest/gtest.h>)

  foreach(kind unit property golden system)
    file(GLOB folders LIST_DIRECTORIES true CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/${kind}/*)
    foreach(folder ${folders})
      if(IS_DIRECTORY ${folder})
        file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${folder}/*_test.cpp)
        get_filename_component(name ${folder} NAME)
        if(sources AND TARGET film_${name})
          add_executable(${kind}_${name} ${sources})
          # photos of the board need the board as it is printed
          target_link_libraries(${kind}_${name} PRIVATE film_${name} film_host film_exchange
            $<$<STREQUAL:${name},digitise>:film_documents>
            GTest::gtest GTest::gtest_main PkgConfig::polyclipping)
          target_include_directories(${kind}_${name} PRIVATE ${PROJECT_SOURCE_DIR}/tests)
          target_compile_definitions(${kind}_${name} PRIVATE
            FILM_SOURCE_DIR="${PROJECT_SOURCE_DIR}" FILM_BINARY_DIR="${PROJECT_BINARY_DIR}")
          film_options(${kind}_${name})
          # GCC 12 takes joined strings for overflows once their header is precompiled.
          target_compile_options(${kind}_${name} PRIVATE -pthread)
          if(NOT CMAKE_DISABLE_PRECOMPILE_HEADERS)
            target_compile_options(${kind}_${name} PRIVATE
              "$<$<CXX_COMPILER_ID:GNU>:-Wno-array-bounds;-Wno-stringop-overflow;-Wno-restrict>")
          endif()
          target_precompile_headers(${kind}_${name} REUSE_FROM test_headers)
          if(kind STREQUAL system AND TARGET filmwright)
            add_dependencies(${kind}_${name} filmwright)  # the tests start the program itself
          endif()
          gtest_discover_tests(${kind}_${name} TEST_PREFIX "${kind}.${name}."
            DISCOVERY_MODE PRE_TEST PROPERTIES TIMEOUT 300)
        endif()
      endif()
    endforeach()
  endforeach()
endfunction()

# Built by what asks for one (./evidence), or all at once as `benchmarks`: no check needs them, and
# their peers are slow to compile.
function(film_benchmarks)
  add_custom_target(benchmarks)
  file(GLOB sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/bench/*.cpp)
  foreach(source ${sources})
    get_filename_component(name ${source} NAME_WE)
    file(GLOB parts CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/bench/${name}/*.cpp)
    add_executable(bench_${name} EXCLUDE_FROM_ALL ${source} ${parts})
    add_dependencies(benchmarks bench_${name})
    target_link_libraries(bench_${name} PRIVATE film_workbench film_store film_host film_exchange film_demo film_surface
      film_pattern film_digitise film_documents film_layout film_cutting film_planning
      film_glazing PkgConfig::polyclipping
      nlohmann_json::nlohmann_json)
    target_include_directories(bench_${name} PRIVATE ${PROJECT_SOURCE_DIR}/tests)
    target_compile_definitions(bench_${name} PRIVATE FILM_SOURCE_DIR="${PROJECT_SOURCE_DIR}")
    film_options(bench_${name})
  endforeach()

  # The peers of the kernels are measured beside them, never linked into the program. The nesting
  # library's headers are C++17.
  target_link_libraries(bench_evidence_layout PRIVATE film_workbench nlopt)
  target_link_libraries(bench_evidence_shop_book PRIVATE film_server)
  target_include_directories(bench_evidence_shop_book PRIVATE ${PROJECT_SOURCE_DIR}/bench)
  target_include_directories(bench_evidence_layout PRIVATE ${PROJECT_SOURCE_DIR}/bench)
  set_source_files_properties(${PROJECT_SOURCE_DIR}/bench/evidence_layout/hull_nest.cpp
    PROPERTIES COMPILE_OPTIONS "-std=c++17;-Wno-all;-Wno-extra;-Wno-conversion;-Wno-shadow")

  find_path(GECODE_HEADERS gecode/int.hh)
  find_library(GECODE_SEARCH gecodesearch)
  if(GECODE_HEADERS AND GECODE_SEARCH)
    target_link_libraries(bench_evidence_plan PRIVATE gecodesearch gecodeminimodel gecodeint
      gecodekernel gecodesupport)
    target_compile_definitions(bench_evidence_plan PRIVATE FILM_WITH_GECODE)
  else()
    set_source_files_properties(${PROJECT_SOURCE_DIR}/bench/evidence_plan/peer.cpp
      PROPERTIES HEADER_FILE_ONLY ON)
  endif()

  # The peer of the surface kernel is measured beside it, never linked into the program
  # (docs/decisions/0015-a-peer-in-the-benchmark.md).
  find_package(CGAL QUIET CONFIG)
  find_library(UMFPACK umfpack)
  if(CGAL_FOUND AND UMFPACK)
    target_link_libraries(bench_evidence_surface PRIVATE CGAL::CGAL ${UMFPACK})
    target_include_directories(bench_evidence_surface SYSTEM PRIVATE /usr/include/suitesparse)
    target_compile_definitions(bench_evidence_surface PRIVATE FILM_WITH_CGAL)
  endif()
endfunction()

function(film_fuzz_targets)
  file(GLOB sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/fuzz/*.cpp)
  foreach(source ${sources})
    get_filename_component(name ${source} NAME_WE)
    add_executable(fuzz_${name} ${source})
    target_link_libraries(fuzz_${name} PRIVATE film_exchange film_surface film_pattern
      film_digitise film_layout film_cutting film_planning film_glazing)
    target_link_options(fuzz_${name} PRIVATE -fsanitize=fuzzer)
    film_options(fuzz_${name})
  endforeach()
endfunction()

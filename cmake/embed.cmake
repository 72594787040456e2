# Puts every file of the built web page and the API's description, gzipped, into the target as
# read-only data, with a table (path, begin, end) that server/embedded.h declares.
function(film_embed_web target folder)
  find_package(Python3 REQUIRED COMPONENTS Interpreter)
  set(table ${PROJECT_BINARY_DIR}/embedded_web.cpp)
  set(bytes ${PROJECT_BINARY_DIR}/embedded_web.S)
  set(description ${PROJECT_SOURCE_DIR}/docs/formats/openapi.yaml)
  file(GLOB_RECURSE files CONFIGURE_DEPENDS ${folder}/*)
  add_custom_command(OUTPUT ${table} ${bytes}
    COMMAND Python3::Interpreter ${PROJECT_SOURCE_DIR}/tools/embed_web.py ${folder} ${table} ${bytes}
            /api/v1/openapi.yaml=${description}
    DEPENDS ${files} ${description} ${PROJECT_SOURCE_DIR}/tools/embed_web.py
    COMMENT "Embedding the web page")
  target_sources(${target} PRIVATE ${table} ${bytes})
endfunction()

# Puts the shipped table of limits into the target, made again when the table changes.
function(film_embed_limits target table)
  file(READ ${table} FILM_LIMITS)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${table})
  configure_file(${PROJECT_SOURCE_DIR}/cmake/shipped_limits.cpp.in
                 ${PROJECT_BINARY_DIR}/shipped_limits.cpp @ONLY)
  target_sources(${target} PRIVATE ${PROJECT_BINARY_DIR}/shipped_limits.cpp)
endfunction()

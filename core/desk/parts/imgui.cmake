# Dear ImGui, compiled by us for both builds, its warnings left to its authors.
# The backends of a shell are in saltrafter_imgui_shell; screens and their tests do without.
set(imgui ${SALTRAFTER_IMGUI_DIR})
if(NOT imgui)
  set(cache "$ENV{SALTRAFTER_CACHE}")
  if(NOT cache)
    set(cache "$ENV{XDG_CACHE_HOME}/saltrafter")
    if("$ENV{XDG_CACHE_HOME}" STREQUAL "")
      set(cache "$ENV{HOME}/.cache/saltrafter")
    endif()
  endif()
  file(GLOB kept ${cache}/imgui-1.92.2b ${cache}/imgui-[1-9]*)
  list(FILTER kept EXCLUDE REGEX "\\.[A-Za-z0-9]*[A-Za-z]...*$")
  foreach(folder ${cache}/imgui-1.92.2b ${kept})
    if(NOT imgui AND EXISTS ${folder}/imgui.h)
      set(imgui ${folder})
    endif()
  endforeach()
endif()
if(NOT EXISTS "${imgui}/imgui.h")
  message(FATAL_ERROR "Dear ImGui was not found: run `sh web/setup.sh`, or give -DSALTRAFTER_IMGUI_DIR=.")
endif()
file(STRINGS ${imgui}/imgui.h imgui_number REGEX "^#define IMGUI_VERSION_NUM ")
string(REGEX REPLACE "[^0-9]" "" imgui_number "${imgui_number}")
if(imgui_number LESS 19200)
  message(FATAL_ERROR "Dear ImGui in ${imgui} is too old (${imgui_number}): 1.92 or later is needed.")
endif()

add_library(saltrafter_imgui STATIC
  ${imgui}/imgui.cpp ${imgui}/imgui_draw.cpp ${imgui}/imgui_tables.cpp ${imgui}/imgui_widgets.cpp)
target_include_directories(saltrafter_imgui SYSTEM PUBLIC ${imgui})
target_compile_definitions(saltrafter_imgui PUBLIC
  IMGUI_USE_WCHAR32 IMGUI_DISABLE_OBSOLETE_FUNCTIONS IMGUI_DISABLE_DEMO_WINDOWS IMGUI_DISABLE_DEBUG_TOOLS
  IMGUI_DISABLE_DEFAULT_FONT IMGUI_DISABLE_FILE_FUNCTIONS IMGUI_DISABLE_DEFAULT_SHELL_FUNCTIONS)
target_compile_options(saltrafter_imgui PRIVATE -w -fno-exceptions -fno-rtti)
saltrafter_optimise(saltrafter_imgui desk)

add_library(saltrafter_imgui_shell STATIC EXCLUDE_FROM_ALL ${imgui}/backends/imgui_impl_opengl3.cpp)
target_include_directories(saltrafter_imgui_shell SYSTEM PUBLIC ${imgui}/backends)
target_link_libraries(saltrafter_imgui_shell PUBLIC saltrafter_imgui)
target_compile_options(saltrafter_imgui_shell PRIVATE -w -fno-exceptions -fno-rtti)
saltrafter_optimise(saltrafter_imgui_shell desk)
if(EMSCRIPTEN)
  # The browser is the page's window; SDL2 is there for the floor page of the bench alone.
  target_compile_definitions(saltrafter_imgui_shell PUBLIC IMGUI_IMPL_OPENGL_ES3)
  # Without this the compiler looks into a folder of SDL 1.2 headers first.
  target_compile_options(saltrafter_imgui_shell PUBLIC -sUSE_SDL=0)
  if(EXISTS "${SALTRAFTER_SDL2_PAGE}/lib/libSDL2.a")
    add_library(saltrafter_imgui_sdl2 STATIC EXCLUDE_FROM_ALL ${imgui}/backends/imgui_impl_sdl2.cpp)
    # The SDL2 backend calls Emscripten but does not include it.
    target_compile_options(saltrafter_imgui_sdl2 PRIVATE
      -w -fno-exceptions -fno-rtti "SHELL:-include emscripten/emscripten.h")
    target_include_directories(saltrafter_imgui_sdl2 SYSTEM PUBLIC
      ${SALTRAFTER_SDL2_PAGE}/include ${SALTRAFTER_SDL2_PAGE}/include/SDL2)
    target_link_libraries(saltrafter_imgui_sdl2 PUBLIC
      saltrafter_imgui_shell ${SALTRAFTER_SDL2_PAGE}/lib/libSDL2.a)
    saltrafter_optimise(saltrafter_imgui_sdl2 desk)
  endif()
else()
  find_package(SDL2 REQUIRED CONFIG)
  set(OpenGL_GL_PREFERENCE LEGACY)
  find_package(OpenGL REQUIRED)
  target_sources(saltrafter_imgui_shell PRIVATE ${imgui}/backends/imgui_impl_sdl2.cpp)
  target_link_libraries(saltrafter_imgui_shell PUBLIC SDL2::SDL2 OpenGL::GL ${CMAKE_DL_LIBS})
endif()

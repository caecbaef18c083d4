# The bench programs that take the desk, built when asked for (frame.sh): they add no file of ours to a run of the tests.
if(NOT TARGET saltrafter_desk)
  return()
endif()
# The demo window, and the one file of the library that is compiled otherwise with it. As objects they come
# before the library's own archive, whose copy of that file is then not taken; all else is as in the program.
get_target_property(imgui_definitions saltrafter_imgui INTERFACE_COMPILE_DEFINITIONS)
list(REMOVE_ITEM imgui_definitions IMGUI_DISABLE_DEMO_WINDOWS)
add_library(bench_imgui_demo OBJECT EXCLUDE_FROM_ALL ${imgui}/imgui.cpp ${imgui}/imgui_demo.cpp)
target_include_directories(bench_imgui_demo SYSTEM PRIVATE ${imgui})
target_compile_definitions(bench_imgui_demo PRIVATE ${imgui_definitions})
target_compile_options(bench_imgui_demo PRIVATE -w -fno-exceptions -fno-rtti)
saltrafter_optimise(bench_imgui_demo desk)

add_executable(bench_frame EXCLUDE_FROM_ALL ${CMAKE_CURRENT_LIST_DIR}/frame.cpp)
set_target_properties(bench_frame PROPERTIES OUTPUT_NAME frame_bench)
target_link_libraries(bench_frame PRIVATE saltrafter_flags bench_imgui_demo saltrafter_desk)
target_compile_options(bench_frame PRIVATE -O2)

add_executable(bench_many_pieces EXCLUDE_FROM_ALL ${CMAKE_CURRENT_LIST_DIR}/many_pieces.cpp)
set_target_properties(bench_many_pieces PROPERTIES OUTPUT_NAME many_pieces_bench)
target_link_libraries(bench_many_pieces PRIVATE saltrafter_flags saltrafter_desk)
target_compile_options(bench_many_pieces PRIVATE -O2)

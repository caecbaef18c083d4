// The page's program: the screens, their stores and ports, and the doors through which the page's scripts hand
// in input and take out what stands on the screen. When to draw and to work is decided by the scripts (run.js).
#include <emscripten/emscripten.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "core/desk/desk.h"
#include "web/canvas.h"
#include "web/screens.h"
#include "web/script_text.h"
#include "web/stores.h"
#include "web/text_in.h"

namespace saltrafter::web {
namespace {

constexpr double kWorkSlice_ms = 4.0;  // ends with a step of about 1 ms: 5 in all

// clang-format off
EM_JS(double, utc_now_ms, (), { return Date.now(); });
EM_JS(int, zone_offset_min, (double utc_ms), { return -new Date(utc_ms).getTimezoneOffset(); });
EM_JS(void, random_words, (std::uint32_t* two), {
  crypto.getRandomValues(HEAPU32.subarray(two >> 2, (two >> 2) + 2));
});
EM_JS(void, report_failure, (const char* what), { Module.onAbort(UTF8ToString(what)); });
EM_JS(int, whereabouts, (), { return Module.whereabouts.get(); });
EM_JS(void, keep_whereabouts, (const char* text), { Module.whereabouts.set(UTF8ToString(text)); });
EM_JS(int, wants_pseudo, (), { return Module.pseudo ? 1 : 0; });
EM_JS(void, download, (const char* name, const char* text), {
  Module.files.download(UTF8ToString(name), UTF8ToString(text));
});
EM_JS(void, pick_file, (), { Module.files.pick(); });
EM_JS(void, keep_awake, (int on), { Module.awake.set(on !== 0); });
EM_JS(void, take_answer, (const char* text), { Module.answer = UTF8ToString(text); });
// clang-format on

std::uint64_t random_bits() {
  std::array<std::uint32_t, 2> two{};
  random_words(two.data());
  return static_cast<std::uint64_t>(two[0]) << 32U | two[1];
}

desk::Shell shell() {
  desk::Shell services;
  services.ports.now_utc_ms = [] { return static_cast<std::int64_t>(utc_now_ms()); };
  services.ports.zone_offset_min = [](std::int64_t utc_ms) { return zone_offset_min(static_cast<double>(utc_ms)); };
  services.ports.random_bits = random_bits;
  services.clock_ms = [] { return emscripten_get_now(); };
  services.download = [](const std::string& name, const std::string& text) { download(name.c_str(), text.c_str()); };
  const int kept = whereabouts();
  if (kept > 0) services.whereabouts = take_text(kept);
  services.keep_whereabouts = [](const std::string& text) { keep_whereabouts(text.c_str()); };
  services.pick_file = [] { pick_file(); };
  services.keep_awake = [](bool on) { keep_awake(on ? 1 : 0); };
  return services;
}

// The page has one program, and Emscripten's doors are plain functions.
std::unique_ptr<desk::Program> program;

// For tests: how often work was called since the start.
int works = 0;

parts::Host& host() { return program->host(); }

std::uint64_t id_of(std::uint32_t high, std::uint32_t low) { return static_cast<std::uint64_t>(high) << 32U | low; }

parts::PointerSource source_of(int touch) {
  return touch != 0 ? parts::PointerSource::touch : parts::PointerSource::mouse;
}

}  // namespace
}  // namespace saltrafter::web

using saltrafter::web::host;
using saltrafter::web::id_of;
using saltrafter::web::program;
using saltrafter::web::source_of;
using saltrafter::web::take_text;

extern "C" {

// --- time ---

// Draws if there is something to draw, and says whether the next frame is wanted soon.
EMSCRIPTEN_KEEPALIVE int saltrafter_draw(double now_s) {
  if (!program || !saltrafter::web::canvas_ready()) return 0;
  if (program->wants_frame()) {
    saltrafter::web::before_frame();
    saltrafter::web::draw_screens(*program, now_s);
    const saltrafter::parts::Display& size = host().display();
    saltrafter::web::show_frame(static_cast<int>(size.width_px * size.pixel_ratio + 0.5),
                                static_cast<int>(size.height_px * size.pixel_ratio + 0.5));
  }
  return program->wants_frame() ? 1 : 0;
}
// A canvas whose context was lost draws nothing until it is restored.
EMSCRIPTEN_KEEPALIVE int saltrafter_wants_frame() {
  return program && saltrafter::web::canvas_ready() && program->wants_frame() ? 1 : 0;
}

// Saves and computes for a few milliseconds; answers after how many to come again.
EMSCRIPTEN_KEEPALIVE double saltrafter_work() {
  ++saltrafter::web::works;
  return program ? program->work(saltrafter::web::kWorkSlice_ms) : 1e3;
}

EMSCRIPTEN_KEEPALIVE void saltrafter_wake() {
  if (program) host().wake();
}

// For tests: frames drawn and work done since the start.
EMSCRIPTEN_KEEPALIVE int saltrafter_frames() { return saltrafter::web::frames_drawn(); }
EMSCRIPTEN_KEEPALIVE int saltrafter_works() { return saltrafter::web::works; }

// --- the second store's answers ---

EMSCRIPTEN_KEEPALIVE void saltrafter_second_loaded(int bytes) {
  program->second_store_loaded(saltrafter::web::read_slots(take_text(bytes)));
}
EMSCRIPTEN_KEEPALIVE void saltrafter_second_failed() { program->second_store_failed(); }
EMSCRIPTEN_KEEPALIVE void saltrafter_put_done(double ticket, int ok) {
  program->put_done(static_cast<std::uint64_t>(ticket), ok != 0);
}

// --- the screen's size, colours and motion ---

EMSCRIPTEN_KEEPALIVE void saltrafter_display(double width_px, double height_px, double ratio, double left_px,
                                             double top_px, double right_px, double bottom_px) {
  saltrafter::parts::Display display;
  display.width_px = width_px;
  display.height_px = height_px;
  display.pixel_ratio = ratio;
  display.safe_left_px = left_px;
  display.safe_top_px = top_px;
  display.safe_right_px = right_px;
  display.safe_bottom_px = bottom_px;
  program->set_display(display);
}
EMSCRIPTEN_KEEPALIVE void saltrafter_theme(int dark) {
  program->set_device_theme(dark != 0 ? saltrafter::parts::ThemeName::cellar : saltrafter::parts::ThemeName::paper);
}
// Whether the screens are dark now, by the maker's choice or the device's.
EMSCRIPTEN_KEEPALIVE int saltrafter_dark() { return host().theme() == saltrafter::parts::ThemeName::cellar ? 1 : 0; }
EMSCRIPTEN_KEEPALIVE void saltrafter_reduced_motion(int reduced) { host().set_reduced_motion(reduced != 0); }

// --- fingers, mouse and keys ---

EMSCRIPTEN_KEEPALIVE void saltrafter_pointer_down(double x_px, double y_px, int touch, int pointer) {
  host().pointer_down(x_px, y_px, source_of(touch), pointer);
}
EMSCRIPTEN_KEEPALIVE void saltrafter_pointer_move(double x_px, double y_px, int touch, int pointer) {
  host().pointer_move(x_px, y_px, source_of(touch), pointer);
}
EMSCRIPTEN_KEEPALIVE void saltrafter_pointer_up(double x_px, double y_px, int touch, int pointer) {
  host().pointer_up(x_px, y_px, source_of(touch), pointer);
}
EMSCRIPTEN_KEEPALIVE void saltrafter_pointer_cancel() { host().pointer_cancel(); }
EMSCRIPTEN_KEEPALIVE void saltrafter_wheel(double down_px) { host().wheel(down_px); }

// `key` counts the names of parts::KeyPress; input.js has the same list.
EMSCRIPTEN_KEEPALIVE void saltrafter_key(int key, int shift) {
  if (key < 0 || key > static_cast<int>(saltrafter::parts::KeyPress::redo)) return;
  host().key_down(static_cast<saltrafter::parts::KeyPress>(key), shift != 0);
}
EMSCRIPTEN_KEEPALIVE void saltrafter_text(int bytes) { host().text(take_text(bytes)); }

// What copy or cut has put aside goes to the script; 0 when there is nothing.
EMSCRIPTEN_KEEPALIVE int saltrafter_copied() {
  const std::optional<std::string> copied = host().take_copied();
  if (copied) saltrafter::web::take_answer(copied->c_str());
  return copied ? 1 : 0;
}

// --- acting by node, for the mirror ---

EMSCRIPTEN_KEEPALIVE void saltrafter_activate(std::uint32_t high, std::uint32_t low) {
  host().activate(id_of(high, low));
}
EMSCRIPTEN_KEEPALIVE void saltrafter_fill(std::uint32_t high, std::uint32_t low, int bytes) {
  host().fill(id_of(high, low), take_text(bytes));
}
// What is being typed now: 0 nothing, 1 a number, 2 words, in an element of the page's own laid over the field.
EMSCRIPTEN_KEEPALIVE int saltrafter_typing() {
  const auto field = host().active_field();
  if (!field) return 0;
  return field->role == saltrafter::parts::Role::textbox ? 2 : 1;
}
// The face that fields of words are set in: where its bytes lie, and how many they are.
EMSCRIPTEN_KEEPALIVE const unsigned char* saltrafter_face() { return saltrafter::parts::text_field_face().bytes; }
EMSCRIPTEN_KEEPALIVE int saltrafter_face_bytes() {
  return static_cast<int>(saltrafter::parts::text_field_face().size);
}
EMSCRIPTEN_KEEPALIVE void saltrafter_focus(std::uint32_t high, std::uint32_t low) { host().focus(id_of(high, low)); }
EMSCRIPTEN_KEEPALIVE void saltrafter_leave() { host().leave(); }

// A number that is another one when any node has changed since.
EMSCRIPTEN_KEEPALIVE double saltrafter_mirror_version() { return static_cast<double>(program->mirror_version()); }
EMSCRIPTEN_KEEPALIVE void saltrafter_mirror() { saltrafter::web::take_answer(program->mirror().c_str()); }

// --- files and places ---

// The room holds the name, the mark between parts, and what is in the file.
EMSCRIPTEN_KEEPALIVE void saltrafter_file_opened(int bytes) {
  const std::string text = take_text(bytes);
  const std::size_t mark = std::min(text.find(saltrafter::web::kPart), text.size());
  program->file_opened(text.substr(0, mark), mark < text.size() ? text.substr(mark + 1) : std::string());
}
EMSCRIPTEN_KEEPALIVE void saltrafter_go_to(int bytes) { program->go_to(take_text(bytes)); }
EMSCRIPTEN_KEEPALIVE void saltrafter_address() {
  saltrafter::web::take_answer(program->address().c_str());
}

}  // extern "C"

int main() {
  using namespace saltrafter;
  words::Language language = web::wants_pseudo() != 0 ? words::pseudo_language() : words::english();
  program = std::make_unique<desk::Program>(web::shell(), web::local_storage(), web::database(), language,
                                            parts::Host::Renderer::shell);
  program->host().set_words_typed_by_shell();
  program->host().use_device_fonts(web::device_fonts());
  const std::string wrong = web::open_canvas();
  if (wrong.empty()) return 0;
  program.reset();
  web::report_failure(wrong.c_str());
  return 1;
}

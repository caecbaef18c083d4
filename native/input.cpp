#include "native/input.h"

#include <optional>
#include <utility>

namespace saltrafter::native {
namespace {

constexpr double kWheelStep_px = 60.0;  // CSS px for a notch; choice

std::optional<parts::KeyPress> key_of(SDL_Keycode key, bool command, bool shift) {
  using parts::KeyPress;
  if (command) {
    switch (key) {
      case SDLK_a: return KeyPress::select_all;
      case SDLK_c: return KeyPress::copy;
      case SDLK_x: return KeyPress::cut;
      case SDLK_z: return shift ? KeyPress::redo : KeyPress::undo;
      case SDLK_y: return KeyPress::redo;
      default: break;
    }
  }
  switch (key) {
    case SDLK_TAB: return KeyPress::tab;
    case SDLK_RETURN:
    case SDLK_KP_ENTER: return KeyPress::enter;
    case SDLK_SPACE: return KeyPress::space;
    case SDLK_ESCAPE: return KeyPress::escape;
    case SDLK_LEFT: return KeyPress::left;
    case SDLK_RIGHT: return KeyPress::right;
    case SDLK_UP: return KeyPress::up;
    case SDLK_DOWN: return KeyPress::down;
    case SDLK_HOME: return KeyPress::home;
    case SDLK_END: return KeyPress::end;
    case SDLK_PAGEUP: return KeyPress::page_up;
    case SDLK_PAGEDOWN: return KeyPress::page_down;
    case SDLK_BACKSPACE: return KeyPress::backspace;
    case SDLK_DELETE: return KeyPress::erase;
    default: return std::nullopt;
  }
}

void paste(parts::Host& host) {
  char* text = SDL_GetClipboardText();
  if (text != nullptr) host.text(text);
  SDL_free(text);
}

void feed_key(const SDL_KeyboardEvent& event, parts::Host& host) {
  const bool command = (event.keysym.mod & (KMOD_CTRL | KMOD_GUI)) != 0;
  const bool shift = (event.keysym.mod & KMOD_SHIFT) != 0;
  const SDL_Keycode key = event.keysym.sym;
  if ((command && key == SDLK_v) || (shift && key == SDLK_INSERT)) return paste(host);
  if ((event.keysym.mod & KMOD_ALT) != 0) return;
  if (const auto press = key_of(key, command, shift)) host.key_down(*press, shift);
}

int pointer_of(SDL_FingerID finger) { return 1 + static_cast<int>(finger & 0x7fff'fffe); }

}  // namespace

void feed(const SDL_Event& event, const Extent& extent, parts::Host& host) {
  using parts::PointerSource;
  const auto from_window = [&extent](int at) { return static_cast<double>(at) / extent.scale; };
  const auto finger = [&extent, &event](auto act) {
    act(static_cast<double>(event.tfinger.x) * extent.width / extent.scale,
        static_cast<double>(event.tfinger.y) * extent.height / extent.scale, pointer_of(event.tfinger.fingerId));
  };
  switch (event.type) {
    case SDL_MOUSEBUTTONDOWN:
      if (event.button.button == SDL_BUTTON_LEFT && event.button.which != SDL_TOUCH_MOUSEID) {
        host.pointer_down(from_window(event.button.x), from_window(event.button.y), PointerSource::mouse);
      }
      break;
    case SDL_MOUSEBUTTONUP:
      if (event.button.button == SDL_BUTTON_LEFT && event.button.which != SDL_TOUCH_MOUSEID) {
        host.pointer_up(from_window(event.button.x), from_window(event.button.y), PointerSource::mouse);
      }
      break;
    case SDL_MOUSEMOTION:
      if (event.motion.which != SDL_TOUCH_MOUSEID) {
        host.pointer_move(from_window(event.motion.x), from_window(event.motion.y), PointerSource::mouse);
      }
      break;
    case SDL_FINGERDOWN:
      finger([&host](double x, double y, int id) { host.pointer_down(x, y, PointerSource::touch, id); });
      break;
    case SDL_FINGERMOTION:
      finger([&host](double x, double y, int id) { host.pointer_move(x, y, PointerSource::touch, id); });
      break;
    case SDL_FINGERUP:
      finger([&host](double x, double y, int id) { host.pointer_up(x, y, PointerSource::touch, id); });
      break;
    case SDL_MOUSEWHEEL: {
      const double turned = event.wheel.direction == SDL_MOUSEWHEEL_FLIPPED ? -1.0 : 1.0;
      host.wheel(-turned * static_cast<double>(event.wheel.preciseY) * kWheelStep_px);
      break;
    }
    case SDL_KEYDOWN: feed_key(event.key, host); break;
    case SDL_TEXTINPUT: host.text(event.text.text); break;
    case SDL_WINDOWEVENT:
      if (event.window.event == SDL_WINDOWEVENT_FOCUS_LOST) host.pointer_cancel();
      host.wake();  // uncovered, moved to another display, resized
      break;
    default: break;
  }
}

}  // namespace saltrafter::native

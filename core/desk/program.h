// The program as a shell sees it: feed it input through its host, let it draw and work, tell it what its stores say.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "core/book/book.h"
#include "core/desk/parts/parts.h"
#include "core/desk/session.h"
#include "core/desk/shell.h"

namespace saltrafter::desk {

class Program {
 public:
  // Reads the first store and can draw at once. Without a second store pass an empty one.
  Program(Shell shell, book::FirstStore first, book::SecondStore second, words::Language language,
          parts::Host::Renderer renderer);

  parts::Host& host() { return host_; }

  // The screen's size and the device's wish for light or dark; the maker's own look goes before both.
  void set_display(const parts::Display& display);
  void set_device_theme(parts::ThemeName theme);

  // One frame, `now_s` on a steady clock; call when wants_frame() says so or the library needs one.
  void draw(double now_s);
  bool wants_frame() const { return host_.wants_frame(); }

  // Saving and a slice of long work of about `budget_ms`. Call after every frame and every answer of a store,
  // drawing or not. Returns the milliseconds after which to call again unless something happens before: 0
  // while long work waits, else until a write is due again or until midnight, when the screens say another day.
  double work(double budget_ms);

  // The second store's answers.
  void second_store_loaded(const std::vector<book::SlotText>& slots);
  void second_store_failed();
  void put_done(std::uint64_t ticket, bool ok);

  // A file chosen, dropped or named; what is wrong with it is said on the screen.
  void file_opened(const std::string& name, const std::string& text);

  // Where the maker is, for the address bar: "bench", "rails/BATCH" ... An address that names no place changes
  // nothing.
  std::string address() const;
  void go_to(std::string_view address);

  // The nodes of the last frame as lines for a mirror, in reading order; fields parted by U+001F, lines by U+001E:
  // id, role, name, value, description, x, y, width, height, state letters (f focusable, F focused, d not ready,
  // s selected, i invalid, c current, e expanded, o off-screen, v verbatim), level, min, max, now (empty: none).
  std::string mirror() const;
  std::uint64_t mirror_version() const { return host_.nodes_version(); }

  Session& session() { return session_; }
  const Session& session() const { return session_; }

 private:
  void keep_whereabouts();
  void apply_look();

  Session session_;
  parts::Host host_;
  parts::Display display_;
  parts::ThemeName device_theme_ = parts::ThemeName::paper;
  bool awake_ = false;  // the shell was asked to keep the screen lit
  bool drawn_ = false;  // since the whereabouts were last kept
  std::string whereabouts_;
  Date day_ = session_.today();  // that the screens show
};

}  // namespace saltrafter::desk

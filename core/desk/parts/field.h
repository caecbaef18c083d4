// Fields: a number, words, a day. Kept as typed; judged on leaving, never while typing.
//
// Half-typed text lives in the host. `judge` is called with the text while it is typed, for the answer
// beneath, and on leaving, for the error; a text without error is returned once as `committed`, one with an
// error stays.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/desk/parts/fonts/fonts.h"
#include "core/desk/parts/page.h"

namespace saltrafter::parts {

struct Judged {
  words::Text answer;  // beneath the field: "1 212 g"
  words::Text error;   // what is wrong, what to type, what holds meanwhile
};

struct Field {
  Key key;
  words::Text label;
  std::string value;   // what stands in it while nobody types
  words::Text unit;    // at the right
  words::Text answer;  // beneath while nobody types
  words::Text error;   // wrong for a reason that the screen knows; shown while nobody types
  std::function<Judged(const std::string& typed)> judge;
  bool may_stay_empty = true;  // an empty text is committed without being judged
  std::optional<double> min;   // for the access mirror
  std::optional<double> max;
  // On the pad, over its keys: other units that what is typed may be in (the first is the field's own), a step
  // for two keys that take off and add on, and the value that stood here last.
  std::vector<std::string> units;
  double step = 0.0;
  std::string last;
  bool large = false;   // the figure of a screen for wet hands: as wide as the column
  words::Text pad_act;  // on the pad instead of "Done"
  bool pad_ready = true;
};

struct Typed {
  std::optional<std::string> committed;
  bool acted = false;    // committed by Enter or by the pad's act: what the field is for may be done at once
  bool by_pad = false;   // of these by the pad's
  bool editing = false;
  bool changed = false;  // typed in since it got the focus
  std::string text;      // as it stands now
  std::string judged;    // the same with the unit chosen for it
};

// The face of text_field's letters, for a shell that sets them itself; their size is half the field's height.
FontData text_field_face();

Typed number_field(Page& page, const Field& field);
Typed text_field(Page& page, const Field& field);

struct DateField {
  Key key;
  words::Text label;
  std::optional<Date> value;
  Date today;
  bool future_refused = true;  // it has happened
  words::Text future_error;    // what is said then
};

// Takes 25.11., 25 Nov, -2, yesterday ...; echoes the whole day. Bare words Today and Yesterday beside it.
std::optional<Date> date_field(Page& page, const DateField& field);

}  // namespace saltrafter::parts

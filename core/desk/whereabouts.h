// Where the maker is and what is half done: an address for the browser's bar, and a text that outlasts a
// reload.
//
// Neither is part of the document: nothing here is undone, merged or shared, and losing it loses no entry
// that was kept.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/desk/parts/parts.h"
#include "core/desk/session.h"

namespace saltrafter::desk {

// "bench", "bench/RECIPE", "bench/RECIPE/hang", "rails/BATCH", "rails/BATCH/PIECE", "round" ...
std::string address_of(const View& view);
// What an address means, with what is open in the other places left as `now` has it; nothing when it names no
// place.
std::optional<View> view_at(std::string_view address, const View& now);

// The look, the place, scroll positions, half-typed fields, hanging forms and weighings under way.
std::string write_whereabouts(const Session& session, const parts::Host& host);
// Takes them up again at the start. A text that is not one changes nothing; records that are gone are left
// out when the screen is drawn.
void take_up_whereabouts(std::string_view text, Session& session, parts::Host& host);

}  // namespace saltrafter::desk

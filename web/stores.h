// The two stores of the page: local storage, which answers at once and may lose its last seconds when the browser
// is killed, and a database (IndexedDB), which answers later and keeps what it has confirmed. See slots.js.
#pragma once

#include "core/book/book.h"

namespace saltrafter::web {

book::FirstStore local_storage();

// Answers reach the program through saltrafter_put_done.
book::SecondStore database();

// Slots as slots.js lists them: key, text, key, text ...
std::vector<book::SlotText> read_slots(const std::string& listed);

}  // namespace saltrafter::web

// From an id and named arguments to a text; and what a Result's Error says in words.
//
// A catalogue text may hold {name}, plural forms chosen by a count {n|one piece|{n} pieces}, and *bold*.
#pragma once

#include <initializer_list>
#include <optional>
#include <span>
#include <string_view>

#include "core/base/base.h"
#include "core/words/language.h"
#include "core/words/text.h"

namespace saltrafter::words {

enum class Id {
#define SALTRAFTER_TEXT(id, english) id,
#include "core/words/english.inc"
#undef SALTRAFTER_TEXT
};

inline constexpr int kIdCount = 0
#define SALTRAFTER_TEXT(id, english) +1
#include "core/words/english.inc"
#undef SALTRAFTER_TEXT
    ;

// A named argument. A count chooses plural forms and is written without decimals.
struct Arg {
  std::string_view name;
  Text text;
  double count = 0.0;
  bool is_count = false;
};

Arg arg(std::string_view name, Text text);
Arg arg(std::string_view name, std::string_view verbatim_text);  // the maker's words, or a figure
Arg count(std::string_view name, int n);

// The text of an id. An argument that the text wants and does not get shows as "{name?}".
Text text(const Language& language, Id id, std::initializer_list<Arg> args = {});
// The same with arguments that are only known as data; those that the text does not want are left out.
Text text(const Language& language, Id id, std::span<const Arg> args);

// The id of that name in the catalogue: ids of tables and of findings are names of texts.
std::optional<Id> find(std::string_view name);

// Id's text as it stands in the catalogue, for tests and translators.
std::string_view pattern(Id id);

// What is wrong and what to type, for the line under a field.
Text sentence(const Language& language, const Error& error);

}  // namespace saltrafter::words

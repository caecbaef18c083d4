#include "core/desk/parts/list.h"

#include <string>

#include "core/desk/parts/cluster.h"
#include "core/desk/parts/field.h"
#include "core/desk/parts/prose.h"

namespace saltrafter::parts {
namespace {

constexpr std::size_t kSearchFrom = 12;
constexpr std::size_t kLettersFrom = 40;

std::string first_letter(const Row& row) {
  const std::string name = words::folded(row.name.plain());
  return name.empty() ? std::string() : name.substr(0, cluster_end(name, 0));
}

// What is looked for now; kept between frames, also while nobody types.
std::string looked_for(Page& page, Key key) {
  const words::Language& l = page.language();
  Host& host = page.host();
  Field field;
  field.key = key / "search";
  field.label = words::text(l, words::Id::list_search);
  field.value = host.kept_text(field.key.value());
  const Typed typed = text_field(page, field);
  if (typed.committed) host.keep_text(field.key.value(), *typed.committed);
  return typed.editing && typed.changed ? typed.text : host.kept_text(field.key.value());
}

}  // namespace

std::optional<int> list(Page& page, const List& list) {
  const words::Language& l = page.language();
  std::string wanted;
  if (list.rows.size() >= kSearchFrom) wanted = looked_for(page, list.key);
  const std::string word = words::folded(wanted);
  std::vector<int> shown;
  for (int i = 0; i < static_cast<int>(list.rows.size()); ++i) {
    const Row& row = list.rows[static_cast<std::size_t>(i)];
    const std::string in = words::folded(row.name.plain() + " " + row.fact.plain());
    if (word.empty() || in.find(word) != std::string::npos) shown.push_back(i);
  }
  if (list.rows.size() >= kSearchFrom) {
    page.paragraph(words::text(l, words::Id::list_showing,
                               {words::count("n", static_cast<int>(shown.size())),
                                words::count("all", static_cast<int>(list.rows.size()))}),
                   type::soft, Role::status);
    page.space(8.0);
  }
  if (shown.empty() && !word.empty()) {
    paragraph(page, words::text(l, words::Id::list_nothing, {words::arg("name", wanted)}));
    if (act(page, {list.key / "all", words::text(l, words::Id::list_all), ActKind::other, true, {}})) {
      page.host().drop_field((list.key / "search").value());
      page.host().keep_text((list.key / "search").value(), {});
    }
    return std::nullopt;
  }
  const bool letters = list.rows.size() >= kLettersFrom && word.empty();
  std::optional<int> pressed;
  std::string letter;
  for (const int i : shown) {
    const Row& row = list.rows[static_cast<std::size_t>(i)];
    if (letters && first_letter(row) != letter) {
      letter = first_letter(row);
      page.space(16.0);
      page.paragraph(words::verbatim(letter), type::small, Role::heading, 2);
    }
    if (parts::row(page, row)) pressed = i;
  }
  return pressed;
}

}  // namespace saltrafter::parts

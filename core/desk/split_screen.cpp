// The Rails: a mix that becomes several batches before it hangs: other casings, other flavours.
#include <string>
#include <utility>

#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

// One more, of what the others leave; where that is nothing all become equal.
void add_part(std::vector<PartDraft>& parts, std::string name) {
  double left = 1.0;
  for (const PartDraft& part : parts) left -= part.share;
  parts.push_back({std::move(name), left});
  constexpr double kLeast = 0.001;
  if (left >= kLeast) return;
  for (PartDraft& part : parts) part.share = 1.0 / static_cast<double>(parts.size());
}

}  // namespace

void draw_split(Screen& s) {
  const auto open = open_batch(s, Say::split_title);
  if (!open) return;
  Session& session = s.session;
  const std::string& name = open->batch->name;
  std::vector<PartDraft>& all = session.drafts.batches[open->id].parts;
  if (all.empty())
    all = {{name, 0.5},
           {s.say(Say::split_name, {words::arg("name", name), words::count("n", 2)}).plain(), 0.5}};
  const Grams mix = open->judged->sheet.total;
  parts::lead(s.page, s.say(Say::split_lead, {words::arg("mass", grams(s.l, mix))}));
  parts::paragraph(s.page, s.say(Say::split_what));
  const parts::Key here = key("split") / open->id;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const parts::Key part = here / static_cast<int>(i);
    parts::gap(s.page, 24.0);
    parts::second_heading(s.page, s.say(Say::split_part, {words::count("n", static_cast<int>(i) + 1)}),
                          s.say(Say::split_mass, {words::arg("mass", grams(s.l, mix * all[i].share))}));
    if (const auto called = words_entry(s, part / "name", Say::split_called, all[i].name))
      all[i].name = *called;
    if (const auto share = number_entry(s, part / "share", Say::split_share,
                                        {"share", NumberKind::share, "%", 0.001, 0.999}, all[i].share, 2)) {
      all[i].share = *share;
      // Of two the other takes what is left.
      if (all.size() == 2) all[1 - i].share = 1.0 - *share;
    }
    if (all.size() > 2 &&
        parts::act(s.page, {part / "remove", s.say(Say::split_remove), parts::ActKind::bare, true, {}})) {
      all.erase(all.begin() + static_cast<std::ptrdiff_t>(i));
      break;
    }
  }
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {here / "add", s.say(Say::split_add), parts::ActKind::other, true, {}})) {
    const int n = static_cast<int>(all.size()) + 1;
    add_part(all, s.say(Say::split_name, {words::arg("name", name), words::count("n", n)}).plain());
  }
  std::vector<double> shares;
  double sum = 0.0;
  for (const PartDraft& part : all) {
    shares.push_back(part.share);
    sum += part.share;
  }
  const bool may = plan::split(*open->batch, open->id, shares).ok();
  const words::Text not_whole = s.say(Say::split_not_whole, {words::arg("sum", per_cent(s.l, sum, 2))});
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {here / "do", s.say(Say::split_do), parts::ActKind::main, may, not_whole})) {
    const int count = static_cast<int>(all.size());
    const Result<Done> done = session.split_batch(open->id, all);
    if (!done.ok()) return session.tell_wrong(words::sentence(s.l, done.error()));
    all.clear();
    session.open_rails(RailsLeaf::batch);
    session.tell_edit(s.say(Say::split_done, {words::arg("name", name), words::count("n", count)}));
  }
  draw_history(s);
}

}  // namespace saltrafter::desk

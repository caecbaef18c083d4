// The Rails: what is wanted of the pieces of a batch, in any mix.
#include <algorithm>
#include <array>

#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using drying::Wish;
using drying::WishKind;

struct WishRow {
  WishKind kind;
  std::string_view name;
  Say label, beneath;
  NumberRule rule;
  int decimals;
};

const std::array<WishRow, 5>& wish_rows() {
  static const std::array<WishRow, 5> kRows = {{
      {WishKind::loss, "loss", Say::wish_loss, Say::wish_loss_what, {"loss", NumberKind::share, "%", 0.01, 0.9}, 1},
      {WishKind::moisture_protein_ratio, "ratio", Say::wish_ratio, Say::wish_ratio_what,
       {"moisture_protein_ratio", NumberKind::plain, "", 0.1, 10.0}, 2},
      {WishKind::moisture, "moisture", Say::wish_moisture, Say::wish_moisture_what,
       {"moisture", NumberKind::share, "%", 0.05, 0.9}, 1},
      {WishKind::activity, "activity", Say::wish_activity, Say::wish_activity_what,
       {"activity", NumberKind::plain, "", 0.3, 0.999}, 3},
      {WishKind::least_days, "days", Say::wish_days, Say::wish_days_what, {"days", NumberKind::days, "d", 0.0, 3650.0}, 0},
  }};
  return kRows;
}

// In the order of the kinds, one a kind.
void set_wish(std::vector<Wish>& wishes, WishKind kind, const std::optional<double>& value) {
  wishes.erase(std::remove_if(wishes.begin(), wishes.end(), [kind](const Wish& wish) { return wish.kind == kind; }),
               wishes.end());
  if (!value) return;
  const auto after = std::find_if(wishes.begin(), wishes.end(), [kind](const Wish& wish) { return wish.kind > kind; });
  wishes.insert(after, Wish{kind, *value});
}

}  // namespace

void draw_wanted(Screen& s) {
  const auto open = open_batch(s, Say::wanted_title);
  if (!open) return;
  plan::Batch after = *open->batch;
  parts::lead(s.page, s.say(Say::wanted_lead));
  if (after.wishes.empty()) {
    parts::paragraph(s.page, s.say(Say::wanted_by_recipe,
                                   {words::arg("loss", per_cent(s.l, after.made_from.wanted_loss, 0))}));
  }
  const parts::Key here = key("wanted") / open->id;
  bool changed = false;
  for (const WishRow& row : wish_rows()) {
    std::optional<double> stored;
    for (const Wish& wish : after.wishes) {
      if (wish.kind == row.kind) stored = wish.value;
    }
    if (const auto value =
            number_or_nothing(s, here / row.name, row.label, row.beneath, row.rule, stored, row.decimals)) {
      set_wish(after.wishes, row.kind, *value);
      changed = true;
    }
  }
  if (changed) s.session.change_batch(open->id, after, "edit_wanted");
  draw_history(s);
}

}  // namespace saltrafter::desk

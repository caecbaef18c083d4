#include "core/desk/chamber_view.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using drying::Beside;

constexpr std::size_t kNamed = 8;  // pieces in the table

constexpr std::array<Named<Beside>, 3> kFates = {{{Beside::goes_on, Say::beside_goes_on},
                                                  {Beside::stalls, Say::beside_does_stall},
                                                  {Beside::takes_up, Say::beside_does_take_up}}};

// "49 to 5 Pa".
words::Text change_words(const Screen& s, double before, const words::Text& after, int decimals) {
  return s.say(Say::beside_change,
               {words::arg("before", words::number(s.l, before, decimals)), words::arg("after", after)});
}

void draw_check(Screen& s, const HangsTogether& all, const drying::HangCheck& check) {
  const auto water = [&s](double g_h) { return words::measure(s.l, g_h, g_h < 10.0 ? 1 : 0, "g"); };
  const words::Arg after = words::arg("after", water(check.after_g_h));
  if (check.hanging.empty()) return parts::paragraph(s.page, s.say(Say::beside_alone, {after}));
  parts::paragraph(s.page, s.say(Say::beside_water, {words::arg("before", water(check.before_g_h)), after}));
  std::vector<drying::PullChange> pieces = check.hanging;
  std::stable_sort(pieces.begin(), pieces.end(),
                   [](const drying::PullChange& a, const drying::PullChange& b) {
                     return a.pull_after_pa < b.pull_after_pa;
                   });
  const auto count = [&pieces](Beside fate) {
    return static_cast<int>(std::count_if(
        pieces.begin(), pieces.end(),
        [fate](const drying::PullChange& piece) { return drying::beside_fresh(piece) == fate; }));
  };
  const int wet = count(Beside::takes_up);
  const int still = count(Beside::stalls);
  parts::gap(s.page, 8.0);
  if (wet > 0) parts::paragraph(s.page, s.say(Say::beside_takes_up, {words::count("n", wet)}));
  if (still > 0) parts::paragraph(s.page, s.say(Say::beside_stalls, {words::count("n", still)}));
  if (wet + still == 0) parts::paragraph(s.page, s.say(Say::beside_fine));
  const auto points = static_cast<int>(std::lround(100.0 * drying::kHumidityRise.value));
  parts::gap(s.page, 8.0);
  parts::reason(s.page, s.say(Say::beside_rise, {words::count("n", points)}));
  parts::gap(s.page, 8.0);
  std::vector<parts::TableRow> rows;
  for (const drying::PullChange& piece : pieces) {
    if (rows.size() == kNamed) break;
    rows.push_back(
        {std::nullopt,
         {piece_and_batch(s, all, piece.piece), s.say(name_of(kFates, drying::beside_fresh(piece))),
          change_words(s, piece.pull_before_pa, pascal(s.l, Pascal(piece.pull_after_pa)), 0),
          change_words(s, 100.0 * piece.daily_loss_before, per_cent(s.l, piece.daily_loss_after, 2), 2)}});
  }
  parts::table(s.page,
               {{s.say(Say::set_point_piece), false},
                {s.say(Say::beside_fate), false},
                {s.say(Say::beside_pull), true},
                {s.say(Say::beside_daily), true}},
               rows, s.say(Say::beside_order));
  if (const int more = static_cast<int>(pieces.size() - rows.size()); more > 0)
    parts::reason(s.page, s.say(Say::beside_more, {words::count("n", more)}));
}

}  // namespace

words::Text piece_and_batch(const Screen& s, const HangsTogether& all, const Id& id) {
  for (const auto& [batch_id, batch] : all.batches) {
    const plan::Piece* piece = plan::find_piece(*batch, id);
    if (piece == nullptr) continue;
    const auto alike =
        std::count_if(all.batches.begin(), all.batches.end(),
                      [&name = batch->name](const auto& other) { return other.second->name == name; });
    return s.say(alike > 1 ? Say::piece_of_date : Say::piece_of,
                 {words::arg("name", batch->name), words::arg("date", words::day_month(s.l, batch->hung_on)),
                  words::count("n", piece->number)});
  }
  return {};
}

bool draw_under_way(Screen& s, parts::Key here, bool stopped, const Progress& progress,
                      const words::Text& what) {
  if (stopped) {
    parts::paragraph(s.page, s.say(Say::set_point_stopped));
    parts::gap(s.page, 8.0);
    if (parts::act(s.page, {here / "resume", s.say(Say::set_point_resume), parts::ActKind::other, true, {}}))
      s.session.forecasts.resume();
    return false;
  }
  if (progress.total == 0) return true;
  const double share = static_cast<double>(progress.done) / progress.total;
  if (parts::progress(s.page, here / "progress", what, share)) s.session.forecasts.stop();
  return false;
}

void draw_beside(Screen& s, parts::Key here, const plan::Batch& fresh, const plan::Air& air) {
  Session& session = s.session;
  if (fresh.hung_on != session.today()) return;
  HangsTogether all = session.hangs_together();
  // One air for all of them: what is said on this form.
  all.air = air;
  all.fresh = fresh;
  const auto answer = session.forecasts.hang_check(all, session.hands());
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::beside_title));
  if (!draw_under_way(s, here / "beside", answer.stopped, answer.progress,
                        s.say(answer.forecasting ? Say::beside_forecasting : Say::beside_working))) {
    return;
  }
  if (answer.result != nullptr) draw_check(s, all, *answer.result);
}

}  // namespace saltrafter::desk

#include "core/desk/piece_forms.h"

#include <algorithm>
#include <cmath>

namespace saltrafter::desk {
namespace {

using Say = words::Id;

}  // namespace

std::optional<OpenPiece> open_piece(Screen& s, words::Id heading) {
  Session& session = s.session;
  OpenPiece open;
  open.open.id = session.view.batch;
  open.open.batch = session.book.batch(open.open.id);
  if (open.open.batch) open.piece = plan::find_piece(*open.open.batch, session.view.piece);
  if (open.piece == nullptr) {
    session.open_rails(RailsLeaf::batch);
    return std::nullopt;
  }
  if (parts::way_back(s.page, {key("rails") / "up",
                               s.say(Say::back_to_batch, {words::arg("name", open.open.batch->name)}),
                               kBare,
                               true,
                               {}})) {
    session.open_rails(RailsLeaf::batch);
  }
  parts::heading(s.page, s.say(heading, {words::count("n", open.piece->number)}));
  draw_notice(s);
  open.open.judged = session.judged(open.open.id);
  return open;
}

words::Text piece_names(const Screen& s, const plan::Batch& batch, const std::vector<Id>& pieces) {
  std::vector<words::Text> numbers;
  int last = 0;
  for (const plan::Piece& piece : batch.pieces) {
    if (std::find(pieces.begin(), pieces.end(), piece.id) == pieces.end()) continue;
    last = piece.number;
    numbers.push_back(words::number(s.l, piece.number, 0));
  }
  if (numbers.size() < 2) return s.say(Say::piece_n, {words::count("n", last)});
  return s.say(Say::pieces_as_one, {words::arg("numbers", with_commas(numbers))});
}

words::Text piece_fault(const Screen& s, const plan::Batch& batch, const Id& piece, Date day,
                        const Error& error) {
  const auto date = [&s](Date shown) { return words::arg("date", words::day_month(s.l, shown)); };
  if (error.field == "hung_on") return s.say(Say::fault_not_hung);
  if (error.field == "date") {
    if (day < batch.hung_on) return s.say(Say::fault_before_hanging, {date(batch.hung_on)});
    const plan::TakenDown* down = plan::find_taken_down(batch, piece);
    if (down != nullptr && day > down->date) return s.say(Say::fault_after_down, {date(down->date)});
    return s.say(Say::fault_day_from, {date(add_days(batch.hung_on, Days(error.low.value_or(0.0))))});
  }
  if (error.code == ErrorCode::out_of_range && error.low && error.high) {
    return s.say(Say::fault_mass, {words::arg("low", grams(s.l, Grams(*error.low))),
                                   words::arg("high", grams(s.l, Grams(*error.high)))});
  }
  return words::sentence(s.l, error);
}

bool day_entry(Screen& s, parts::Key at, words::Id label, std::optional<Date>& day) {
  const Date today = s.session.today();
  parts::gap(s.page, 24.0);
  if (const auto chosen = parts::date_field(s.page, {at, s.say(label), day.value_or(today), today, true, {}}))
    day = *chosen;
  const parts::FieldState* state = s.page.host().field(at.value());
  return state == nullptr || !state->kept;
}

MassTyped mass_entry(Screen& s, const MassEntry& entry, std::string& draft) {
  const NumberRule rule{"mass", NumberKind::mass, "g", entry.least.value, entry.most.value};
  const words::Language language = s.l;
  parts::Field field;
  field.key = entry.key;
  field.label = s.say(entry.label);
  field.value = draft;
  field.unit = words::verbatim("g");
  field.large = entry.large;
  field.pad_act = entry.pad_act;
  field.units = {"g", "oz", "lb"};
  field.last = entry.last;
  field.judge = [language, rule, answer = entry.answer](const std::string& typed) {
    parts::Judged judged;
    const Result<TypedNumber> number = parse_number(typed, rule);
    if (!number.ok()) {
      judged.error = words::sentence(language, number.error());
    } else if (answer) {
      judged.answer = answer(Grams(number.value().value));
    }
    return judged;
  };
  field.answer = draft.empty() ? entry.what : field.judge(draft).answer;
  parts::gap(s.page, 16.0);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (typed.committed) {
    // What was typed in another unit stands in the field's own from now on.
    const Result<TypedNumber> taken = parse_number(*typed.committed, rule);
    const bool in_grams = !taken.ok() || taken.value().unit == rule.unit;
    draft = in_grams ? *typed.committed : typed_number(s.l, taken.value().value, 1);
  }
  MassTyped result{std::nullopt, typed.editing && typed.changed, false, typed.acted, typed.by_pad};
  const Result<TypedNumber> number = parse_number(typed.editing ? typed.judged : draft, rule);
  if (number.ok()) result.mass = Grams(number.value().value);
  const parts::FieldState* state = s.page.host().field(entry.key.value());
  result.refused = state != nullptr && state->kept;
  return result;
}

MoistureTyped moisture_entry(Screen& s, const OpenPiece& open, parts::Key at, std::optional<double> loss,
                             std::string& draft) {
  const NumberRule rule{"moisture", NumberKind::share, "%", 0.05, 0.85};
  const Result<TypedNumber> kept = parse_number(draft, rule);
  MoistureTyped typed;
  if (kept.ok()) typed.share = kept.value().value;
  const auto taken =
      number_or_nothing(s, at, Say::reading_moisture, Say::moisture_what, rule, typed.share, 1);
  if (taken) {
    typed.share = *taken;
    draft = *taken ? typed_number(s.l, 100.0 * **taken, 1) + " %" : std::string();
  }
  const parts::FieldState* state = s.page.host().field(at.value());
  typed.refused = state != nullptr && state->kept;
  if (!typed.share || !open.open.judged || open.open.judged->error || !loss) return typed;
  const plan::MoistureSeen seen = plan::moisture_seen(open.open.judged->sheet.composition, *loss, *typed.share);
  const words::Arg expected = words::arg("expected", per_cent(s.l, seen.expected, 0));
  if (!seen.odd) return typed;
  switch (*seen.odd) {
    case plan::OddMoisture::above_hanging: typed.odd = s.say(Say::moisture_above_hanging, {expected}); break;
    case plan::OddMoisture::above: typed.odd = s.say(Say::moisture_above, {expected}); break;
    case plan::OddMoisture::below: typed.odd = s.say(Say::moisture_below, {expected}); break;
  }
  return typed;
}

std::int64_t instant_on(const Screen& s, Date day) {
  constexpr int kNoon = 12 * 60;
  const Ports& ports = s.session.book.ports();
  return day == s.session.today() ? ports.now_utc_ms() : instant_of(ports, day, kNoon);
}

const drying::Forecast* forecast_of(Screen& s, const Id& id,
                                    const std::shared_ptr<const plan::Batch>& batch) {
  return s.session.forecasts.ask(id, batch, s.session.today(), s.session.hands()).forecast;
}

double finished_loss(Screen& s, const Id& id, const std::shared_ptr<const plan::Batch>& batch) {
  if (batch->hung) {
    if (const drying::Forecast* forecast = forecast_of(s, id, batch)) return forecast->needed.loss;
  }
  const Result<double> wanted = plan::wanted_loss(*batch);
  return wanted.ok() ? std::max(0.0, wanted.value()) : batch->made_from.wanted_loss;
}

void tare_entry(Screen& s, const Id& id, const plan::Batch& batch, const plan::Piece& piece) {
  // As little meat as a gram must be left of what hung.
  NumberEntry entry{key("tare") / piece.id,
                    s.say(Say::piece_tare, {words::count("n", piece.number)}),
                    {"tare", NumberKind::mass, "g", 0.0, piece.hung.value - 1.0},
                    {},
                    1,
                    {"g", "oz", "lb"}};
  if (piece.tare) entry.stored = piece.tare->value;
  entry.may_stay_empty = true;
  entry.what = s.say(piece.tare ? Say::piece_tare_known : Say::piece_tare_what);
  plan::Batch after = batch;
  bool changed = false;
  if (const auto taken = enter(s, entry)) {
    after.pieces[*place_of(after.pieces, piece.id)].tare =
        *taken ? std::optional<Grams>(Grams(**taken)) : std::nullopt;
    changed = true;
  }
  const bool differ =
      piece.tare && std::any_of(batch.pieces.begin(), batch.pieces.end(), [&](const plan::Piece& p) {
        return p.tare != piece.tare && *piece.tare < p.hung;
      });
  if (differ && parts::act(s.page, {key("tare") / piece.id / "all",
                                    s.say(Say::piece_tare_all, {words::arg("mass", grams(s.l, *piece.tare))}),
                                    kBare,
                                    true,
                                    {}})) {
    for (plan::Piece& other : after.pieces) {
      if (*piece.tare < other.hung) other.tare = piece.tare;
    }
    changed = true;
  }
  if (changed) s.session.change_batch(id, after, "edit_piece");
}

bool draw_piece_acts(Screen& s, const plan::Piece& piece, const std::optional<parts::Act>& more) {
  std::vector<parts::Act> acts = {{key("piece") / "done_to", s.say(Say::piece_done_to), kBare, true, {}},
                                  {key("piece") / "down", s.say(Say::take_it_down), kBare, true, {}}};
  if (more) acts.push_back(*more);
  parts::gap(s.page, 16.0);
  const std::optional<int> pressed = parts::acts(s.page, acts);
  if (pressed == 0) s.session.open_rails(RailsLeaf::piece, piece.id);
  if (pressed == 1) s.session.open_rails(RailsLeaf::take_down, piece.id);
  return pressed == 2;
}

}  // namespace saltrafter::desk

// Round and Shelf as far as they go, and the desktop's path screen.
#include <algorithm>
#include <array>

#include "core/desk/screens.h"
#include "core/desk/table_rows.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

constexpr int kWeighEvery_d = 7;       // common practice, no source: once a week

// From a place that does not do its work yet to what works today.
void lead_on(Screen& s) {
  const bool hangs = !s.session.book.ids(book::Kind::batch).empty();
  parts::gap(s.page, 16.0);
  if (parts::act(s.page, {key("lead_on"), s.say(hangs ? Say::go_to_rails : Say::go_to_bench),
                          parts::ActKind::other, true, {}})) {
    s.session.go_to(hangs ? Place::rails : Place::bench);
  }
}

// What stands on the Shelf, each with its own page.
void draw_shelf_rows(Screen& s) {
  Session& session = s.session;
  int rows = 0;
  for (const ReferenceTable& table : reference_tables()) rows += static_cast<int>(table.rows(s.l).size());
  const int own = static_cast<int>(session.book.supplies().size());
  const int count = static_cast<int>(reference_tables().size());
  const words::Text tables = s.say(Say::shelf_tables_fact, {words::count("n", count), words::count("rows", rows)});
  const words::Text supplies =
      own == 0 ? s.say(Say::shelf_supplies_none) : s.say(Say::shelf_supplies_fact, {words::count("n", own)});
  const std::array<std::pair<parts::Row, ShelfLeaf>, 3> leads = {
      {{{key("shelf") / "supplies", s.say(Say::supplies_title), supplies, {}, false}, ShelfLeaf::supplies},
       {{key("shelf") / "rules", s.say(Say::rules_title), whose_rules(s), {}, false}, ShelfLeaf::rules},
       {{key("shelf") / "tables", s.say(Say::tables_title), tables, {}, false}, ShelfLeaf::tables}}};
  parts::list_rule(s.page);
  for (const auto& [row, leaf] : leads) {
    if (parts::row(s.page, row)) session.open_shelf(leaf);
  }
}

void draw_look(Screen& s) {
  Look& look = s.session.look;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::look_title), s.say(Say::look_whose));
  const std::vector<parts::Choice> themes = {{key("look") / "device", s.say(Say::look_device), {}},
                                             {key("look") / "paper", s.say(Say::look_paper), {}},
                                             {key("look") / "cellar", s.say(Say::look_cellar), {}}};
  const int theme = look.theme ? 1 + static_cast<int>(*look.theme) : 0;
  if (const auto chosen = parts::one_of(s.page, s.say(Say::look_theme), themes, theme)) {
    look.theme.reset();
    if (*chosen > 0) look.theme = static_cast<parts::ThemeName>(*chosen - 1);
  }
  constexpr std::array<double, 4> kSizes = {1.0, 1.25, 1.5, 2.0};
  std::vector<parts::Choice> sizes;
  int size = 0;
  for (std::size_t i = 0; i < kSizes.size(); ++i) {
    sizes.push_back({key("look") / static_cast<int>(i), per_cent(s.l, kSizes[i], 0), {}});
    if (look.text_scale >= kSizes[i]) size = static_cast<int>(i);
  }
  parts::gap(s.page, 16.0);
  if (const auto chosen = parts::one_of(s.page, s.say(Say::look_size), sizes, size)) {
    look.text_scale = kSizes[static_cast<std::size_t>(*chosen)];
  }
}

}  // namespace

namespace {

// What a batch asks for today, the most pressing first.
struct Asked {
  parts::Task task;
  RailsLeaf leaf = RailsLeaf::batch;
};

// A fermentation under way asks for readings and has a latest hour; it cannot be put off.
void ask_souring(const Screen& s, const Id& id, const plan::Batch& batch, std::vector<Asked>& asked) {
  const plan::StagesNow now = plan::stages_now(batch);
  if (!now.on || batch.made_from.stages[*now.on].kind != recipe::StageKind::ferment) return;
  const safety::Souring souring =
      safety::souring(batch.evidence, s.session.chosen(), s.session.book.ports().now_utc_ms(),
                      batch.made_from.stages);
  if (souring.reached_utc_ms && !souring.near) return;
  parts::Task task;
  task.sentence = s.say(Say::round_sour, {words::arg("name", batch.name)});
  task.because = s.say(Say::round_sour_why);
  if (souring.act_by_utc_ms && souring.hours_left) {
    const words::Arg day = words::arg("day", words::day_weekday(s.l, day_at(s.session.book.ports(), *souring.act_by_utc_ms)));
    const words::Arg time = words::arg("time", clock_time(s, *souring.act_by_utc_ms));
    task.because = s.say(*souring.hours_left < 0.0 ? Say::souring_over : Say::round_sour_by, {day, time});
  }
  task.urgent = true;
  task.act = parts::Act{key("round") / id / "sour", s.say(Say::round_sour_go), parts::ActKind::other, true, {}};
  asked.push_back({task, RailsLeaf::souring});
}

void ask_stops(const Screen& s, const Id& id, const plan::Batch& batch, std::vector<Asked>& asked) {
  const std::shared_ptr<const BatchJudged> judged = s.session.judged(id);
  const safety::Stands& stands = judged->stands;
  if (!stands.by_itself) return;
  parts::Task task;
  task.sentence = s.say(Say::round_held, {words::arg("name", batch.name)});
  task.because = standing_sentence(s, stands);
  task.urgent = true;
  task.act = parts::Act{key("round") / id / "held", s.say(Say::round_held_go), parts::ActKind::other, true, {}};
  asked.push_back({task, RailsLeaf::standing});
}

void ask_weighing(const Screen& s, const Id& id, const plan::Batch& batch, std::vector<Asked>& asked) {
  if (!batch.hung) return;
  const Date today = s.session.today();
  int since = days_between(batch.hung_on, today);
  for (const drying::Weighing& weighing : batch.weighings) {
    since = std::min(since, days_between(weighing.date, today));
  }
  if (since < kWeighEvery_d) return;
  parts::Task task;
  task.sentence = s.say(Say::round_weigh, {words::arg("name", batch.name)});
  task.because = batch.weighings.empty() ? s.say(Say::round_weigh_never)
                                         : s.say(Say::round_weigh_why, {words::count("n", since)});
  task.act = parts::Act{key("round") / id, s.say(Say::round_go), parts::ActKind::other, true, {}};
  asked.push_back({task, RailsLeaf::weigh});
}

void ask_weigh_out(const Screen& s, const Id& id, const plan::Batch& batch, std::vector<Asked>& asked) {
  if (batch.hung || batch.weighed.empty() || batch.weighed.size() >= batch.made_from.lines.size()) return;
  parts::Task task;
  task.sentence = s.say(Say::round_weigh_out, {words::arg("name", batch.name)});
  task.because = s.say(Say::round_weigh_out_why,
                       {words::count("n", static_cast<int>(batch.made_from.lines.size() - batch.weighed.size()))});
  task.act = parts::Act{key("round") / id / "weigh_out", s.say(Say::round_weigh_out_go), parts::ActKind::other, true, {}};
  asked.push_back({task, RailsLeaf::steps});
}

}  // namespace

void draw_round(Screen& s) {
  Session& session = s.session;
  parts::heading(s.page, s.say(Say::round_title));
  draw_notice(s);
  int tasks = 0;
  constexpr std::array kAsks = {ask_souring, ask_stops, ask_weigh_out, ask_weighing};
  for (const auto ask : kAsks) {
    for (const Id& id : session.book.ids(book::Kind::batch)) {
      const auto batch = session.book.batch(id);
      if (!batch) continue;
      const safety::Standing standing = session.judged(id)->stands.standing;
      if (standing == safety::Standing::discarded || standing == safety::Standing::released) continue;
      std::vector<Asked> asked;
      ask(s, id, *batch, asked);
      for (const Asked& one : asked) {
        ++tasks;
        if (!parts::task(s.page, one.task)) continue;
        if (one.leaf == RailsLeaf::steps) {
          session.go_to_weigh_out(id);
        } else {
          session.go_to_batch(id);
          if (one.leaf != RailsLeaf::batch) session.open_rails(one.leaf);
        }
      }
    }
  }
  if (tasks == 0) parts::lead(s.page, s.say(Say::round_nothing));
  parts::gap(s.page, 24.0);
  parts::reason(s.page, s.say(Say::round_later));
  lead_on(s);
  draw_history(s);
}

void draw_shelf(Screen& s) {
  Session& session = s.session;
  parts::heading(s.page, s.say(Say::shelf_title));
  draw_notice(s);
  draw_shelf_rows(s);
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::shelf_data));
  parts::paragraph(s.page, session.shell.data_folder.empty()
                               ? s.say(Say::shelf_data_what)
                               : s.say(Say::shelf_data_folder, {words::arg("folder", session.shell.data_folder)}));
  const std::optional<int> pressed =
      parts::acts(s.page, {{key("shelf") / "book", s.say(Say::save_book), parts::ActKind::main, true, {}},
                           {key("shelf") / "open", s.say(Say::open_file), parts::ActKind::other, true, {}},
                           {key("shelf") / "report", s.say(Say::save_report), parts::ActKind::other, true, {}}});
  if (pressed == 0) session.save_book();
  if (pressed == 1) session.ask_for_file();
  if (pressed == 2) session.save_report();
  if (session.report) {
    const Progress made = session.report->progress();
    const double done = made.total > 0 ? static_cast<double>(made.done) / made.total : 0.0;
    if (parts::progress(s.page, key("shelf") / "making", s.say(Say::making_report), done)) session.report.reset();
  }
  draw_look(s);
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::cautions));
  for (const Say caution : {Say::caution_arithmetic, Say::caution_discard, Say::cautions_raw, Say::caution_selling}) {
    parts::paragraph(s.page, s.say(caution));
    parts::gap(s.page, 8.0);
  }
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::about));
  parts::paragraph(s.page, s.say(Say::about_fonts));
  parts::WorkingView licences{key("shelf") / "licences", s.say(Say::about_licences), {}, {}};
  for (const parts::FontData& face : {parts::gentium_regular(), parts::carlito_regular()}) {
    for (const std::string& paragraph : parts::font_licence(face)) licences.lines.push_back(words::verbatim(paragraph));
  }
  parts::working(s.page, licences);
  parts::gap(s.page, 24.0);
  parts::reason(s.page, s.say(Say::shelf_later));
  draw_history(s);
}

void draw_files(Screen& s) {
  Session& session = s.session;
  FilesView& files = *session.files;
  const bool saving = files.writes.has_value();
  if (parts::way_back(s.page, {key("files") / "leave", s.say(Say::leave), parts::ActKind::bare, true, {}})) {
    session.files.reset();
    session.notice.reset();
    return;
  }
  parts::heading(s.page, s.say(saving ? Say::files_save_title : Say::files_open_title));
  draw_notice(s);
  const auto join = [](const std::string& folder, const std::string& name) {
    return folder.empty() || folder.back() == '/' ? folder + name : folder + "/" + name;
  };
  parts::Field path;
  path.key = key("files") / "path";
  path.label = s.say(Say::files_path);
  path.value = saving ? join(files.folder, files.name) : files.folder;
  const parts::Typed typed = parts::text_field(s.page, path);
  const auto go = [&session, &files, saving](const std::string& to) {
    if (saving) {
      session.write_file(to);
    } else if (session.shell.list_folder(to).ok()) {
      files.folder = to;
    } else {
      session.read_file(to);
    }
  };
  parts::gap(s.page, 16.0);
  const bool pressed = parts::act(s.page, {key("files") / "go", s.say(saving ? Say::files_save : Say::files_open),
                                           parts::ActKind::main, true, {}});
  const std::string wanted = typed.committed ? *typed.committed : typed.text.empty() ? path.value : typed.text;
  if (typed.committed && saving) {
    const auto slash = wanted.rfind('/');
    files.folder = slash == std::string::npos ? files.folder : wanted.substr(0, slash);
    files.name = slash == std::string::npos ? wanted : wanted.substr(slash + 1);
  }
  if (pressed || (typed.committed && !saving)) {
    go(wanted);
    return;
  }
  parts::gap(s.page, 24.0);
  const auto entries = session.shell.list_folder(files.folder);
  if (!entries.ok()) {
    parts::trouble(s.page, words::sentence(s.l, entries.error()), {}, std::nullopt);
    return;
  }
  const auto slash = files.folder.rfind('/');
  if (slash != std::string::npos && files.folder.size() > 1) {
    if (parts::row(s.page, {key("files") / "up", s.say(Say::files_up), {}, {}, false})) {
      files.folder = slash == 0 ? "/" : files.folder.substr(0, slash);
      return;
    }
  }
  parts::List list{key("files") / files.folder, {}};
  for (const FolderEntry& entry : entries.value()) {
    list.rows.push_back({key("files") / entry.name, words::verbatim(entry.name), {},
                         entry.folder ? s.say(Say::files_folder) : words::Text(), false});
  }
  if (const std::optional<int> entered = parts::list(s.page, list)) {
    const FolderEntry& entry = entries.value()[static_cast<std::size_t>(*entered)];
    if (entry.folder) {
      files.folder = join(files.folder, entry.name);
    } else if (saving) {
      files.name = entry.name;
    } else {
      session.read_file(join(files.folder, entry.name));
    }
    return;
  }
  if (entries.value().empty()) parts::reason(s.page, s.say(Say::files_none));
  parts::gap(s.page, 16.0);
  parts::reason(s.page, s.say(Say::files_drop));
}

}  // namespace saltrafter::desk

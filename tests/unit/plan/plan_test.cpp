#include <doctest/doctest.h>

#include <cmath>

#include "core/plan/plan.h"
#include "tests/near.h"
#include "tests/unit/plan/fixture.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::plan;
using recipe::test::counting_ports;

using plan::test::batch;
using plan::test::kHung;
using plan::test::weighing;

TEST_CASE("a mix is split into equal pieces of about 40 cm that add to it") {
  // 55 mm and 1050 kg/m3: 0.998 kg to 40 cm.
  for (const auto& row : {std::pair(4350.0, 4), std::pair(4600.0, 5), std::pair(300.0, 1)}) {
    const double mix_g = row.first;
    const int count = row.second;
    CAPTURE(mix_g);
    const std::vector<Piece> pieces = split_into_pieces(counting_ports(), Grams(mix_g), Metres(0.055));
    CHECK(static_cast<int>(pieces.size()) == count);
    double sum_g = 0.0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      sum_g += pieces[i].hung.value;
      CHECK(pieces[i].number == static_cast<int>(i) + 1);
      CHECK(pieces[i].diameter.value == 0.055);
      for (std::size_t k = 0; k < i; ++k) CHECK(pieces[i].id != pieces[k].id);
    }
    CHECK(sum_g == near_rel(mix_g, 1e-12));
  }
}

TEST_CASE("whatever the input, there is at least one piece and never a flood of them") {
  const Ports ports = counting_ports();
  CHECK(split_into_pieces(ports, Grams(0.0), Metres(0.055)).size() == 1);
  CHECK(split_into_pieces(ports, Grams(-5.0), Metres(0.055)).front().hung.value == 0.0);
  CHECK(split_into_pieces(ports, Grams(1000.0), Metres(0.0)).size() == 1);
  CHECK(split_into_pieces(ports, Grams(1000.0), Metres(std::nan(""))).size() == 1);
  CHECK(split_into_pieces(ports, Grams(std::nan("")), Metres(0.055)).size() == 1);
  CHECK(split_into_pieces(ports, Grams(1e12), Metres(0.001)).size() == 1000);
}

TEST_CASE("the last weighing is the newest of that piece up to the day, in whatever order they stand") {
  const Batch b = batch();
  CHECK(last_weighing(b, Id{"one"}, kHung + std::chrono::days(6)) == nullptr);
  CHECK(last_weighing(b, Id{"one"}, kHung + std::chrono::days(7))->id == Id{"b"});
  CHECK(last_weighing(b, Id{"one"}, kHung + std::chrono::days(30))->id == Id{"a"});
  CHECK(last_weighing(b, Id{"two"}, kHung + std::chrono::days(30))->id == Id{"c"});
  CHECK(last_weighing(b, Id{"three"}, kHung + std::chrono::days(30)) == nullptr);
}

TEST_CASE("of two weighings on one day the later entry counts") {
  Batch b = batch();
  b.weighings.push_back(weighing("0", "one", 14, 780.0));
  CHECK(last_weighing(b, Id{"one"}, kHung + std::chrono::days(14))->mass.value == 780.0);
}

TEST_CASE("the loss is the share of the hanging weight that is gone") {
  const Batch b = batch();
  CHECK(loss_so_far(b, b.pieces[0], kHung + std::chrono::days(3)) == 0.0);
  CHECK(loss_so_far(b, b.pieces[0], kHung + std::chrono::days(10)) == near_rel(0.1, 1e-12));
  CHECK(loss_so_far(b, b.pieces[0], kHung + std::chrono::days(20)) == near_rel(0.2, 1e-12));
  Piece weightless = b.pieces[0];
  weightless.hung = Grams(0.0);
  CHECK(loss_so_far(b, weightless, kHung + std::chrono::days(20)) == 0.0);
}

TEST_CASE("a weighing that cannot be is refused with its field and bounds") {
  const Batch b = batch();
  const Date today = kHung + std::chrono::days(20);
  CHECK(check_weighing(b, weighing("x", "one", 20, 700.0), today).ok());
  CHECK(check_weighing(b, weighing("x", "one", 0, 1500.0), today).ok());
  for (const double mass_g : {0.0, -1.0, 1500.1, std::nan(""), 1e300}) {
    CAPTURE(mass_g);
    const Result<Done> checked = check_weighing(b, weighing("x", "one", 5, mass_g), today);
    REQUIRE_FALSE(checked.ok());
    CHECK(checked.error().code == ErrorCode::out_of_range);
    CHECK(checked.error().field == "mass");
    CHECK(checked.error().high.value_or(0.0) == 1500.0);
  }
  for (const int day : {-1, 21}) {
    CAPTURE(day);
    const Result<Done> checked = check_weighing(b, weighing("x", "one", day, 700.0), today);
    REQUIRE_FALSE(checked.ok());
    CHECK(checked.error().field == "date");
    CHECK(checked.error().found == std::to_string(day));
    CHECK(checked.error().high.value_or(0.0) == 20.0);
  }
  const Result<Done> nobody = check_weighing(b, weighing("x", "three", 5, 700.0), today);
  REQUIRE_FALSE(nobody.ok());
  CHECK(nobody.error().code == ErrorCode::not_found);
  CHECK(nobody.error().field == "piece");
}

TEST_CASE("a forecast is asked with the mix as weighed, every piece and the last weighing of each day") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  b.weighings.push_back(weighing("d", "one", 7, 890.0));
  b.weighings.push_back(weighing("e", "two", 0, 1000.0));
  const Result<drying::ForecastInput> input = forecast_input(b, kHung + std::chrono::days(20));
  REQUIRE(input.ok());
  CHECK(input.value().composition == recipe::scale(b.made_from, b.meat).value().composition);
  CHECK(input.value().now.value == 20.0);
  REQUIRE(input.value().pieces.size() == 2);
  const drying::ForecastPiece& one = input.value().pieces[0];
  REQUIRE(one.weighings.size() == 2);
  CHECK(one.weighings[0].day == 7.0);
  CHECK(one.weighings[0].mass.value == 890.0);
  CHECK(one.weighings[1].day == 14.0);
  // The weight at hanging is known already.
  CHECK(input.value().pieces[1].weighings.size() == 1);
}

TEST_CASE("a batch whose recipe cannot be scaled has no forecast, and says why") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(0.0);
  const Result<drying::ForecastInput> input = forecast_input(b, kHung);
  REQUIRE_FALSE(input.ok());
  CHECK(input.error().field == "meat");
}

TEST_CASE("the sheet of a batch is scaled with the maker's hands and with what was put in for this batch") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  b.weighed = {{b.made_from.lines[0].id, Grams(1400.0), 0, ""}, {b.made_from.lines[2].id, Grams(51.0), 0, ""}};
  recipe::Hands hands;
  hands.scales.coarse_step = Grams(5.0);
  hands.weighed = {{b.made_from.lines[0].id, Grams(1.0), 0, ""}};
  recipe::Hands own = hands;
  own.weighed = b.weighed;
  recipe::Working working;
  recipe::Working expected_working;
  const recipe::Sheet sheet = sheet_of(b, hands, &working).value();
  const recipe::Sheet expected = recipe::scale(b.made_from, b.meat, &expected_working, own).value();
  CHECK(sheet.composition == expected.composition);
  CHECK(sheet.total.value == expected.total.value);
  CHECK(working.size() == expected_working.size());
  REQUIRE(sheet.lines.size() == expected.lines.size());
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    CHECK(sheet.lines[i].weighed.value == expected.lines[i].weighed.value);
    CHECK(sheet.lines[i].is_in == expected.lines[i].is_in);
  }
  CHECK(forecast_input(b, kHung, hands).value().composition == expected.composition);
}

TEST_CASE("a batch that does not hang yet has no forecast and no weighings, and says what is missing") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  REQUIRE(forecast_input(b, kHung).ok());
  b.hung = false;
  const Result<drying::ForecastInput> input = forecast_input(b, kHung);
  REQUIRE_FALSE(input.ok());
  CHECK(input.error().code == ErrorCode::missing);
  CHECK(input.error().field == "hung_on");
  const Result<Done> checked = check_weighing(b, weighing("x", "one", 5, 700.0), kHung + std::chrono::days(20));
  REQUIRE_FALSE(checked.ok());
  CHECK(checked.error().field == "hung_on");
}

TEST_CASE("a forecast takes form and kind of the recipe, and the batch's own air whatever stages are planned") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  b.air.temperature = Celsius(11.0);
  recipe::Stage planned;
  planned.temperature = Celsius(16.0);
  planned.days = Days(5.0);
  b.made_from.stages = {planned, planned};
  using recipe::Form;
  using recipe::ProductClass;
  for (const auto& [form, expected] : {std::pair(Form::round, drying::Form::cylinder),
                                       std::pair(Form::slab, drying::Form::slab_open),
                                       std::pair(Form::slab_closed, drying::Form::slab_skin_closed),
                                       std::pair(Form::rolled, drying::Form::rolled),
                                       std::pair(Form::ham, drying::Form::ham)}) {
    b.made_from.form = form;
    CHECK(forecast_input(b, kHung).value().geometry.form == expected);
  }
  for (const auto& [product, expected] : {std::pair(ProductClass::comminuted_dry, drying::Kind::minced),
                                          std::pair(ProductClass::comminuted_semi_dry, drying::Kind::minced),
                                          std::pair(ProductClass::whole_muscle_dry, drying::Kind::whole_muscle)}) {
    b.made_from.product_class = product;
    CHECK(forecast_input(b, kHung).value().kind == expected);
  }
  const std::vector<drying::Stage> stages = forecast_input(b, kHung).value().stages;
  REQUIRE(stages.size() == 1);
  CHECK(stages[0].temperature.value == 11.0);
}

TEST_CASE("a muscle dries through its ends and edges too, and without a casing it hangs bare") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  recipe::Recipe& r = b.made_from;
  r.piece_length = Metres(0.30);
  r.casing = "";
  const auto input = [&b] {
    const Result<drying::ForecastInput> made = forecast_input(b, kHung);
    REQUIRE(made.ok());
    REQUIRE(drying::ForecastTask::make(made.value()).ok());
    return made.value();
  };
  // The ends of a sausage are tied shut, and minced meat is always in a casing.
  CHECK_FALSE(input().geometry.length);
  CHECK(input().wrap == drying::Wrap::cased);
  r.product_class = recipe::ProductClass::whole_muscle_dry;
  CHECK(input().geometry.length == Metres(0.30));
  CHECK_FALSE(input().geometry.width);
  CHECK(input().wrap == drying::Wrap::naked);
  r.casing = "collagen_sheet";
  CHECK(input().wrap == drying::Wrap::cased);
  r.piece_width = Metres(0.20);
  CHECK_FALSE(input().geometry.width);  // a round one has none
  r.form = recipe::Form::slab;
  CHECK(input().geometry.width == Metres(0.20));
  // Shorter than the model takes: as the thickest piece is thick, twice that with one face shut.
  r.piece_length = r.piece_width.emplace(0.03);
  b.pieces[1].diameter = Metres(0.07);
  CHECK(input().geometry.length == Metres(0.07));
  CHECK(input().geometry.width == Metres(0.07));
  r.form = recipe::Form::slab_closed;
  CHECK(input().geometry.length == Metres(0.14));
  CHECK(least_side(r) == Metres(2.0 * r.casing_diameter.value));
  r.form = recipe::Form::ham;
  CHECK_FALSE(input().geometry.length);
  CHECK(least_side(r) == r.casing_diameter);
}

TEST_CASE("a surface changed in a stage stays so until a stage changes it, whether it was begun or is planned") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  const auto planned = [&b](const char* id, std::optional<recipe::Surface> surface) {
    recipe::Stage stage;
    stage.id = Id{id};
    stage.days = Days(10.0);
    stage.humidity = b.air.humidity;
    stage.temperature = b.air.temperature;
    stage.surface = surface;
    b.made_from.stages.push_back(stage);
  };
  b.made_from.stages.clear();
  planned("bare", recipe::Surface::naked);
  planned("as_before", std::nullopt);
  planned("larded", recipe::Surface::larded);
  planned("cased", recipe::Surface::cased);
  const std::int64_t hung_ms = instant_of(counting_ports(), kHung, 720);
  b.evidence.stages = {{Id{"bare"}, hung_ms, {}}};
  const std::vector<drying::Stage> stages = forecast_input(b, kHung).value().stages;
  REQUIRE(stages.size() == 3);  // two in one air under one surface are one
  CHECK(stages[0].wrap == drying::Wrap::naked);
  CHECK(stages[0].duration.value == near_abs(20.0, 1e-9));
  CHECK(stages[1].wrap == drying::Wrap::waxed);
  CHECK(stages[2].wrap == drying::Wrap::cased);
  // Hung in the second, it is as the first left it; begun later, the third is as it says.
  b.evidence.stages = {{Id{"as_before"}, hung_ms, {}}};
  CHECK(programme(b, kHung)[0].air.wrap == drying::Wrap::naked);
  b.evidence.stages.push_back({Id{"larded"}, instant_of(counting_ports(), kHung + std::chrono::days(5), 720), {}});
  const std::vector<ProgrammeStage> later = programme(b, kHung + std::chrono::days(8));
  REQUIRE(later.size() == 4);
  CHECK(later[1].recorded);
  CHECK(later[1].air.wrap == drying::Wrap::waxed);
  b.evidence.stages.pop_back();
  b.made_from.stages[0].surface.reset();
  CHECK_FALSE(programme(b, kHung)[0].air.wrap);
}

TEST_CASE("the loss of the thickest piece stands for the batch, and of two the one that has lost least") {
  Batch b = batch();
  CHECK(evidence_on(b, kHung + std::chrono::days(20)).loss_now == near_abs(0.09, 1e-12));
  b.pieces[0].diameter = Metres(0.08);
  CHECK(evidence_on(b, kHung + std::chrono::days(20)).loss_now == near_abs(0.2, 1e-12));
  CHECK(evidence_on(b, kHung + std::chrono::days(3)).loss_now == 0.0);
}

TEST_CASE("a measured water activity is learnt from by the loss of its piece on that day, and only where it tells of the whole") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  const Ports ports = counting_ports();
  const auto read = [&](const char* piece, int day, safety::Site site) {
    safety::Reading reading;
    reading.id = Id{"r" + std::to_string(b.evidence.readings.size())};
    reading.kind = safety::ReadingKind::water_activity;
    reading.at_utc_ms = instant_of(ports, kHung + std::chrono::days(day), 720);
    reading.value = 0.93;
    reading.piece = Id{piece};
    reading.site = site;
    b.evidence.readings.push_back(reading);
  };
  const auto learnt = [&](recipe::ProductClass product = recipe::ProductClass::comminuted_dry) {
    return measured_activities({std::make_shared<const Batch>(b), nullptr}, product, {}, ports);
  };
  read("one", 15, safety::Site::core);
  REQUIRE(learnt().size() == 1);
  const recipe::Sheet sheet = sheet_of(b).value();
  CHECK(learnt()[0].composition.water_g == near_abs(recipe::finished(sheet, 0.2).water_g, 1e-6));
  CHECK(learnt()[0].measured.value == 0.93);
  CHECK(learnt(recipe::ProductClass::whole_muscle_dry).empty());
  read("one", 15, safety::Site::surface);
  read("one", 2, safety::Site::mixed);  // not weighed by then
  read("one", 15, safety::Site::mixed);
  b.evidence.readings.back().instrument = safety::InstrumentState::failed;
  CHECK(learnt().size() == 1);
  read("", 15, safety::Site::mixed);  // of the batch: the mean of its pieces
  REQUIRE(learnt().size() == 2);
  CHECK(learnt()[1].composition.water_g == near_abs(recipe::finished(sheet, 0.145).water_g, 1e-6));
  b.hung = false;
  CHECK(learnt().empty());
}

TEST_CASE("what lay in brine for longer than was meant has taken up as much as it did") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.made_from.product_class = recipe::ProductClass::whole_muscle_dry;
  b.made_from.method = recipe::CureMethod::brine;
  b.made_from.brine = recipe::Brine{800.0, 0.25, Days(2.0)};
  b.meat = Grams(2000.0);
  b.made_from.lines[5] = recipe::test::line(recipe::LineKind::additive, "red_wine", 20.0);
  recipe::Stage cure;
  cure.id = Id{"cure"};
  cure.kind = recipe::StageKind::cure;
  cure.days = Days(2.0);
  b.made_from.stages = {cure};
  const auto sheet_after = [&b](double days, bool over) {
    const std::int64_t end_ms = static_cast<std::int64_t>(days * 86400000.0);
    b.evidence.stages = {{Id{"cure"}, 0, over ? std::optional<std::int64_t>(end_ms) : std::nullopt}};
    const Result<recipe::Sheet> sheet = sheet_of(b);
    REQUIRE(sheet.ok());
    return sheet.value();
  };
  const recipe::Sheet meant = sheet_after(2.0, true);
  CHECK(sheet_after(2.9, true).curing_base == meant.curing_base);
  CHECK(sheet_after(5.0, false).curing_base == meant.curing_base);
  const recipe::Sheet long_in = sheet_after(5.0, true);
  recipe::Recipe as_done = b.made_from;
  as_done.brine->days = Days(5.0);
  as_done.stages[0].days = Days(5.0);
  CHECK(long_in.curing_base == recipe::scale(as_done, b.meat).value().curing_base);
  CHECK_FALSE(long_in.curing_base == meant.curing_base);
}

TEST_CASE("the air a batch hangs in goes with its evidence; one that does not hang has none") {
  Batch b = batch();
  b.air.temperature = Celsius(12.5);
  CHECK(evidence_on(b, kHung).hangs_in == Celsius(12.5));
  b.hung = false;
  CHECK_FALSE(evidence_on(b, kHung).hangs_in);
}

TEST_CASE("what is hung begins the stage of its air: the cold one in a cold chamber, else the first that dries") {
  Batch b = batch();
  b.pieces.clear();
  b.hung = false;
  b.made_from = recipe::test::sample();
  const auto stage = [](const char* id, recipe::StageKind kind, double t_c) {
    recipe::Stage s;
    s.id = Id{id};
    s.kind = kind;
    s.temperature = Celsius(t_c);
    return s;
  };
  b.made_from.stages = {stage("cure", recipe::StageKind::cure, 3.0), stage("cold", recipe::StageKind::cold_dry, 4.0),
                        stage("dry", recipe::StageKind::dry, 13.0)};
  CHECK(*hanging_stage(b.made_from, Celsius(5.0)) == 1);
  CHECK(*hanging_stage(b.made_from, Celsius(5.1)) == 2);  // no cold, however near to the stage
  b.made_from.stages[1].temperature = Celsius(2.0);
  CHECK(*hanging_stage(b.made_from, Celsius(4.0)) == 1);
  CHECK(*hanging_stage(b.made_from, Celsius(4.1)) == 2);
  b.made_from.stages[1].temperature = Celsius(4.0);
  Ports ports = counting_ports();
  const std::int64_t now_ms = instant_of(ports, kHung + std::chrono::days(5), 600);
  ports.now_utc_ms = [now_ms] { return now_ms; };
  begin_stage(b, Id{"cure"}, instant_of(ports, kHung, 0));
  Hanging hanging;
  hanging.day = kHung + std::chrono::days(4);
  hanging.casing = Metres(0.055);
  hang(b, ports, Grams(2000.4), hanging);
  CHECK(b.hung);
  REQUIRE(b.pieces.size() == 2);
  CHECK(b.pieces[0].hung.value == 1000.0);
  REQUIRE(stage_done(b, Id{"dry"}) != nullptr);
  CHECK(stage_done(b, Id{"dry"})->began_utc_ms == instant_of(ports, hanging.day, 600));
  CHECK(stage_done(b, Id{"cure"})->ended_utc_ms == stage_done(b, Id{"dry"})->began_utc_ms);
  CHECK(stage_done(b, Id{"cold"}) == nullptr);
  CHECK(*stages_now(b).on == 2);
  CHECK_FALSE(stages_now(b).next);
}

TEST_CASE("the programme is the air that was, then the rest of the stage it is in, then what is planned") {
  Batch b = batch();
  b.air = {Celsius(12.0), RelativeHumidity(0.80), MetresPerSecond(0.1)};
  const auto stage = [](const char* id, recipe::StageKind kind, double t_c, double days) {
    recipe::Stage s;
    s.id = Id{id};
    s.kind = kind;
    s.temperature = Celsius(t_c);
    s.days = Days(days);
    return s;
  };
  b.made_from.stages = {stage("cure", recipe::StageKind::cure, 3.0, 14.0), stage("cold", recipe::StageKind::cold_dry, 4.0, 20.0),
                        stage("even", recipe::StageKind::rest, 3.0, 10.0), stage("dry", recipe::StageKind::dry, 13.0, 40.0),
                        stage("bag", recipe::StageKind::store, 3.0, 60.0)};
  b.made_from.stages[1].humidity = RelativeHumidity(0.78);
  b.made_from.stages[2].sealed = true;
  const auto ms = [](int day) {
    return static_cast<std::int64_t>((kHung + std::chrono::days(day)).time_since_epoch().count()) * 86400000;
  };
  b.evidence.stages = {{Id{"cure"}, ms(-14), ms(0)}, {Id{"cold"}, ms(0), std::nullopt}};
  std::vector<ProgrammeStage> all = programme(b, kHung + std::chrono::days(5));
  REQUIRE(all.size() == 4);
  CHECK(all[0].stage == Id{"cold"});
  CHECK(all[0].recorded);
  CHECK(all[0].air.duration.value == near_abs(5.0, 1e-9));
  CHECK(all[0].air.temperature.value == 12.0);  // as it was hung, whatever was planned
  CHECK_FALSE(all[1].recorded);
  CHECK(all[1].air.duration.value == near_abs(15.0, 1e-9));
  CHECK(all[2].stage == Id{"even"});
  CHECK(all[2].air.sealed);
  CHECK(all[2].air.duration.value == near_abs(10.0, 1e-9));
  CHECK(all[3].stage == Id{"dry"});
  CHECK(all[3].air.temperature.value == 13.0);
  CHECK(all[3].air.humidity.value == 0.80);  // it names none
  CHECK(all[3].air.duration.value > 200.0);
  // Moved on: the cold stage is over, at the mean of what was read in it; the rest is sealed.
  b.evidence.stages[1].ended_utc_ms = ms(22);
  b.evidence.stages.push_back({Id{"even"}, ms(22), std::nullopt});
  for (const auto& [day, t_c] : {std::pair(3, 4.0), std::pair(9, 5.0)}) {
    safety::Reading read;
    read.kind = safety::ReadingKind::chamber_air;
    read.at_utc_ms = ms(day);
    read.value = t_c;
    b.evidence.readings.push_back(read);
  }
  all = programme(b, kHung + std::chrono::days(24));
  REQUIRE(all.size() == 4);
  CHECK(all[0].air.duration.value == near_abs(22.0, 1e-9));
  CHECK(all[0].air.temperature.value == near_abs(4.5, 1e-9));
  CHECK(all[1].recorded);
  CHECK(all[1].air.sealed);
  CHECK(all[1].air.duration.value == near_abs(2.0, 1e-9));
  CHECK(all[2].air.duration.value == near_abs(8.0, 1e-9));
  // A stage that lasts longer than planned ends when the maker says so: the next one follows at once.
  all = programme(b, kHung + std::chrono::days(40));
  REQUIRE(all.size() == 3);
  CHECK(all[2].stage == Id{"dry"});
  double days = 0.0;
  for (const ProgrammeStage& one : all) days += one.air.duration.value;
  CHECK(days > 240.0);
}

TEST_CASE("a plan without stages is the air it hangs in, and one air is one stage to the forecast") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.made_from.stages.clear();
  b.meat = Grams(2000.0);
  const std::vector<ProgrammeStage> all = programme(b, kHung + std::chrono::days(9));
  REQUIRE(all.size() == 2);
  CHECK(all[0].recorded);
  CHECK(all[0].stage.empty());
  CHECK(forecast_input(b, kHung + std::chrono::days(9)).value().stages.size() == 1);
}

TEST_CASE("a mixed sample's water activity reaches the forecast with the loss of its piece that day, a rim's does not") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  safety::Reading read;
  read.kind = safety::ReadingKind::water_activity;
  read.site = safety::Site::mixed;
  read.piece = Id{"one"};
  read.value = 0.93;
  read.at_utc_ms = static_cast<std::int64_t>((kHung + std::chrono::days(14)).time_since_epoch().count()) * 86400000;
  b.evidence.readings = {read};
  const std::vector<drying::Reading> all = forecast_input(b, kHung + std::chrono::days(20)).value().readings;
  REQUIRE(all.size() == 1);
  CHECK(all[0].loss == near_abs(0.2, 1e-9));
  CHECK(all[0].value == 0.93);
  CHECK(forecast_input(b, kHung + std::chrono::days(10)).value().readings.empty());
  b.evidence.readings[0].site = safety::Site::surface;
  CHECK(forecast_input(b, kHung + std::chrono::days(20)).value().readings.empty());
  b.wishes = {{drying::WishKind::activity, 0.9}};
  CHECK(forecast_input(b, kHung + std::chrono::days(20)).value().wishes == b.wishes);
}

TEST_CASE("what a hand, an eye or an oven says of a piece reaches the forecast at its loss of that day") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  const auto read = [](safety::ReadingKind kind, double value, double day) {
    safety::Reading reading;
    reading.kind = kind;
    reading.piece = Id{"one"};
    reading.value = value;
    reading.at_utc_ms = static_cast<std::int64_t>(
        static_cast<double>(kHung.time_since_epoch().count()) * 86400000.0 + day * 86400000.0);
    return reading;
  };
  b.evidence.readings = {read(safety::ReadingKind::moisture, 0.48, 14.5),
                         read(safety::ReadingKind::firmness, 2.0, 10.5),
                         read(safety::ReadingKind::cut_look, 1.0, 14.5),
                         read(safety::ReadingKind::chamber_air, 13.0, 10.5)};
  b.evidence.readings[0].uncertainty = 0.5;  // wider than a forecast takes
  const std::vector<drying::Reading> all = forecast_input(b, kHung + std::chrono::days(20)).value().readings;
  REQUIRE(all.size() == 3);
  CHECK(all[0].kind == drying::ReadingKind::moisture);
  CHECK(all[0].value == 0.48);
  CHECK(all[0].loss == near_abs(0.2, 1e-9));
  CHECK(all[0].sd == 0.2);
  CHECK(all[1].kind == drying::ReadingKind::feel);
  CHECK(all[1].value == 2.0);
  CHECK(all[1].loss == near_abs(0.1 + 3.0 / 7.0 * 0.1, 1e-9));  // between the weighings of days 7 and 14
  CHECK(all[2].kind == drying::ReadingKind::feel);
  CHECK(drying::ForecastTask::make(forecast_input(b, kHung + std::chrono::days(20)).value()).ok());
  b.evidence.readings[0].instrument = safety::InstrumentState::failed;
  CHECK(forecast_input(b, kHung + std::chrono::days(20)).value().readings.size() == 2);
  CHECK(forecast_input(b, kHung + std::chrono::days(10)).value().readings.size() == 1);
}

TEST_CASE("a forecast is told which pieces are down, which weights are shares, and which may still be wet") {
  Batch b = batch();
  b.made_from = recipe::test::sample();
  b.meat = Grams(2000.0);
  drying::Weighing both = test::weighing("both", "", 16, 1560.0);
  both.bunch = {Id{"one"}, Id{"two"}};
  b.weighings.push_back(both);
  b.events = {test::event(EventKind::wetted, 18, 770.0, 790.0)};
  b.weighings.push_back(test::weighing("wet", "one", 18, 789.0));
  b.weighings.push_back(test::weighing("damp", "one", 20, 772.0));
  b.weighings.push_back(test::weighing("dry", "one", 21, 764.0));
  TakenDown down;
  down.id = Id{"down"};
  down.piece = Id{"two"};
  down.date = test::day(20);
  down.mass = Grams(770.0);
  b.taken_down = {down};
  const drying::ForecastInput input = forecast_input(b, test::day(22)).value();
  CHECK(input.pieces[0].hangs);
  CHECK_FALSE(input.pieces[1].hangs);
  const auto of = [&input](double on) {
    for (const drying::PieceWeighing& weighing : input.pieces[0].weighings) {
      if (weighing.day == on) return weighing;
    }
    FAIL("no weighing");
    return drying::PieceWeighing{};
  };
  CHECK(of(16).of == 2);
  CHECK(of(14).of == 1);
  CHECK(of(18).mass == Grams(770.0));  // before the water was put on
  CHECK(of(18).doubt == Grams(0.0));
  CHECK(of(20).doubt == Grams(20.0));
  CHECK(of(21).doubt == Grams(0.0));
}

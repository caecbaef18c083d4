// What the pages of one batch share.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "core/desk/forms.h"

namespace saltrafter::desk {

// The open batch with its sheet; heads the page with the way back and a heading. Nothing: it is gone, or its
// sheet cannot be worked out, which is said, and so ends the page.
struct OpenBatch {
  Id id;
  std::shared_ptr<const plan::Batch> batch;
  std::shared_ptr<const BatchJudged> judged;  // never null, and with a sheet
};
std::optional<OpenBatch> open_batch(Screen& screen, words::Id heading);

// A day and a time of day, beside each other in meaning: `day` and `time` are the drafts. Nothing: what is
// typed is no moment that has come, which is said beneath.
std::optional<std::int64_t> moment_entry(Screen& screen, parts::Key key, words::Id day_label,
                                         words::Id time_label, std::optional<Date>& day, std::string& time);

// Where a sample was taken, and how far the instrument can be trusted.
inline constexpr std::array<Named<safety::Site>, 4> kSites = {
    {{safety::Site::not_said, words::Id::site_not_said},
     {safety::Site::core, words::Id::site_core},
     {safety::Site::surface, words::Id::site_surface},
     {safety::Site::mixed, words::Id::site_mixed}}};
inline constexpr std::array<Named<safety::InstrumentState>, 4> kInstruments = {
    {{safety::InstrumentState::not_said, words::Id::instrument_not_said},
     {safety::InstrumentState::checked, words::Id::instrument_checked},
     {safety::InstrumentState::overdue, words::Id::instrument_overdue},
     {safety::InstrumentState::failed, words::Id::instrument_failed}}};

// How a piece feels, by place in drying::kFeels; -1: not said.
inline constexpr std::array<Named<int>, 5> kFeelNames = {{{-1, words::Id::site_not_said},
                                                          {0, words::Id::feel_soft, words::Id::feel_soft_what},
                                                          {1, words::Id::feel_springy, words::Id::feel_springy_what},
                                                          {2, words::Id::feel_firm, words::Id::feel_firm_what},
                                                          {3, words::Id::feel_hard, words::Id::feel_hard_what}}};
static_assert(kFeelNames.size() == drying::kFeels.size() + 1);

// A reading in words: of what it is, and what it says.
words::Text reading_name(const Screen& screen, safety::ReadingKind kind);
words::Text reading_value(const Screen& screen, const safety::Reading& reading);

// Takes a reading out of a batch, and out of the take-down it came with.
void remove_reading(plan::Batch& batch, const Id& reading);

// "Wed 25 Nov".
words::Text day_of(const Screen& screen, std::int64_t utc_ms);

// Stops against going on, each with its figures; with a field for the reason, its draft, and the act that
// goes on. True: the act was pressed, with a reason.
bool draw_stops(Screen& screen, parts::Key key, const std::vector<safety::Finding>& stops, words::Id act,
                std::string& reason);

// Adds the reason to the batch's evidence, once a stop.
void acknowledge(const Screen& screen, plan::Batch& batch, const std::vector<safety::Finding>& stops,
                 const std::string& reason);

}  // namespace saltrafter::desk

// Forecasts of batches, computed in slices and kept until what they rest on changes.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "core/base/base.h"
#include "core/drying/drying.h"
#include "core/plan/plan.h"

namespace saltrafter::desk {

// What follows from a forecast, each part there once it is worked out.
struct Counsel {
  std::optional<std::vector<drying::Advice>> advice;
  std::optional<drying::WhichToWeigh> which;
  std::optional<drying::Levers> levers;
};

// What hangs in one air, or is about to: what is asked of all of it together.
struct HangsTogether {
  std::vector<std::pair<Id, std::shared_ptr<const plan::Batch>>> batches;  // with pieces in the chamber's air
  plan::Air air;
  std::optional<plan::Batch> fresh = std::nullopt;  // as it would hang beside them
  Date today{};

  friend bool operator==(const HangsTogether&, const HangsTogether&) = default;
};

class Forecasts {
 public:
  struct Answer {
    const drying::Forecast* forecast = nullptr;  // the newest there is; null until the first is done
    Progress progress;                           // of the one under way; total 0 when none is
    bool stopped = false;                        // by its maker: it rests until `resume`
    std::optional<Error> error;                  // why there can be none
  };

  // What is known of a batch now; asks for a forecast when its inputs have changed since the last one. A forecast
  // under way for other inputs is dropped. One is begun at once; what else is asked for before the next slice waits
  // for it, as beginning takes a millisecond or two, and so does all while the batches that are down are looked at.
  // In another air than planned it is a second forecast of the batch, kept beside the first.
  Answer ask(const Id& id, const std::shared_ptr<const plan::Batch>& batch, Date today, const recipe::Hands& hands,
             const plan::WhatIf& what_if = {});

  // The chamber's log counts in the forecasts from now on. What the batches teach that are down: their own forecasts are
  // made first, and all others begin with what they say. Those that are not down are left out.
  void learn(const std::vector<std::pair<Id, std::shared_ptr<const plan::Batch>>>& batches,
             const std::shared_ptr<const plan::Chamber>& chamber, Date today, const recipe::Hands& hands);
  // How many batches of the kind the prior of a batch hung on a day rests on.
  drying::TaughtPrior prior_for(drying::Kind kind, Date hung_on) const;

  // What follows from the forecast of a batch as planned, which was asked for before; asked for when that is there.
  // `bunches`: pieces tied together. Nothing while there is no forecast.
  const Counsel* counsel(const Id& id, const drying::Sealing& sealing, const std::vector<std::vector<Id>>& bunches);

  // An answer about all that hangs. It begins once the forecasts of all its batches are there, and is dropped when what
  // it rests on changes.
  template <class Found>
  struct Shared {
    const Found* result = nullptr;
    bool forecasting = false;        // what is under way are forecasts still
    Progress progress;               // of what is under way; total 0 when nothing is
    bool stopped = false;            // by its maker: it rests until `resume`
    std::vector<Id> left_out;        // batches that no forecast can be made of
    std::optional<Error> error;
  };
  // One humidity for all, at the temperature and speed of the air. Nothing where nothing hangs.
  Shared<drying::Together> together(const HangsTogether& all, const recipe::Hands& hands);
  // What `fresh`, which must be there, does to what hangs in this air.
  Shared<drying::HangCheck> hang_check(const HangsTogether& all, const recipe::Hands& hands);

  // Goes on with what was asked for, within a budget; true while there is more to do.
  bool work(const std::function<double()>& clock_ms, double budget_ms);
  bool busy() const;
  void stop();    // drops what is under way
  void resume();  // what was stopped begins again when asked for

 private:
  // The parts of a counsel in their order; each is begun when the one before is there.
  enum class Part { advice, which, levers, none };
  struct Entry {
    std::shared_ptr<const plan::Batch> batch;
    std::shared_ptr<const plan::Chamber> chamber;
    Date today{};
    recipe::Supplies supplies;
    plan::WhatIf what_if;
    drying::FactorPrior prior;
    bool stopped = false;  // by its maker: it rests until `resume`, or until another question
    std::optional<recipe::Hands> waiting;  // asked for, not begun: what it is to be begun with
    std::uint64_t key = 0;  // of the forecast under way, or done
    std::unique_ptr<drying::ForecastTask> task;
    std::optional<drying::Forecast> done;
    std::optional<Error> error;
    drying::ForecastInput input;  // of the forecast under way, or done
    Counsel counsel;
    std::uint64_t counselled = 0;  // key of the forecast that it follows from
    drying::Sealing sealing;
    std::vector<std::vector<Id>> bunches;
    Part next = Part::none;  // of the counsel, not begun yet
    std::unique_ptr<drying::AdviceTask> advising;
    std::unique_ptr<drying::WeighWhichTask> choosing;
    std::unique_ptr<drying::LeversTask> levering;

    bool forecasts() const { return waiting || task; }
    bool counsels() const { return advising || choosing || levering || next != Part::none; }
  };
  struct Lesson {
    std::shared_ptr<const plan::Batch> batch;
    std::shared_ptr<const plan::Chamber> chamber;
    std::uint64_t key = 0;  // of the forecast that it is learnt from
    bool begun = false;
    std::unique_ptr<drying::ForecastTask> task;
    std::optional<drying::FinishedBatch> learnt;
  };
  template <class AnyTask, class Found>
  struct AboutAll {
    HangsTogether asked;
    std::vector<std::uint64_t> keys;  // of the forecasts that the task rests on
    bool waits = false;               // for forecasts
    bool stopped = false;
    std::unique_ptr<AnyTask> task;
    std::optional<Found> done;
    std::optional<Error> error;
  };
  static bool works(const Lesson& lesson) { return !lesson.begun || lesson.task; }
  bool learning() const;
  void begin(Lesson& lesson) const;
  void begin(Entry& entry);
  static void begin_next(Entry& entry);  // part of its counsel
  Result<std::vector<drying::Hanging>> hanging_now(const HangsTogether& all) const;
  template <class AnyTask, class Found, class Make>
  Shared<Found> answer(AboutAll<AnyTask, Found>& about, const HangsTogether& all, const recipe::Hands& hands,
                       const Make& make);

  std::map<Id, Lesson> lessons_;  // of batches that are down
  Date today_{};                  // with what they are looked at
  recipe::Hands hands_;
  bool begun_ = false;            // a forecast, since the last slice
  std::shared_ptr<const plan::Chamber> chamber_ = std::make_shared<const plan::Chamber>();
  std::map<std::pair<Id, bool>, Entry> entries_;  // of a batch: as planned, and in another air
  AboutAll<drying::TogetherTask, drying::Together> together_;
  AboutAll<drying::HangCheckTask, drying::HangCheck> check_;
};

}  // namespace saltrafter::desk

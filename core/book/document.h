// The document in memory: records, and the one door through which they change.
//
// A change is an Edit, made by an EditBuilder and given to apply(). Only apply, undo and redo change the
// document; keeping it on the device is the Keeper's, which sees every edit made here.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/book/codec.h"
#include "core/book/record.h"

namespace saltrafter::book {

struct Change {
  Id id;
  RecordPtr before;  // the record as the edit found it; null when it creates one
  RecordPtr after;   // never null: what is removed becomes a tombstone
};

// A named list of changes, usually one. `name` is the key of its words ("edit.add_line").
struct Edit {
  std::string name;
  std::vector<Change> changes;
  std::optional<Error> fault;  // what the builder was given and could not take: apply refuses the edit
};

class Book;

struct KeptChamber {
  Id id;
  std::shared_ptr<const plan::Chamber> chamber;  // never null
};

// Collects the changes of one edit against the book as it is now. Nothing happens before apply().
class EditBuilder {
 public:
  EditBuilder(const Book& book, std::string name);

  // New records, with ids of their own. `data` is JSON as a file brings it, members unknown here included.
  Id create(const recipe::Recipe& recipe);
  Id create(const plan::Batch& batch);
  Id create(const recipe::Supply& supply);
  Id create(const plan::Chamber& chamber);
  Id create(Kind kind, std::string_view data);

  // The record with these values; members that this program does not know stay. An id that is not in the
  // book, of another kind or read-only makes the edit faulty.
  EditBuilder& put(const Id& id, const recipe::Recipe& recipe);
  EditBuilder& put(const Id& id, const plan::Batch& batch);
  EditBuilder& put(const Id& id, const recipe::Supply& supply);
  EditBuilder& put(const Id& id, const plan::Chamber& chamber);
  // The recipe anew, with what it was kept as a revision of today (by the ports) for this reason, members
  // unknown here included. The same recipe: nothing. Above kMostRevisions apply refuses, too_large "revisions".
  EditBuilder& revise(const Id& id, const recipe::Recipe& recipe, const std::string& why);
  EditBuilder& put(const Id& id, Kind kind, std::string_view data);
  EditBuilder& put(const Settings& settings);  // the settings record is made when there is none
  EditBuilder& remove(const Id& id);
  // A record out of a backup, under its own id: made where it is absent or was removed, its data put where it
  // differs, nothing where it is the same.
  EditBuilder& bring(const Record& record);

  // Why the newest revision was made; error where there is none.
  EditBuilder& explain(const Id& id, const std::string& why);

  Edit done() const { return edit_; }

 private:
  template <class Value>
  Id create_typed(Kind kind, const Value& value);
  template <class Value>
  void put_typed(const Id& id, Kind kind, const Value& value);
  void add(const Id& id, Record after, RecordPtr before);
  RecordPtr find(const Id& id) const;
  void refuse(Error error);

  const Book& book_;
  Edit edit_;
};

class Book {
 public:
  // `device` names this device in stamps. The records are taken as they are; of two with one id the last counts.
  explicit Book(Ports ports, std::string device = {}, const std::vector<RecordPtr>& records = {});
  Book(const Book&) = delete;
  Book& operator=(const Book&) = delete;

  // Looking. Pointers stay good whatever is edited later. Removed records are not found; ids are in order.
  RecordPtr find(const Id& id) const;
  std::vector<Id> ids(Kind kind) const;
  std::vector<RecordPtr> records() const;  // all, tombstones too, ordered by id
  // Decoded once a record. Null when absent, of another kind, or (a newer schema) not understood.
  std::shared_ptr<const recipe::Recipe> recipe(const Id& id) const;
  std::shared_ptr<const plan::Batch> batch(const Id& id) const;
  Settings settings() const;
  std::vector<recipe::Revision> revisions(const Id& recipe) const;  // oldest first
  recipe::Supplies supplies() const;                                // by id; key filled in
  // One of them, decoded once a record; null as for a recipe.
  std::shared_ptr<const recipe::Supply> supply(const Id& id) const;
  std::shared_ptr<const plan::Chamber> chamber(const Id& id) const;
  // The one that all hang in: one chamber is kept so far, the first by its id; no id and an empty one where none is.
  KeptChamber the_chamber() const;
  const Ports& ports() const { return ports_; }
  // Grows with every change: cheap to compare.
  std::uint64_t edition() const { return edition_; }

  // Changing. Errors: the edit's own fault; refused (field "before": the record has changed meanwhile, or stands
  // twice in the edit); read_only; and as decoding. After an error the book is as it was.
  Result<Done> apply(Edit edit);
  // All of the newest edit, or of the newest undone one; error not_found when there is none, refused when a
  // record has changed meanwhile. What comes back is stamped as a change of now.
  Result<Done> undo();
  Result<Done> redo();
  // The edit's name, or nothing to undo.
  std::optional<std::string> can_undo() const;
  std::optional<std::string> can_redo() const;

 private:
  friend class Keeper;

  struct Decoded {
    RecordPtr of;
    std::shared_ptr<const recipe::Recipe> recipe;
    std::shared_ptr<const plan::Batch> batch;
    std::shared_ptr<const recipe::Supply> supply;
    std::shared_ptr<const plan::Chamber> chamber;
    std::shared_ptr<const std::vector<recipe::Revision>> revisions;  // once asked for
  };

  RecordPtr current(const Id& id) const;
  Decoded& decoded(const Id& id, const RecordPtr& record) const;
  Result<Done> commit(Edit edit);
  Result<Done> reverse(const Edit& edit, bool back);
  std::int64_t next_stamp() const;
  // For the Keeper: the edits since it last asked, and other records in place of these (history starts anew).
  std::vector<Edit> take_news();
  void adopt(const std::vector<RecordPtr>& records);

  Ports ports_;
  std::string device_;
  std::shared_ptr<const plan::Chamber> no_chamber_ = std::make_shared<const plan::Chamber>();
  std::map<Id, RecordPtr> records_;
  mutable std::map<Id, Decoded> decoded_;
  std::vector<Edit> undo_;
  std::vector<Edit> redo_;
  std::vector<Edit> news_;
  std::int64_t last_stamp_ = 0;
  std::uint64_t edition_ = 0;
};

// Whether the program understands a record's data. Kinds without a type here need only be an object.
Result<Done> check_record(const Record& record);
// The same of data that has been read; `path` comes before the field in errors.
Result<Done> check_data(Kind kind, const Node& data, const std::string& path = {});

}  // namespace saltrafter::book

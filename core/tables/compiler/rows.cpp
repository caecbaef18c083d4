#include "core/tables/compiler/rows.h"

#include <cmath>
#include <cstdio>
#include <set>
#include <string_view>

namespace saltrafter::table_compiler {
namespace {

std::string number(double value) {
  char digits[40];
  std::snprintf(digits, sizeof digits, "%.17g", value);
  return digits;
}

std::string cpp_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20U || byte >= 0x7FU) {
      char octal[8];  // three digits always, so that a digit may follow
      std::snprintf(octal, sizeof octal, "\\%03o", static_cast<unsigned>(byte));
      out += octal;
    } else {
      out += c;
    }
  }
  return out + "\"";
}

bool is_day(std::string_view text) {
  constexpr std::string_view kShape = "dddd-dd-dd";
  if (text.size() != kShape.size()) {
    return text.empty();
  }
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (kShape[i] == '-' ? text[i] != '-' : text[i] < '0' || text[i] > '9') {
      return false;
    }
  }
  return true;
}

// One row on its way to C++; stops at its first fault.
class Row {
 public:
  Row(const Table& table, const Json& units, const Json& row) : table_(table), units_(units), row_(row) {}

  bool write(std::set<std::string>& keys) {
    if (!row_.is_object()) {
      return fail("is no object");
    }
    code_ = "    {";
    double sum = 0.0;
    for (const Column& column : table_.columns) {
      code_ += &column == &table_.columns.front() ? "" : ", ";
      if (!write_column(column, keys, sum)) {
        return false;
      }
    }
    code_ += "},\n";
    if (table_.most_sum > 0.0 && !(sum >= table_.least_sum && sum <= table_.most_sum)) {
      return fail("the parts add to " + number(sum));
    }
    for (const auto& member : row_.items()) {
      if (!is_column(member.key())) {
        return fail("unknown column \"" + member.key() + "\"");
      }
    }
    return true;
  }

  const std::string& code() const { return code_; }
  const std::string& key() const { return key_; }
  const std::string& fault() const { return fault_; }

 private:
  bool fail(std::string what) {
    fault_ = std::move(what);
    return false;
  }

  // What a row may have beside its columns: "description", for people.
  bool is_column(std::string_view name) const {
    for (const Column& column : table_.columns) {
      if (column.kind == ColumnKind::origin) {
        const std::string prefix(column.detail);
        if (name == prefix + "source" || name == prefix + "known") {
          return true;
        }
      } else if (column.kind != ColumnKind::name && column.name == name) {
        return true;
      }
    }
    return name == "description";
  }

  bool take_text(const std::string& name, std::string& text) {
    const auto found = row_.find(name);
    if (found == row_.end()) {
      return fail("no " + name);
    }
    if (!found->is_string()) {
      return fail(name + " is no text");
    }
    text = found->get<std::string>();
    return true;
  }

  bool take_number(const std::string& name, double& value) {
    const auto found = row_.find(name);
    if (found == row_.end()) {
      return fail("no " + name);
    }
    if (!found->is_number()) {
      return fail(name + " is no number");
    }
    value = found->get<double>();
    return std::isfinite(value) || fail(name + " is no finite number");
  }

  bool take_stored(const Column& column, double& value) {
    const std::string name(column.name);
    if (!take_number(name, value)) {
      return false;
    }
    const auto unit_of = units_.find(name);
    if (unit_of == units_.end() || !unit_of->is_string()) {
      return fail(name + " has no unit in \"columns\"");
    }
    const auto written = unit_of->get<std::string>();
    if (!is_unit(written)) {
      return fail(name + " has the unknown unit \"" + written + "\"");
    }
    const Unit* unit = find_unit(written, column.unit);
    if (unit == nullptr) {
      return fail(name + " cannot be written in \"" + written + "\"");
    }
    value = value * unit->times / unit->divided;
    return (value >= column.low && value <= column.high) ||
           fail(name + " is " + number(value) + ", outside " + number(column.low) + ".." +
                number(column.high));
  }

  bool write_column(const Column& column, std::set<std::string>& keys, double& sum) {
    const std::string name(column.name);
    std::string text;
    double value = 0.0;
    switch (column.kind) {
      case ColumnKind::key:
        if (!take_text(name, key_)) {
          return false;
        }
        if (key_.empty() || !keys.insert(key_).second) {
          return fail(key_.empty() ? "empty " + name : "the " + name + " stands twice");
        }
        code_ += cpp_text(key_);
        return true;
      case ColumnKind::name: code_ += cpp_text(std::string(column.detail) + key_); return true;
      case ColumnKind::text:
        if (!take_text(name, text)) {
          return false;
        }
        code_ += cpp_text(text);
        if (!column.detail.empty() && !holds_word(column.detail, text)) {
          return fail(name + " is the unknown word \"" + text + "\"");
        }
        return !text.empty() || fail("empty " + name);
      case ColumnKind::word:
        if (!take_text(name, text)) {
          return false;
        }
        code_ += std::string(column.type) + "::" + text;
        return holds_word(column.detail, text) || fail(name + " is the unknown word \"" + text + "\"");
      case ColumnKind::words: return write_words(column);
      case ColumnKind::number:
      case ColumnKind::typed:
        if (column.may_lack && row_.contains(name) && row_[name].is_null()) {
          code_ += "std::nullopt";
          return true;
        }
        if (!take_stored(column, value)) {
          return false;
        }
        sum += column.part ? value : 0.0;
        code_ += column.kind == ColumnKind::typed ? std::string(column.type) + "(" + number(value) + ")"
                                                  : number(value);
        return true;
      case ColumnKind::integer:
        if (!take_number(name, value)) {
          return false;
        }
        code_ += number(value);
        return (value == std::floor(value) && value >= column.low && value <= column.high) ||
               fail(name + " is no whole number in range");
      case ColumnKind::day:
        if (!take_text(name, text)) {
          return false;
        }
        code_ += cpp_text(text);
        return is_day(text) || fail(name + " is no day");
      case ColumnKind::unit:
        if (!take_text(name, text)) {
          return false;
        }
        code_ += cpp_text(text == "1" ? "" : text);
        return is_unit(text) || fail("unknown unit \"" + text + "\"");
      case ColumnKind::plain:
        if (column.may_lack && row_.contains(name) && row_[name].is_null()) {
          code_ += "std::nullopt";
          return true;
        }
        if (!take_number(name, value)) {
          return false;
        }
        code_ += number(value);
        return true;
      case ColumnKind::origin: return write_origin(std::string(column.detail));
    }
    return fail("unknown kind of column");
  }

  bool write_words(const Column& column) {
    const std::string name(column.name);
    const auto found = row_.find(name);
    if (found == row_.end()) {
      return fail("no " + name);
    }
    if (!found->is_array()) {
      return fail(name + " is no list");
    }
    const std::string type(column.type);
    code_ += type + "Set{}";
    std::set<std::string> there;
    for (const Json& item : *found) {
      const std::string word = item.is_string() ? item.get<std::string>() : item.dump();
      if (!item.is_string() || !holds_word(column.detail, word)) {
        return fail(name + " has the unknown word \"" + word + "\"");
      }
      if (!there.insert(word).second) {
        return fail(name + " has \"" + word + "\" twice");
      }
      code_ += ".with(" + type + "::" + word + ")";
    }
    return true;
  }

  bool write_origin(const std::string& prefix) {
    std::string source;
    std::string known;
    if (!take_text(prefix + "source", source) || !take_text(prefix + "known", known)) {
      return false;
    }
    if (source.empty()) {
      return fail("no " + prefix + "source");
    }
    if (!holds_word(kKnownWords, known)) {
      return fail(prefix + "known is the unknown word \"" + known + "\"");
    }
    code_ += "{" + cpp_text(source) + ", Known::" + known + "}";
    return true;
  }

  const Table& table_;
  const Json& units_;
  const Json& row_;
  std::string code_;
  std::string key_;
  std::string fault_;
};

}  // namespace

bool write_rows(const Table& table, const Json& file, std::string& code, std::string& fault) {
  const auto units = file.find("columns");
  const auto rows = file.find("rows");
  if (units == file.end() || !units->is_object() || rows == file.end() || !rows->is_array() ||
      rows->empty()) {
    fault = "\"columns\" must be an object and \"rows\" a list with a row in it";
    return false;
  }
  const std::string type(table.row_type);
  const std::string name(table.name);
  code += "\nconstexpr " + type + " k_" + name + "[] = {\n";
  std::set<std::string> keys;
  std::size_t at = 0;
  for (const Json& json : *rows) {
    ++at;
    Row row(table, *units, json);
    if (!row.write(keys)) {
      fault = "row " + std::to_string(at) + (row.key().empty() ? "" : " (" + row.key() + ")") + ": " +
              row.fault();
      return false;
    }
    code += row.code();
  }
  code += "};\nstd::span<const " + type + "> " + name + "() { return k_" + name + "; }\n";
  return true;
}

}  // namespace saltrafter::table_compiler

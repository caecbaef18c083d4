#include "core/base/number.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

namespace saltrafter {
namespace {

// A typed unit: stored = (typed - offset) * times / divided. Two whole numbers, so that 55 mm is 0.055 to the
// bit.
struct UnitRow {
  std::string_view name;
  double times = 1.0;
  double divided = 1.0;
  double offset = 0.0;
};

// The first name of each is what an error lists and what a field without a unit of its own assumes.
// Pound and ounce: exact, international avoirdupois agreement of 1959. Inch: exact, same.
constexpr UnitRow kMass[] = {
    {"g"}, {"kg", 1000.0}, {"oz", 28.349523125}, {"lb", 453.59237}, {"mg", 1.0, 1000.0}};
constexpr UnitRow kLength[] = {{"mm", 1.0, 1000.0}, {"cm", 1.0, 100.0}, {"m"}, {"in", 254.0, 10000.0}};
constexpr UnitRow kTemperature[] = {{"\u00B0C"}, {"C"}, {"\u00B0F", 5.0, 9.0, 32.0}, {"F", 5.0, 9.0, 32.0}};
constexpr UnitRow kShare[] = {{"%", 1.0, 100.0}, {"g/kg", 1.0, 1000.0}};
constexpr UnitRow kHumidity[] = {{"%", 1.0, 100.0}, {"% RH", 1.0, 100.0}};
constexpr UnitRow kPpm[] = {{"mg/kg"}, {"ppm"}};
constexpr UnitRow kDays[] = {{"d"}, {"h", 1.0, 24.0}, {"weeks", 7.0}, {"week", 7.0}, {"w", 7.0}};
constexpr UnitRow kSpeed[] = {{"m/s"}};

std::span<const UnitRow> units_of(NumberKind kind) {
  switch (kind) {
    case NumberKind::mass: return kMass;
    case NumberKind::length: return kLength;
    case NumberKind::temperature: return kTemperature;
    case NumberKind::share: return kShare;
    case NumberKind::humidity: return kHumidity;
    case NumberKind::ppm: return kPpm;
    case NumberKind::days: return kDays;
    case NumberKind::speed: return kSpeed;
    case NumberKind::plain: break;
  }
  return {};
}

constexpr UnitRow kNoUnit{""};
constexpr std::size_t kLongestText = 200;
constexpr std::size_t kLongestFound = 40;

double stored(double typed, const UnitRow& unit) { return (typed - unit.offset) * unit.times / unit.divided; }
double typed_in(double value, const UnitRow& unit) { return value * unit.divided / unit.times + unit.offset; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_sign(char c) { return c == '.' || c == ','; }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// Letters, the degree and per cent signs and whatever is not ASCII: what a unit may be made of.
bool is_unit_char(char c) {
  return (lower(c) >= 'a' && lower(c) <= 'z') || c == '%' || static_cast<unsigned char>(c) >= 0x80U;
}

// Spaces that people type or paste become one kind, the signs of a calculation their ASCII form.
std::string in_plain_signs(std::string_view text) {
  struct Sign {
    std::string_view from;
    char to;
  };
  constexpr Sign kSigns[] = {{"\u00A0", ' '}, {"\u2007", ' '}, {"\u2009", ' '}, {"\u202F", ' '},
                             {"\u2212", '-'}, {"\u00D7", '*'}, {"\u00F7", '/'}, {"\t", ' '}};
  std::string plain;
  while (!text.empty()) {
    char next = text.front();
    std::size_t length = 1;
    for (const Sign& sign : kSigns) {
      if (text.substr(0, sign.from.size()) == sign.from) {
        next = sign.to;
        length = sign.from.size();
      }
    }
    plain.push_back(next);
    text.remove_prefix(length);
  }
  return plain;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') {
    text.remove_prefix(1);
  }
  while (!text.empty() && text.back() == ' ') {
    text.remove_suffix(1);
  }
  return text;
}

// The beginning of `text`, never cut inside a character.
std::string shown(std::string_view text) {
  std::size_t end = std::min(text.size(), kLongestFound);
  while (end > 0 && end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) {
    --end;
  }
  return std::string(trimmed(text.substr(0, end)));
}

// One written number. When a thousands reading of it is possible too, `thousands` holds that one.
struct Figure {
  double value = 0.0;
  std::optional<double> thousands;
  std::string text;          // as typed
  std::string decimal_text;  // both readings with a point, for the question
  std::string thousands_text;
};

// One number with the unit it names, if any; several side by side make one amount ("9 lb 4 oz").
struct Part {
  Figure figure;
  const UnitRow* unit = nullptr;
};

// A product: one factor at most has a unit.
struct Term {
  double factor = 1.0;       // product of the factors without a unit, and of the sign
  std::vector<Part> amount;  // the factor with a unit; empty when no factor names one
};

class Reader {
 public:
  Reader(std::string_view text, const NumberRule& rule)
      : rest_(text), rule_(rule), units_(units_of(rule.kind)) {}

  Result<TypedNumber> read() {
    double sign = 1.0;
    skip_spaces();
    if (!rest_.empty() && (rest_.front() == '-' || rest_.front() == '+')) {
      sign = rest_.front() == '-' ? -1.0 : 1.0;
      operator_ = rest_.substr(0, 1);
      rest_.remove_prefix(1);
    }
    first_sign_ = sign;
    std::vector<Term> terms;
    for (;;) {
      Term term;
      term.factor = sign;
      if (!read_term(term)) {
        return error_;
      }
      terms.push_back(std::move(term));
      skip_spaces();
      if (rest_.empty()) {
        return total(terms);
      }
      if (rest_.front() != '+' && rest_.front() != '-') {
        fail(ErrorCode::not_a_number, rest_);
        return error_;
      }
      sign = rest_.front() == '-' ? -1.0 : 1.0;
      computed_ = true;
      operator_ = rest_.substr(0, 1);
      rest_.remove_prefix(1);
    }
  }

 private:
  void skip_spaces() {
    while (!rest_.empty() && rest_.front() == ' ') {
      rest_.remove_prefix(1);
    }
  }

  bool fail(ErrorCode code, std::string_view found) {
    error_ = Error{};
    error_.code = code;
    error_.field = rule_.field;
    error_.found = shown(found);
    error_.unit = std::string(rule_.unit);
    return false;
  }

  bool fail_unit(std::string_view found) {
    fail(ErrorCode::unknown_unit, found);
    for (const UnitRow& row : units_) {
      error_.expected += error_.expected.empty() ? "" : ", ";
      error_.expected += row.name;
    }
    return false;
  }

  const UnitRow* unit_named(std::string_view name) const {
    for (const UnitRow& row : units_) {
      if (row.name.size() == name.size() && std::equal(name.begin(), name.end(), row.name.begin(),
                                                       [](char a, char b) { return lower(a) == lower(b); })) {
        return &row;
      }
    }
    return nullptr;
  }

  // What a bare number is in: the field's own unit, else the first of its kind.
  const UnitRow& assumed() const {
    const UnitRow* own = unit_named(rule_.unit);
    return own != nullptr ? *own : units_.empty() ? kNoUnit : units_.front();
  }

  bool read_term(Term& term) {
    bool divide = false;
    for (;;) {
      const std::string_view from = rest_;
      std::vector<Part> factor;
      if (!read_amount(factor)) {
        return false;
      }
      if (factor.front().unit != nullptr) {
        if (divide || !term.amount.empty()) {
          return fail(ErrorCode::not_a_number, from.substr(0, from.size() - rest_.size()));
        }
        term.amount = std::move(factor);
      } else {
        const Figure& figure = factor.front().figure;
        if (divide && figure.value == 0.0) {
          return fail(ErrorCode::not_a_number, "/ " + figure.text);
        }
        note_doubt(figure, assumed().name);
        term.factor = divide ? term.factor / figure.value : term.factor * figure.value;
      }
      skip_spaces();
      if (rest_.empty() || (rest_.front() != '*' && rest_.front() != '/')) {
        return true;
      }
      divide = rest_.front() == '/';
      computed_ = true;
      operator_ = rest_.substr(0, 1);
      rest_.remove_prefix(1);
    }
  }

  // A number, or several with units side by side, each smaller than the one before.
  bool read_amount(std::vector<Part>& amount) {
    for (;;) {
      Part part;
      if (!read_figure(part.figure) || !read_unit(part)) {
        return false;
      }
      if (!amount.empty()) {
        const UnitRow* larger = amount.back().unit;
        if (part.unit == nullptr || rule_.kind == NumberKind::temperature ||
            stored(1.0, *part.unit) >= stored(1.0, *larger)) {
          return fail(ErrorCode::not_a_number, part.figure.text);
        }
        computed_ = true;
      }
      if (part.unit != nullptr) {
        note_doubt(part.figure, part.unit->name);
      }
      amount.push_back(std::move(part));
      skip_spaces();
      if (rest_.empty() || amount.back().unit == nullptr ||
          !(is_digit(rest_.front()) || is_sign(rest_.front()))) {
        return true;
      }
    }
  }

  bool read_figure(Figure& figure) {
    skip_spaces();
    const std::string_view from = rest_;
    std::size_t at = 0;
    std::string digits;  // before the decimal sign
    std::string fraction;
    int signs = 0;
    bool grouped = false;
    bool sound = true;
    for (;;) {
      const std::size_t start = at;
      while (at < from.size() && is_digit(from[at])) {
        ++at;
      }
      const std::string_view run = from.substr(start, at - start);
      if (signs > 0) {
        sound = sound && fraction.empty();
        fraction += run;
      } else if (!grouped && digits.empty()) {
        digits += run;
      } else {
        sound = sound && run.size() == 3;
        digits += run;
      }
      if (at < from.size() && is_sign(from[at])) {
        ++signs;
        sound = sound && signs == 1;
        ++at;
        continue;
      }
      std::size_t next = at;
      while (next < from.size() && from[next] == ' ') {
        ++next;
      }
      if (next > at && next < from.size() && is_digit(from[next]) && at > 0) {
        sound = sound && signs == 0 &&
                (grouped || (digits.size() <= 3 && !digits.empty() && digits.front() != '0'));
        grouped = true;
        at = next;
        continue;
      }
      break;
    }
    if (digits.empty() && fraction.empty()) {
      std::size_t end = 0;
      while (end < from.size() && from[end] != ' ') {
        ++end;
      }
      return fail(ErrorCode::not_a_number, end > 0 ? from.substr(0, end) : operator_);
    }
    // "1e3" is nobody's way to write a weight; it is not guessed at.
    if (at + 1 < from.size() && lower(from[at]) == 'e') {
      std::size_t end = at + 1;
      end += from[end] == '-' || from[end] == '+' ? 1U : 0U;
      const std::size_t first = end;
      while (end < from.size() && is_digit(from[end])) {
        ++end;
      }
      if (end > first) {
        return fail(ErrorCode::not_a_number, from.substr(0, end));
      }
    }
    if (!sound) {
      return fail(ErrorCode::not_a_number, from.substr(0, at));
    }
    figure.text = std::string(from.substr(0, at));
    figure.value = decimal_value(digits, fraction);
    if (fraction.size() == 3 && !grouped && !digits.empty() && digits.size() <= 3 && digits.front() != '0') {
      figure.thousands = decimal_value(digits + fraction, "");
      figure.thousands_text = digits + fraction;
      while (!fraction.empty() && fraction.back() == '0') {
        fraction.pop_back();
      }
      figure.decimal_text = fraction.empty() ? digits : digits + "." + fraction;
    }
    rest_.remove_prefix(at);
    return true;
  }

  // Digits to a number without any locale; exact up to 15 digits, since each step then is.
  static double decimal_value(std::string_view digits, std::string_view fraction) {
    double value = 0.0;
    for (const char c : digits) {
      value = value * 10.0 + static_cast<double>(c - '0');
    }
    double scale = 1.0;
    for (const char c : fraction.substr(0, 18)) {
      value = value * 10.0 + static_cast<double>(c - '0');
      scale *= 10.0;
    }
    return value / scale;
  }

  bool read_unit(Part& part) {
    skip_spaces();
    std::size_t end = 0;
    while (end < rest_.size() &&
           (is_unit_char(rest_[end]) ||
            (rest_[end] == '/' && end > 0 && end + 1 < rest_.size() && is_unit_char(rest_[end + 1])))) {
      ++end;
    }
    if (end == 0) {
      return true;
    }
    const std::string_view name = rest_.substr(0, end);
    part.unit = unit_named(name);
    if (part.unit == nullptr && rule_.kind == NumberKind::humidity && name.size() == 3 &&
        name.front() == '%') {
      part.unit = unit_named(std::string("% ").append(name.substr(1)));
    }
    if (part.unit == nullptr) {
      return fail_unit(name);
    }
    rest_.remove_prefix(end);
    if (rule_.kind == NumberKind::humidity && rest_.size() >= 3 && rest_.front() == ' ' &&
        lower(rest_[1]) == 'r' && lower(rest_[2]) == 'h' && (rest_.size() == 3 || !is_unit_char(rest_[3]))) {
      part.unit = unit_named("% RH");
      rest_.remove_prefix(3);
    }
    return true;
  }

  // Keeps the first number that may be thousands or decimals; whether it is asked about is known at the end.
  void note_doubt(const Figure& figure, std::string_view unit) {
    if (figure.thousands && !doubt_) {
      doubt_ = figure;
      doubt_unit_ = std::string(unit);
    }
  }

  bool outside(double value) const { return !(value >= rule_.low && value <= rule_.high); }

  Result<TypedNumber> total(const std::vector<Term>& terms) {
    const UnitRow* unit = nullptr;
    for (const Term& term : terms) {
      if (!term.amount.empty()) {
        unit = term.amount.front().unit;
      }
    }
    const UnitRow& common = unit != nullptr ? *unit : assumed();
    if (doubt_) {
      // Of a number that stands alone one reading may be out of bounds: then there is nothing to ask. Weights
      // and doses are asked about all the same: a slip there is a thousand times too little or too much.
      const bool grave = rule_.kind == NumberKind::mass || rule_.kind == NumberKind::ppm;
      const bool alone = terms.size() == 1 && !computed_;
      if (grave || !alone || !outside(stored(first_sign_ * *doubt_->thousands, common))) {
        return question();
      }
    }
    double sum = 0.0;  // typed in `common`
    for (const Term& term : terms) {
      if (term.amount.empty()) {
        sum += term.factor;
        continue;
      }
      double amount = 0.0;
      for (const Part& part : term.amount) {
        if (part.unit == &common || part.unit->offset == common.offset) {
          amount += part.unit == &common ? part.figure.value
                                         : typed_in(stored(part.figure.value, *part.unit), common);
        } else {
          fail(ErrorCode::unknown_unit, part.unit->name);  // 20 °C + 5 °F: nobody can say what is meant
          error_.expected = std::string(common.name);
          return error_;
        }
      }
      sum += term.factor * amount;
    }
    double value = stored(sum, common) + 0.0;
    const double slack = 1e-12 * std::max({1.0, std::abs(rule_.low), std::abs(rule_.high)});
    if (outside(value) && !(value < rule_.low - slack) && !(value > rule_.high + slack)) {
      value = std::clamp(value, rule_.low, rule_.high);
    }
    if (outside(value)) {
      return out_of_range(rule_.field, sum, typed_in(rule_.low, common), typed_in(rule_.high, common),
                          std::string(common.name));
    }
    return TypedNumber{value, std::string(common.name), computed_};
  }

  Error question() {
    const std::string unit = doubt_unit_.empty() ? "" : " " + doubt_unit_;
    fail(ErrorCode::ambiguous_number, doubt_->text);
    error_.expected = doubt_->thousands_text + unit + "|" + doubt_->decimal_text + unit;
    error_.unit = doubt_unit_;
    return error_;
  }

  std::string_view rest_;
  const NumberRule& rule_;
  std::span<const UnitRow> units_;
  std::string_view operator_;  // the last one read, to name when nothing follows it
  double first_sign_ = 1.0;
  bool computed_ = false;
  std::optional<Figure> doubt_;
  std::string doubt_unit_;
  Error error_;
};

}  // namespace

Result<TypedNumber> parse_number(std::string_view text, const NumberRule& rule) {
  const std::string plain = in_plain_signs(text.substr(0, kLongestText + 1));
  Error error;
  error.field = rule.field;
  error.unit = std::string(rule.unit);
  if (trimmed(plain).empty() && text.size() <= kLongestText) {
    error.code = ErrorCode::missing;
    return error;
  }
  if (text.size() > kLongestText) {
    error.code = ErrorCode::not_a_number;
    error.found = shown(text);
    return error;
  }
  return Reader(plain, rule).read();
}

}  // namespace saltrafter

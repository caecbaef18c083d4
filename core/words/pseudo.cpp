#include "core/words/pseudo.h"

namespace saltrafter::words {

std::string accented(std::string_view english) {
  std::string out;
  for (char c : english) {
    switch (c) {
      case 'a':
        out += "á";
        break;
      case 'e':
        out += "é";
        break;
      case 'i':
        out += "í";
        break;
      case 'o':
        out += "ô";
        break;
      case 'u':
        out += "ü";
        break;
      case 'y':
        out += "ý";
        break;
      case 'A':
        out += "Á";
        break;
      case 'E':
        out += "É";
        break;
      case 'I':
        out += "Í";
        break;
      case 'O':
        out += "Ô";
        break;
      case 'U':
        out += "Ü";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string padding(int letters) {
  const int wanted = (letters * 2 + 4) / 5;
  std::string out;
  for (int i = 0; i < wanted; ++i) out += i % 6 == 0 && i + 1 < wanted ? " " : "ë";
  return out;
}

}  // namespace saltrafter::words

// The pad for wet fingers. It opens with a number field that was touched and is drawn by the page.
#pragma once

#include "core/desk/parts/page.h"

namespace saltrafter::parts {

class Pad {
 public:
  Pad(Page& page, const Page::PadFor& pad_for) : page_(page), for_(pad_for) {}
  static double height(const Page& page);  // of the strip at the bottom, with its margins
  static double width(const Page& page);   // of the strip at the right of a low screen
  void draw();

 private:
  struct Measure {
    double key_width;
    double key_height;
    double gap;
    double row_height;  // of the keys over the digits
    double x;
    double y;
  };
  static Measure size(const Page& page);
  bool key(const Measure& m, int column, int row, const words::Text& face, std::string_view name,
           Family family, const words::Text& said);
  bool key_at(const Rect& rect, const words::Text& face, std::string_view name, const Style& style,
              const words::Text& said, bool chosen);
  void act(const Measure& m);
  void row(const Measure& m, double y);
  void step(double by);
  void type(std::string_view sign, bool replaces);

  Page& page_;
  const Page::PadFor& for_;
};

}  // namespace saltrafter::parts

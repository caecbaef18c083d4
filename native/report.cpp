#include "native/report.h"

#include <cstdio>
#include <string>

#include "core/share/share.h"
#include "native/files.h"
#include "native/ports.h"

namespace saltrafter::native {

int report(const Options& options) {
  const Result<std::string> text = read_file(options.report);
  if (!text.ok()) {
    const std::string said = words::sentence(words::english(), text.error()).plain();
    std::fprintf(stderr, "%s: %s\n", options.report.c_str(), said.c_str());
    return 2;
  }
  const share::FileReport made = share::report_of_file(text.value(), today(ports(options.today)));
  std::string out = made.text;
  if (out.empty() || out.back() != '\n') out += '\n';
  std::fputs(out.c_str(), stdout);
  return made.ok ? 0 : 2;
}

}  // namespace saltrafter::native

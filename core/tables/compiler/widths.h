// Advance widths and heights of the four faces, from the JSON that the font cutting leaves.
#pragma once

#include <string>

#include "core/tables/compiler/json_file.h"

namespace saltrafter::table_compiler {

// True and `code` grown by one FaceMetrics a face; false and `fault` a line that says what is wrong.
bool write_widths(const Json& file, std::string& code, std::string& fault);

}  // namespace saltrafter::table_compiler

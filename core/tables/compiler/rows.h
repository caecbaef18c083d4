// One table's JSON, checked row by row and written as a C++ array.
#pragma once

#include <string>

#include "core/tables/compiler/json_file.h"
#include "core/tables/compiler/schema.h"

namespace saltrafter::table_compiler {

// True and `code` grown by the array and the function that returns it; false and `fault` a line that names
// the table, the row, the column and what is wrong there.
bool write_rows(const Table& table, const Json& file, std::string& code, std::string& fault);

}  // namespace saltrafter::table_compiler

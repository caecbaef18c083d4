// share: everything that leaves the program or comes into it: recipe files, whole books, the report, pictures.
//
// A friend's file is only looked at: nothing here changes a book. Formats are JSON with their units in the names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/book/book.h"
#include "core/share/book_file.h"    // a whole book as one file: backup and restore
#include "core/share/file_name.h"    // a safe name for it
#include "core/share/recipe_file.h"  // one recipe as a file
#include "core/share/report.h"       // every figure computed, as JSON
#include "core/share/svg.h"          // a picture as SVG

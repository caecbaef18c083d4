// words: every text a person reads, from one catalogue by id. A sentence is never put together elsewhere.
#pragma once

#include "core/words/dates.h"     // days in words
#include "core/words/folded.h"    // letters as people look for them
#include "core/words/language.h"  // which language, and how it writes numbers
#include "core/words/sentence.h"  // id and arguments -> text; what went wrong -> text
#include "core/words/text.h"      // a text that may be shown

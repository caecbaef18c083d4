// book: the document. Records and the one door through which they change, and how they outlast the program.
//
// A maker's ingredients, recipes, chambers and batches are records: typed here, stored as text. No JSON library
// shows in these headers, and nothing here knows a store, a clock or chance but through ports.
#pragma once

#include "core/book/document.h"  // Book, Edit, EditBuilder: looking, editing, undo
#include "core/book/keeper.h"    // Keeper: saving to two stores, what is shown about it
#include "core/book/record.h"    // Record, Kind, Stamp
#include "core/book/slot.h"      // the text of one generation of a record
#include "core/book/tree.h"      // the form of stored text, read with limits

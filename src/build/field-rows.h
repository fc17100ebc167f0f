/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the tables in which each kind of part describes itself; for the files of kinds only.
 * Arguments after the label are further members of NappeField, such as `.required = TRUE`. */
#pragma once

#include <math.h>

#include "build/field.h"

/* A number with a range and an initial value, SI. */
#define NAPPE_NUMBER_ROW(Type, member, unit, least, most, start, text, ...)                                           \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_NUMBER, .quantity = NAPPE_QUANTITY_##unit,                                   \
    .offset = G_STRUCT_OFFSET (Type, member), .minimum = (least), .maximum = (most), .initial = (start),              \
    .label = (text), __VA_ARGS__                                                                                      \
  }

/* A number that may be left out. */
#define NAPPE_OPTIONAL_ROW(Type, member, unit, least, most, text)                                                     \
  NAPPE_NUMBER_ROW (Type, member, unit, least, most, NAN, text, .optional = TRUE)

#define NAPPE_COUNT_ROW(Type, member, least, most, start, text, ...)                                                  \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_COUNT, .quantity = NAPPE_QUANTITY_COUNT,                                     \
    .offset = G_STRUCT_OFFSET (Type, member), .minimum = (least), .maximum = (most), .initial = (start),              \
    .label = (text), __VA_ARGS__                                                                                      \
  }

#define NAPPE_FLAG_ROW(Type, member, text)                                                                            \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_FLAG, .quantity = NAPPE_QUANTITY_NUMBER,                                     \
    .offset = G_STRUCT_OFFSET (Type, member), .minimum = 0, .maximum = 1, .label = (text)                             \
  }

/* A choice; `alternatives` is an array that ends with an empty row, and `start` one of its indices. */
#define NAPPE_CHOICE_ROW(Type, member, alternatives, start, text, ...)                                                \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_CHOICE, .quantity = NAPPE_QUANTITY_NUMBER,                                   \
    .offset = G_STRUCT_OFFSET (Type, member), .minimum = 0, .maximum = G_N_ELEMENTS (alternatives) - 2,               \
    .initial = (start), .choices = (alternatives), .label = (text), __VA_ARGS__                                       \
  }

/* Free text of at most `most` bytes. */
#define NAPPE_TEXT_ROW(Type, member, most, text, ...)                                                                 \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_TEXT, .quantity = NAPPE_QUANTITY_NUMBER,                                     \
    .offset = G_STRUCT_OFFSET (Type, member), .maximum = (most), .label = (text), __VA_ARGS__                         \
  }

/* The id of another part; `kinds`, parted by blanks, may stand there. */
#define NAPPE_REFERENCE_ROW(Type, member, kinds, text, ...)                                                           \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_REFERENCE, .quantity = NAPPE_QUANTITY_NUMBER,                                \
    .offset = G_STRUCT_OFFSET (Type, member), .maximum = NAPPE_PART_ID_MAX, .label = (text), .refers_to = (kinds),    \
    __VA_ARGS__                                                                                                       \
  }

/* The id of a catalogue item. */
#define NAPPE_ITEM_ROW(Type, member, text, ...)                                                                       \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_ITEM, .quantity = NAPPE_QUANTITY_NUMBER,                                     \
    .offset = G_STRUCT_OFFSET (Type, member), .maximum = NAPPE_PART_ID_MAX, .label = (text), __VA_ARGS__              \
  }

#define NAPPE_CURVE_ROW(Type, member, text)                                                                           \
  {                                                                                                                   \
    .name = #member, .type = NAPPE_FIELD_CURVE, .quantity = NAPPE_QUANTITY_NUMBER,                                    \
    .offset = G_STRUCT_OFFSET (Type, member), .label = (text)                                                         \
  }

/* A list of owned parts. */
#define NAPPE_LIST_ROW(Type, member, kind_type, most)                                                                 \
  {                                                                                                                   \
    .name = #member, .type = (kind_type), .offset = G_STRUCT_OFFSET (Type, member), .single = FALSE, .minimum = 0,    \
    .maximum = (most)                                                                                                 \
  }

/* One owned part that is always there. */
#define NAPPE_SINGLE_ROW(Type, member, kind_type)                                                                     \
  {                                                                                                                   \
    .name = #member, .type = (kind_type), .offset = G_STRUCT_OFFSET (Type, member), .single = TRUE, .minimum = 1,     \
    .maximum = 1                                                                                                      \
  }

/* Ranges that several kinds share [m]. */
#define NAPPE_LENGTH_MAX 20.0
#define NAPPE_HEIGHT_MAX 5.0
#define NAPPE_THICKNESS_MAX 0.1
/* Longest one-line texts [byte]. */
#define NAPPE_TEXT_MAX 4096
/* Most pieces in one run, and most outlets of one line. */
#define NAPPE_RUN_MAX 200
#define NAPPE_OUTLETS_MAX 16

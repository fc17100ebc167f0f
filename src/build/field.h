/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a part is made of, as data.
 *
 * Every kind of part describes its members in a table of fields (values) and a table of slots
 * (parts it owns). The file reader and writer, undo, the inspector, copying and the contract tests
 * all work from these tables, so that a new member is one row and nothing else.
 * Values are SI: [m], [m3], [m3/s], shares 0..1, [1/s], °C, g/kg. */
#pragma once

#include <glib-object.h>

#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum
{
  NAPPE_FIELD_NUMBER,    /* double, SI of the field's quantity; NaN means "not given" where optional */
  NAPPE_FIELD_COUNT,     /* int */
  NAPPE_FIELD_FLAG,      /* gboolean */
  NAPPE_FIELD_CHOICE,    /* int, an index into the field's choices */
  NAPPE_FIELD_TEXT,      /* char *, never NULL, free text */
  NAPPE_FIELD_REFERENCE, /* char *, never NULL, the id of another part or "" */
  NAPPE_FIELD_ITEM,      /* char *, never NULL, the id of a catalogue item or "" */
  NAPPE_FIELD_CURVE,     /* NappeCurve *, NULL when not given */
} NappeFieldType;

/* One alternative of a choice. A table of them ends with a row whose nick is NULL. */
typedef struct
{
  const char *nick;  /* as written in the file, "open-channel" */
  const char *label; /* for people, English, marked N_() */
} NappeChoice;

typedef struct
{
  const char *name; /* "weir_height"; the file's key is this plus the unit, "weir_height_mm" */
  NappeFieldType type;
  NappeQuantity quantity;     /* of a number */
  gsize offset;               /* of the member in the part's struct [byte] */
  double minimum, maximum;    /* accepted range, both included, SI; length of a text in bytes */
  double initial;             /* value of a new part, SI; NaN with optional: not given. Files leave it out, so
                                 that another one here is another version of the file's format. */
  gboolean required;          /* the file must give it */
  gboolean optional;          /* a number that may be absent (NaN) */
  const NappeChoice *choices; /* of a choice */
  const char *label;          /* for people, English, marked N_() */
  const char *refers_to;      /* of a reference: kinds of part it may name, "tank chamber"; NULL: any */
} NappeField;

/* Parts that a part owns. */
typedef struct
{
  const char *name;        /* "drains", as in the file */
  GType (*type) (void);    /* the kind of part in it */
  gsize offset;            /* of a GPtrArray * (a list) or of a NappePart * (a single) [byte] */
  gboolean single;         /* one part that is always there, instead of a list */
  guint minimum, maximum;  /* how many parts a list holds in a file */
} NappeSlot;

#define NAPPE_CURVE_MAX 16

/* A pump's own head–flow points. */
typedef struct
{
  guint n;                                              /* points in use, 2..16 */
  double flow[NAPPE_CURVE_MAX], head[NAPPE_CURVE_MAX];  /* [m3/s], [m] */
} NappeCurve;

#define NAPPE_TYPE_CURVE (nappe_curve_get_type ())
GType nappe_curve_get_type (void);
NappeCurve *nappe_curve_copy (const NappeCurve *curve);
void nappe_curve_free (NappeCurve *curve);
gboolean nappe_curve_equal (const NappeCurve *a, const NappeCurve *b); /* either may be NULL */

/* The file's key of a field, "weir_height_mm". Interned, never freed. */
const char *nappe_field_key (const NappeField *field);

/* The index of a choice's nick, or -1. */
int nappe_field_choice_index (const NappeField *field, const char *nick);

/* Whether a reference may name a part of a kind. */
gboolean nappe_field_may_refer_to (const NappeField *field, const char *kind);

/* The type of GValue that carries the field: double, int, boolean, string or NappeCurve. */
GType nappe_field_value_type (const NappeField *field);

/* Whether a value may stand in the field: type, finite, in range, choice known.
 * Sets an error of NAPPE_BUILD_ERROR that names the field's label and the range. */
gboolean nappe_field_check (const NappeField *field, const GValue *value, GError **error);

/* Puts a value that passed the check on the nearest one that the file can hold exactly. */
void nappe_field_snap (const NappeField *field, GValue *value);

/* Whether two values of the field's type are equal; two numbers that were not given are. */
gboolean nappe_field_value_equal (const NappeField *field, const GValue *a, const GValue *b);

/* Whether the value is the one that a new part has. */
gboolean nappe_field_is_initial (const NappeField *field, const GValue *value);

/* Whether an optional number was given. */
static inline gboolean
nappe_is_given (double value)
{
  return value == value;
}

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

/* A strict check of JSON text before a parser sees it.
 *
 * The parser used by the program is lenient (comments, single quotes, hexadecimal, `var x =`,
 * several roots, duplicate members, infinite numbers) and recurses, so that deep nesting overflows
 * its stack.  The guard accepts exactly the grammar of RFC 8259 with these further limits:
 *
 *  - UTF-8 without a byte-order mark and without NUL, at most `max_size` bytes;
 *  - nesting of at most `max_depth` and at most `max_values` values;
 *  - every number is finite as an IEEE double, has at most 400 characters and, if it is written
 *    without fraction and exponent, fits 64 bits with sign (the parser would wrap it round);
 *  - no member name twice in one object (compared after escapes are resolved);
 *  - no escape that makes a lone surrogate or U+0000.
 *
 * It never recurses, needs time linear in the length of the text, and memory in proportion to
 * the number of values, which `max_values` limits.  Thread-safe.  It depends on GLib alone. */

G_BEGIN_DECLS

#define NAPPE_JSON_ERROR (nappe_json_error_quark ())
GQuark nappe_json_error_quark (void);

/* What is wrong with a text. */
typedef enum
{
  NAPPE_JSON_ERROR_TOO_LARGE,        /* more bytes or more values than the limits allow */
  NAPPE_JSON_ERROR_EMPTY,            /* nothing but white space */
  NAPPE_JSON_ERROR_NUL,              /* a NUL byte, or the escape \u0000 */
  NAPPE_JSON_ERROR_NOT_UTF8,         /* bytes that are not UTF-8, a byte-order mark, or a lone surrogate */
  NAPPE_JSON_ERROR_TOO_DEEP,         /* nesting beyond the limit */
  NAPPE_JSON_ERROR_SYNTAX,           /* a character that cannot stand here, or the text ends too early */
  NAPPE_JSON_ERROR_STRING,           /* a bad escape or a raw control character in a string */
  NAPPE_JSON_ERROR_NUMBER,           /* not a JSON number, or not finite */
  NAPPE_JSON_ERROR_DUPLICATE_MEMBER, /* the same name twice in one object */
  NAPPE_JSON_ERROR_SEVERAL_ROOTS     /* something follows the value */
} NappeJsonError;

/* How much a text may hold. A field of 0 takes the default given beside it. */
typedef struct
{
  gsize max_size;   /* [bytes]; default 4 MiB; never above G_MAXUINT32 - 1 */
  guint max_depth;  /* arrays and objects inside each other; default 64; never above 1024 */
  guint max_values; /* values of every kind, together; default 250 000 */
} NappeJsonLimits;

/* Where the values of a text stand: maps a path such as "drains[1].run[3].length_mm" to a line.
 * The root has the empty path "".  Immutable once made; reading it is thread-safe. */
typedef struct _NappeJsonPlaces NappeJsonPlaces;

/* Checks a text.
 *  text    the bytes; need not end in NUL; must not be NULL unless length is 0
 *  length  [bytes]
 *  limits  nullable: all defaults
 * Returns FALSE with an error in NAPPE_JSON_ERROR whose message names line, column and member, as
 * "line 14, column 17, tank.length_mm: 1e999 is not a finite number".  Lines and columns count
 * from 1; columns count characters. */
gboolean nappe_json_guard (const char *text, gsize length, const NappeJsonLimits *limits, GError **error);

/* The same check; on success returns the places of all values (transfer full), else NULL. */
NappeJsonPlaces *nappe_json_guard_with_places (const char *text, gsize length,
                                               const NappeJsonLimits *limits, GError **error);

/* The line on which the value at `path` begins (for a member: the line of its name), from 1; 0 if
 * there is no such value.  Member names that hold '.' or '[' cannot be asked for. */
guint nappe_json_places_line (const NappeJsonPlaces *places, const char *path);

/* The line of the value at `path` or, if it is missing, of the deepest value around it that is
 * there: where to point when a member is wanted but absent.  Never 0. */
guint nappe_json_places_nearest_line (const NappeJsonPlaces *places, const char *path);

void nappe_json_places_free (NappeJsonPlaces *places);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeJsonPlaces, nappe_json_places_free)

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A lever: one value of the build that a rule thinks may put its finding right.
 *
 * A rule only names levers and how far they may go; how far they must go, and whether that raises another finding, is
 * found by trying (cures/cure.h). A lever is named by ids and fields of the build, so that it fits any copy of it. */
#pragma once

#include <glib-object.h>

G_BEGIN_DECLS

typedef enum
{
  NAPPE_LEVER_NUMBER, /* a number takes another value in a range */
  NAPPE_LEVER_CHOICE, /* a choice, flag, item or text takes one of several values */
  NAPPE_LEVER_SIZE,   /* all pipe, fittings and valves of a drain or return line take another nominal size */
} NappeLeverKind;

/* One field that moves. */
typedef struct
{
  char *part;        /* id */
  const char *field; /* name of the field, interned */
  double factor;     /* it changes by so much for each unit that the first one changes */
} NappeLeverMove;

typedef struct
{
  NappeLeverKind kind;
  GArray *moves;      /* NappeLeverMove; the first is the lever itself, the others follow. SIZE: the line, field NULL */
  double least, most; /* NUMBER: range of the first field, SI */
  gboolean larger;    /* SIZE: larger sizes, else smaller ones */
  double from;        /* NUMBER: where the search begins when the field is not given; else NaN */
  GPtrArray *choices; /* CHOICE: char *, nicks, ids, "true" or "false", or "" for an optional number that is taken away;
                         the first that helps is taken */
} NappeLever;

/* A number between least and most [SI of the field], both within what the field accepts. Transfer full. */
NappeLever *nappe_lever_new_number (const char *part, const char *field, double least, double most);
/* For a number that may be not given: the search begins at `from`, such as the running level for a hole. */
void nappe_lever_begin_at (NappeLever *self, double from);
/* Another number goes along, such as the first pipe's length with the height of its inlet. */
void nappe_lever_follow (NappeLever *self, const char *part, const char *field, double factor);

/* A choice of values in the order of preference. Transfer full. */
NappeLever *nappe_lever_new_choice (const char *part, const char *field);
void nappe_lever_add_choice (NappeLever *self, const char *value);

/* A drain or return line in other sizes, the nearest first: larger ones, or smaller ones. Transfer full. */
NappeLever *nappe_lever_new_size (const char *line, gboolean larger);

void nappe_lever_free (NappeLever *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeLever, nappe_lever_free)

G_END_DECLS

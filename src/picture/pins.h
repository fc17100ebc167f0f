/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings in a picture: where their numbered marks are pinned, and the key under it that says what the marks mean. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* A place where the mark of a part may stand, and the point of the part that a line from a mark further off ends at [px]. */
typedef struct
{
  const char *part; /* id */
  double x, y, to_x, to_y;
} NappePin;

/* Findings about parts of a set (ids), in their order: NappeFinding. verdict may be NULL. Transfer full. */
GPtrArray *nappe_findings_about (const NappeVerdict *verdict, GHashTable *parts);

/* Each finding on the first of its part's pins that is free, else near the first of them with a line to it. One about a
 * piece or an outlet that has no pin of its own belongs to what it stands in. The pin of what nothing else has a pin for,
 * such as the whole build, is that of the part "". */
void nappe_pin_findings (NappeScene *scene, NappeBuild *build, const GPtrArray *findings, const NappePin *pins, guint n);

/* Adds pins for the whole build to an array of them: in a row beside the title, from x on [px]. */
void nappe_pins_add_whole (GArray *pins, NappeScene *scene, double x, double y);

/* The numbers and titles of findings become part of what is said about their parts, where the picture has them: so
 * nothing is lost where a mark or a line of the key finds no room. verdict may be NULL. */
void nappe_findings_say (NappeScene *scene, NappeBuild *build, const NappeVerdict *verdict);

/* Rows of marks with the titles of their findings. */
typedef struct
{
  NappeScene *scene;
  double scale;            /* of texts */
  double left, right, top; /* [px] */
  guint most_rows;
  gboolean draw;           /* else it is only measured */
  double x;                /* where the writing has come to [px] */
  guint row;
  NappeSeverity severity;  /* of the last entry; FINE: none yet */
} NappeFindingKey;

/* Writes findings from the left end of the first row on. Returns how many had room; how many had none is said. */
guint nappe_finding_key_write (NappeFindingKey *self, const GPtrArray *findings);
/* Writes a text behind them after a sample `indent` px wide. Returns where the sample begins; NaN: there was no room. */
double nappe_finding_key_soft (NappeFindingKey *self, const char *text, double indent, NappeRole role);
double nappe_finding_key_middle (const NappeFindingKey *self); /* y of the row that it has come to [px] */
double nappe_finding_key_height (const NappeFindingKey *self); /* of the rows that were used [px] */

G_END_DECLS

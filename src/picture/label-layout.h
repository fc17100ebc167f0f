/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds places for labels: they never share a place with each other, pipes, marks or dimensions.
 * A label that finds no place is left out; the picture's items still say it. Put the important
 * ones first. */
#pragma once

#include "picture/scene.h"

G_BEGIN_DECLS

/* Whether a label may stand there: inside the paper and clear of everything but soft blocks. gap: least distance [px]. */
gboolean nappe_label_is_free (const NappeScene *scene, const NappeBox *box, double gap);

/* One text at the first free of n points (x and y and aligns of `styles`). Returns FALSE when none is. */
gboolean nappe_label_place_text (NappeScene *scene, NappeLayer layer, const char *text, const NappeTextStyle *styles,
                                  guint n, NappeBox *taken);

/* The text, or as much of it as fits the width [px] with an ellipsis behind. Transfer full. */
char *nappe_label_shorten (NappeScene *scene, const char *text, const NappeTextStyle *style, double width);

#define NAPPE_LABEL_LINES_MAX 4
typedef struct
{
  const char *part;  /* id, picked by the label too; may be NULL */
  const char *name, *value; /* first line, in ink: "Main siphon", "3 320 L/h"; value may be NULL */
  const char *lines[NAPPE_LABEL_LINES_MAX]; /* further lines, soft; NULL ends them */
  double x, y;       /* where its leader ends [px] */
  gboolean plain;    /* no frame, soft text: for what explains itself */
  double way;        /* -1: rather to the left of it, +1: to the right, 0: either */
  NappeBox area;     /* where it may stand; of no width: the whole paper */
} NappeLabelSpec;

/* A label with a leader to its point. Tries all lines, then fewer. Returns FALSE when there is no room. */
gboolean nappe_label_place (NappeScene *scene, const NappeLabelSpec *spec, NappeBox *taken);
/* The same with a choice of points (x, y and way of n specs that are equal in all else): the cheapest is taken. */
gboolean nappe_label_place_any (NappeScene *scene, const NappeLabelSpec *specs, guint n, NappeBox *taken);

G_END_DECLS

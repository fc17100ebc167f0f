/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between the files of this room alone. */
#pragma once

#include "assembly/assembly.h"
#include "network/layout.h"

/* Sideways pipes fall by a share of their length: common practice, a little over a quarter inch in a foot. */
#define NAPPE_ASSEMBLY_FALL (1.0 / 40)
/* Lengths and places are whole millimetres [m]. */
#define NAPPE_ASSEMBLY_CUT 0.001

/* Sets an error. Returns FALSE. message: transfer full. */
gboolean nappe_assembly_fail (GError **error, NappeAssemblyError code, char *message);
/* Ends a step that was begun with nappe_build_begin. Returns done. */
gboolean nappe_assembly_end (NappeBuild *build, gboolean done);
/* An item of a kind, or NULL with an error. */
const NappeItem *nappe_assembly_item (NappeCatalogue *catalogue, const char *id, NappeItemKind kind, GError **error);
/* Gives a part that stands in no build the name, made unlike those of the build's parts by a number. */
void nappe_assembly_name (NappeBuild *build, NappePart *part, const char *name);
/* Writes values of a part that stands in no build yet. */
void nappe_assembly_write_text (NappePart *part, const char *field, const char *text);
void nappe_assembly_write_number (NappePart *part, const char *field, double value);

/* levels.c: about how high the water stands in a chamber, over the sump's floor [m]: as high as the walls on its way to the
 * return chamber make it stand, without the water over their crests. */
double nappe_assembly_chamber_level (NappeBuild *build, guint chamber);
/* The index of the chamber where the return pumps stand; G_MAXUINT: there is none. */
guint nappe_assembly_return_chamber (NappeBuild *build);

/* box-places.c: the pipe for n more drains of a box: of the family and size of a pipe, or the widest narrower one whose
 * bulkheads have room in the box's floor beside its drains, which may move along. NULL with an error that tells how
 * large the box has to be. An id that is no pipe comes back as it is. */
const char *nappe_assembly_pipe_for_box (NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box, const char *id,
                                         guint n, GError **error);
/* A place for a drain with a bulkhead (NULL: it has none); where none is free, the others move along the box. An error as above.
 * *x: from the box's left wall [m]. */
gboolean nappe_assembly_make_place_in_box (NappeBuild *build, NappeCatalogue *catalogue, const NappeOverflow *box,
                                           const NappeItem *bulkhead, double *x, GError **error);

/* drains.c: catalogue id of the pipe of a drain that has no other beside it; "": the catalogue has none. */
const char *nappe_assembly_usual_drain_pipe (NappeCatalogue *catalogue);

/* equipment.c: left side of the first free place for a thing of a length in a chamber, tank or side vessel, or else of the one
 * with the most room, from its left side [m]. */
double nappe_assembly_free_place (NappeBuild *build, NappeCatalogue *catalogue, NappePart *where, double length);

/* The span in a chamber, tank or side vessel that what stands in its water takes, from its left side [m]. FALSE: nothing does. */
gboolean nappe_assembly_span_in (NappeBuild *build, NappeCatalogue *catalogue, NappePart *where, double *left, double *right);

/* plumbing.c: makes runs of one pipe and what joins it. */
typedef struct
{
  NappeCatalogue *catalogue;
  const NappeItem *pipe;
  const NappeItem *elbow; /* NULL: it bends by itself, as hose does */
} NappePlumbing;
/* pipe: catalogue id of a pipe or hose. */
gboolean nappe_plumbing_begin (NappePlumbing *self, NappeCatalogue *catalogue, const char *pipe, GError **error);
/* What joins the pipe, or NULL with an error. detail: as of nappe_catalogue_match. */
const NappeItem *nappe_plumbing_fit (const NappePlumbing *self, NappeItemKind kind, const char *detail, GError **error);
void nappe_plumbing_add (GPtrArray *run, const NappeItem *item);
void nappe_plumbing_add_pipe (const NappePlumbing *self, GPtrArray *run, double length, NappeToward toward, double fall);

typedef struct
{
  NappePoint from, to;
  double via;               /* z at which it turns sideways [m] */
  double fall;              /* of its level pipes, share of their length */
  int before;               /* NappeToward of the pipe before it; -1: none */
  const NappeItem *early;   /* in its first upright pipe, a little after its begin; NULL: none */
  const NappeItem *late[2]; /* in its last upright pipe, a little after its begin; NULL: none */
} NappeWay;
/* Appends the pipes and elbows of a way: up or down, along x, along y, up or down. */
void nappe_plumbing_lead (const NappePlumbing *self, GPtrArray *run, const NappeWay *way);
/* Moves pieces that stand in no build to the run of a part that stands in none. Frees the array. */
void nappe_plumbing_take (NappePart *owner, GPtrArray *run);
/* A new run, which owns its pieces. */
GPtrArray *nappe_plumbing_new_run (void);

/* mending.c: what joins pieces of which some got another item. */
typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue;
  GHashTable *touched; /* pieces that were changed; what else does not fit was so before */
  GError **error;
} NappeMending;
const NappeItem *nappe_mending_item (const NappeMending *self, gpointer piece);
gboolean nappe_mending_set_item (NappeMending *self, gpointer piece, const NappeItem *item);
/* A piece that is there for nothing but to join two others that do not: a reducer, a barb, a threaded adapter. */
gboolean nappe_item_is_joiner (const NappeItem *item);
/* Joins what was changed in a line with what stands beside it, also in lines that end in its tees. */
gboolean nappe_mending_join (NappeMending *self, NappePart *line);

/* home.c: leads the ends of a drain or return line into what they are said to lead to. */
gboolean nappe_assembly_lead_home (NappeBuild *build, NappeCatalogue *catalogue, NappePart *line, GError **error);

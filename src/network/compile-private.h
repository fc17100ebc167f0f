/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the compiler share. */
#pragma once

#include "network/network.h"

G_BEGIN_DECLS

/* A network that grows while it is compiled. */
typedef struct
{
  NappeBuild *build;
  const NappeLayout *layout;
  GArray *nodes;     /* NappeNode */
  GArray *links;     /* NappeLink */
  GArray *stretches; /* NappeStretch */
  GArray *losses;    /* NappeLoss */
  GArray *contents;  /* NappeContent */
  GArray *level_pieces; /* NappeLevelPiece */
  GArray *problems;  /* NappeProblem */
  NappeNetwork *network;
} NappeCompiler;

guint nappe_compiler_add_node (NappeCompiler *self, NappePart *part, NappeNodeKind kind);
/* Valid until the next link is added. part: NULL for a section of a trunk between two junctions. */
NappeLink *nappe_compiler_add_link (NappeCompiler *self, NappePart *part, NappeLinkKind kind, guint from, guint to);
NappeNode *nappe_compiler_node (NappeCompiler *self, guint index);
/* The vessel that a part is, or -1. */
gint nappe_compiler_vessel (NappeCompiler *self, const char *id);
void nappe_compiler_problem (NappeCompiler *self, NappePart *part, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* compile-run.c: turns legs into stretches and contents of a link. */
typedef struct
{
  NappeCompiler *compiler;
  NappePart *line;
  double bore;            /* left open in the pipe reached so far [m]; 0 at the start */
  const NappeLeg *hose;   /* the leg reached, when it is a hose, which may turn into the next */
  guint first_stretch, first_loss, first_content, first_level_piece;
  NappeLinkValve valve;
  gboolean has_entrance, shut, has_check;
  guint n_before_check; /* contents */
} NappeRunBuilder;

/* What growth in a line leaves open of a bore [m]; other parts have none. */
double nappe_line_bore (NappePart *line, double bore);

void nappe_run_begin (NappeRunBuilder *self, NappeCompiler *compiler, NappePart *line, double bore);
/* The entrance, before all else and on the bore reached: a stretch of its own that scenarios may change. */
void nappe_run_add_entrance (NappeRunBuilder *self, double k);
/* The sudden change to another bore, caused by a piece (NULL: by none). */
void nappe_run_change_bore (NappeRunBuilder *self, NappePiece *piece, double bore);
void nappe_run_add_legs (NappeRunBuilder *self, const NappeRoute *route, guint first, guint end);
/* The way between a tee's run and its branch, on the bore reached. */
void nappe_run_add_tee_branch (NappeRunBuilder *self, const NappeLeg *tee);
/* Hands what was built to the link; with_exit adds the loss of the exit, else that of a bare joint. */
void nappe_run_end (NappeRunBuilder *self, NappeLink *link, gboolean with_exit);

/* compile-vessels.c: all vessels, and the links between them that are no pipes. */
void nappe_compile_vessels (NappeCompiler *self);

/* compile-ends.c: where lines end and meet */
typedef struct
{
  gint node;           /* that an outlet ends in; -1: none, and the problem is told */
  const NappeLeg *tee; /* of the return line that it joins there; NULL: it ends in a vessel */
} NappeLineEnd;

/* The first outlet that branches at a leg of the trunk (-1: at its end), or NULL. */
const NappeOutletLayout *nappe_line_outlet_at (const NappeLineLayout *line, gint leg);
/* Whether the trunk has a junction at a leg, and that junction's node, made when there is none yet. */
gboolean nappe_line_branches_at (NappeCompiler *self, const NappeLineLayout *line, guint leg);
guint nappe_line_junction_at (NappeCompiler *self, const NappeLineLayout *line, guint leg);
NappeLineEnd nappe_line_end (NappeCompiler *self, const NappeLineLayout *line, const NappeOutletLayout *outlet);
/* The outlet's own pieces and what comes behind them: the exit, or the way into the tee of another line. Hands all to the
 * link, with where it ends. */
void nappe_line_finish (NappeRunBuilder *run, NappeLink *link, const NappeOutletLayout *outlet, const NappeLineEnd *end);

/* compile-lines.c */
void nappe_compile_drain (NappeCompiler *self, const NappeLineLayout *line);
void nappe_compile_return (NappeCompiler *self, const NappeLineLayout *line);

G_END_DECLS

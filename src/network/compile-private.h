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
  double bore;            /* of the pipe reached so far [m]; 0 at the start */
  guint first_stretch, first_content, first_level_piece;
  NappeLinkValve valve;
  gboolean shut, has_check;
} NappeRunBuilder;

void nappe_run_begin (NappeRunBuilder *self, NappeCompiler *compiler, NappePart *line, double bore);
/* A loss on the bore reached, as a stretch of its own that scenarios may change. Returns its index in the pool. */
guint nappe_run_add_loss (NappeRunBuilder *self, double bore, double k, double k1);
void nappe_run_add_legs (NappeRunBuilder *self, const NappeRoute *route, guint first, guint end);
/* The way from a tee's run into its branch. */
void nappe_run_add_tee_branch (NappeRunBuilder *self, const NappeLeg *tee);
/* Hands what was built to the link; with_exit adds the loss of the exit. */
void nappe_run_end (NappeRunBuilder *self, NappeLink *link, gboolean with_exit);

/* compile-lines.c */
void nappe_compile_drain (NappeCompiler *self, const NappeLineLayout *line);
void nappe_compile_return (NappeCompiler *self, const NappeLineLayout *line);

G_END_DECLS

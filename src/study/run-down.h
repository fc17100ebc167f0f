/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How vessels above the sump run down once the pumps stand: display, boxes, side vessels.
 *
 * Water leaves a vessel by ways: over a weir, a spout, through the joints of two boxes, into a drain, or by siphon back
 * through a return line, whose stopped pump is an open passage; a pump that draws from the tank lets it siphon forwards
 * too, when its line ends lower. A way takes water down to its edge, or to where the vessel that it leads to stops
 * itself. Chambers, socks and side vessels that stand beside the sump take all: their levels are found by pools.h. */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

typedef struct
{
  guint from, to;    /* nodes: the vessel that runs down, the vessel that the water comes to */
  double edge;       /* down to which the way takes water, z [m] */
  double weight;     /* running flow along it, by which ways share what leaves together [m3/s] */
  gboolean siphon;   /* of a return line: takes only what nothing else takes, so that the boxes get their water first */
  guint link;        /* whose edge it is */
} NappeWay;

typedef struct
{
  const NappeNetwork *network;
  GArray *ways;         /* NappeWay; also those of vessels beside the sump */
  double *stop;         /* by node: where it stops, z [m]; -INFINITY: takes all, INFINITY: nothing runs out of it */
  guint *stop_way;      /* by node: index of the way that stops it; G_MAXUINT: none */
  gboolean *above;      /* by node: a vessel that runs down here */
  double *volume;       /* by node: water in those vessels [m3]; what comes to others is handed out */
} NappeRunDown;

/* running: state that the power fails in. Transfer full. */
NappeRunDown *nappe_run_down_new (const NappeNetwork *network, const NappeState *running, gboolean check_valve_holds,
                                  gboolean siphon_break_open);
void nappe_run_down_free (NappeRunDown *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeRunDown, nappe_run_down_free)

/* Lowers all vessels to their stops. took: by node, adds the water that came to vessels that take all [m3]. */
void nappe_run_down_settle (NappeRunDown *self, double *took);

/* The vessel that the water in a pipe runs to once nothing flows: where its drain leads, or back through its line;
 * G_MAXUINT: a check valve or shut valves hold it. Of a pipe with a check valve in it that holds it is the end of what stands
 * before the valve. */
guint nappe_run_down_pipe_end (const NappeNetwork *network, guint link, gboolean check_valve_holds);

G_END_DECLS

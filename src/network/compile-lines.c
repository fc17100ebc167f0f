/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains and return lines: a trunk that may branch at tees becomes one link a section, with a junction
 * at every tee that has an outlet. */
#include "network/compile-private.h"

#include "physics/fitting.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const NappeOutletLayout *
outlet_at (const NappeLineLayout *line, gint leg)
{
  for (guint i = 0; i < line->n_outlets; i++)
    if (line->outlets[i].tee_leg == leg)
      return &line->outlets[i];
  return NULL;
}

/* The vessel that an outlet ends in, or -1 with the problem told. */
static gint
destination (NappeCompiler *self, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  gint node = nappe_compiler_vessel (self, outlet->part->into);

  if (node < 0)
    nappe_compiler_problem (self, line->part,
                            /* Translators: a pipe's end names no vessel; %s is the id that it names. */
                            _ ("An outlet of this line ends nowhere: there is no vessel “%s”."), outlet->part->into);
  return node;
}

static double
tank_height (NappeCompiler *self, double height)
{
  return nappe_is_given (height) ? self->layout->tank.floor + height : -INFINITY;
}

/* The open end of a link that leads into a vessel. */
static void
set_outlet (NappeCompiler *self, NappeLink *link, const NappeOutletLayout *outlet)
{
  g_strlcpy (link->outlet, nappe_part_get_id (NAPPE_PART (outlet->part)), sizeof link->outlet);
  if (link->kind == NAPPE_LINK_PIPE)
    g_strlcpy (link->id, link->outlet, sizeof link->id);
  link->sill = outlet->route.end.z;
  /* Backflow stops when air enters: at the hole, or else at the mouth. */
  link->siphon_break = fmax (tank_height (self, outlet->part->siphon_break_height), outlet->route.end.z);
}

static void
compile_branch (NappeCompiler *self, const NappeLineLayout *line, const NappeOutletLayout *outlet, guint junction)
{
  gint to = destination (self, line, outlet);

  if (to < 0)
    return;
  NappeRunBuilder run;
  nappe_run_begin (&run, self, line->part, 0);
  nappe_run_add_tee_branch (&run, &line->trunk.legs[outlet->tee_leg]);
  nappe_run_add_legs (&run, &outlet->route, 0, outlet->route.n_legs);
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (outlet->part), NAPPE_LINK_PIPE, junction, (guint) to);
  g_strlcpy (link->line, nappe_part_get_id (line->part), sizeof link->line);
  link->highest = outlet->route.highest;
  nappe_run_end (&run, link, TRUE);
  set_outlet (self, link, outlet);
}

/* The section of the trunk from leg `first` to the next tee that branches, or through the outlet at its end.
 * Fills the link; returns the leg after the section, or G_MAXUINT when the line ended. */
static guint
compile_section (NappeCompiler *self, const NappeLineLayout *line, NappeRunBuilder *run, guint first, guint link_index)
{
  guint end = first;

  while (end < line->trunk.n_legs && outlet_at (line, (gint) end) == NULL)
    end++;
  gboolean at_tee = end < line->trunk.n_legs;
  /* The tee's own straight loss belongs to the section that goes on behind it. */
  nappe_run_add_legs (run, &line->trunk, first, end);
  const NappeOutletLayout *last = at_tee ? NULL : outlet_at (line, -1);
  gint to = at_tee ? (gint) nappe_compiler_add_node (self, NULL, NAPPE_NODE_JUNCTION) : -1;

  if (last != NULL)
    {
      to = destination (self, line, last);
      nappe_run_add_legs (run, &last->route, 0, last->route.n_legs);
    }
  NappeLink *link = &g_array_index (self->links, NappeLink, link_index);
  for (guint i = first; i < end; i++)
    link->highest = fmax (link->highest, fmax (line->trunk.legs[i].from.z, line->trunk.legs[i].to.z));
  nappe_run_end (run, link, !at_tee);
  g_strlcpy (link->line, nappe_part_get_id (line->part), sizeof link->line);
  if (last != NULL)
    {
      link->highest = fmax (link->highest, last->route.highest);
      set_outlet (self, link, last);
    }
  if (to < 0)
    {
      link->shut = TRUE; /* a dead end */
      link->to = self->network->floor;
      return G_MAXUINT;
    }
  link->trunk = TRUE;
  link->to = (guint) to;
  return at_tee ? end : G_MAXUINT;
}

/* Branches of the tee at `leg`, then the sections behind it. */
static void
compile_behind (NappeCompiler *self, const NappeLineLayout *line, guint leg, guint junction)
{
  while (leg != G_MAXUINT)
    {
      for (guint i = 0; i < line->n_outlets; i++)
        if (line->outlets[i].tee_leg == (gint) leg)
          compile_branch (self, line, &line->outlets[i], junction);
      gboolean capped = outlet_at (line, -1) == NULL;
      for (guint i = leg + 1; i < line->trunk.n_legs && capped; i++)
        capped = outlet_at (line, (gint) i) == NULL;
      if (capped)
        return;
      NappeRunBuilder run;
      nappe_run_begin (&run, self, line->part, line->trunk.legs[leg].bore);
      nappe_run_add_legs (&run, &line->trunk, leg, leg + 1);
      nappe_compiler_add_link (self, NULL, NAPPE_LINK_PIPE, junction, self->network->floor);
      guint index = self->links->len - 1;
      leg = compile_section (self, line, &run, leg + 1, index);
      junction = g_array_index (self->links, NappeLink, index).to;
    }
}

static void
check_tees (NappeCompiler *self, const NappeLineLayout *line)
{
  guint ends = 0;

  for (guint i = 0; i < line->n_outlets; i++)
    ends += line->outlets[i].tee_leg == -1;
  if (ends > 1)
    nappe_compiler_problem (self, line->part,
                            _ ("Two outlets share the end of this line; only the first is reckoned. A second one needs a tee."));
  for (guint i = 0; i < line->n_outlets; i++)
    if (line->outlets[i].tee_leg == -2)
      nappe_compiler_problem (self, line->part,
                              /* Translators: %s is the id that an outlet names as its tee. */
                              _ ("An outlet branches at “%s”, which is no piece of this line."),
                              line->outlets[i].part->tee);
  if (line->n_outlets == 0)
    nappe_compiler_problem (self, line->part, _ ("This line has no outlet; it carries nothing."));
}

static const NappeEntrance entrances[] = {
  [NAPPE_INLET_OPEN_END] = NAPPE_ENTRANCE_PROJECTING,
  [NAPPE_INLET_DOWNTURNED_ELBOW] = NAPPE_ENTRANCE_DOWNTURNED_ELBOW,
  [NAPPE_INLET_STRAINER] = NAPPE_ENTRANCE_STRAINER,
  [NAPPE_INLET_FLUSH] = NAPPE_ENTRANCE_FLUSH,
};

void
nappe_compile_drain (NappeCompiler *self, const NappeLineLayout *line)
{
  NappeDrain *drain = NAPPE_DRAIN (line->part);
  gint box = nappe_compiler_vessel (self, drain->overflow);

  check_tees (self, line);
  if (box < 0 || nappe_compiler_node (self, (guint) box)->kind != NAPPE_NODE_BOX)
    {
      nappe_compiler_problem (self, line->part, _ ("This drain stands in no overflow box."));
      return;
    }
  gboolean known = line->trunk.n_legs > 0 && line->trunk.legs[0].bore > 0;
  double bore = known ? line->trunk.legs[0].bore : NAPPE_UNKNOWN_BORE;
  NappeLink *link = nappe_compiler_add_link (self, line->part, NAPPE_LINK_DRAIN, (guint) box, self->network->floor);
  guint index = self->links->len - 1;

  link->highest = line->crest;
  link->inlet = (NappeDrainInlet){ drain->role, drain->vented, line->crest, line->mouth, line->brink, bore,
                                   known ? line->trunk.legs[0].outside : NAPPE_UNKNOWN_BORE,
                                   nappe_k_entrance (entrances[CLAMP (drain->inlet, 0, 3)]) };
  NappeRunBuilder run;
  nappe_run_begin (&run, self, line->part, bore);
  nappe_run_add_loss (&run, bore, link->inlet.entrance_k, 0);
  guint leg = compile_section (self, line, &run, 0, index);
  compile_behind (self, line, leg, g_array_index (self->links, NappeLink, index).to);
}

/* The pump's curve: its own, or the catalogue's. */
static gboolean
take_curve (NappeCompiler *self, NappePump *pump, NappeLink *link)
{
  const NappeItem *item = nappe_catalogue_find (self->network->catalogue, pump->item);
  gboolean is_pump = item != NULL && item->kind == NAPPE_ITEM_PUMP;

  link->inlet_bore = nappe_is_given (pump->inlet_bore) ? pump->inlet_bore
                     : is_pump && item->inlet_bore > 0 ? item->inlet_bore
                                                       : NAN;
  if (pump->curve != NULL)
    return nappe_pump_curve_init (&link->curve, pump->curve->flow, pump->curve->head, pump->curve->n);
  return is_pump && nappe_pump_curve_init (&link->curve, item->curve_flow, item->curve_head, item->n_curve);
}

void
nappe_compile_return (NappeCompiler *self, const NappeLineLayout *line)
{
  NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump);
  gint chamber = nappe_compiler_vessel (self, pump->chamber);

  check_tees (self, line);
  if (chamber < 0 || nappe_compiler_node (self, (guint) chamber)->kind != NAPPE_NODE_CHAMBER)
    {
      nappe_compiler_problem (self, line->part, _ ("This pump stands in no chamber of the sump."));
      return;
    }
  guint discharge = nappe_compiler_add_node (self, NULL, NAPPE_NODE_JUNCTION);
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (pump), NAPPE_LINK_PUMP, (guint) chamber, discharge);

  g_strlcpy (link->line, nappe_part_get_id (line->part), sizeof link->line);
  link->speed = pump->speed;
  link->head_left = pump->head_left;
  link->pump_inlet = line->inlet;
  link->highest = line->trunk.highest;
  if (!take_curve (self, pump, link))
    {
      link->speed = 0;
      nappe_compiler_problem (self, NAPPE_PART (pump),
                              _ ("This pump has no usable curve: neither a known catalogue pump nor points of its own "
                                 "with rising flow and falling head."));
    }
  nappe_compiler_add_link (self, NULL, NAPPE_LINK_PIPE, discharge, self->network->floor);
  guint index = self->links->len - 1;
  NappeRunBuilder run;
  nappe_run_begin (&run, self, line->part, 0);
  guint leg = compile_section (self, line, &run, 0, index);
  compile_behind (self, line, leg, g_array_index (self->links, NappeLink, index).to);
}

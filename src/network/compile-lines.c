/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains and return lines: a trunk that may branch at tees becomes one link a section, with a junction
 * at every tee that has an outlet or is joined by another line. */
#include "network/compile-private.h"

#include "physics/fitting.h"
#include "physics/growth.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
compile_branch (NappeCompiler *self, const NappeLineLayout *line, const NappeOutletLayout *outlet, guint junction)
{
  const NappeLeg *tee = &line->trunk.legs[outlet->tee_leg];
  NappeLineEnd end = nappe_line_end (self, line, outlet);
  NappeRunBuilder run;

  if (end.node < 0)
    return;
  nappe_run_begin (&run, self, line->part, nappe_line_bore (line->part, tee->bore));
  nappe_run_add_tee_branch (&run, tee);
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (outlet->part), NAPPE_LINK_PIPE, junction, (guint) end.node);
  g_strlcpy (link->line, nappe_part_get_id (line->part), sizeof link->line);
  nappe_line_finish (&run, link, outlet, &end);
}

static double
highest_of (const NappeRoute *route, guint first, guint end, double least)
{
  for (guint i = first; i < end; i++)
    least = fmax (least, fmax (route->legs[i].from.z, route->legs[i].to.z));
  return least;
}

/* The section of the trunk from leg `first` to the next junction, or through the outlet at its end.
 * Fills the link; returns the leg of that junction's tee, or G_MAXUINT when the line ended. */
static guint
compile_section (NappeCompiler *self, const NappeLineLayout *line, NappeRunBuilder *run, guint first, guint link_index)
{
  guint tee = first;

  while (tee < line->trunk.n_legs && !nappe_line_branches_at (self, line, tee))
    tee++;
  gboolean at_tee = tee < line->trunk.n_legs;
  const NappeOutletLayout *last = at_tee ? NULL : nappe_line_outlet_at (line, -1);
  NappeLineEnd end = { -1, NULL };
  if (at_tee)
    end.node = (gint) nappe_line_junction_at (self, line, tee);
  else if (last != NULL)
    end = nappe_line_end (self, line, last);
  NappeLink *link = &g_array_index (self->links, NappeLink, link_index);
  g_strlcpy (link->line, nappe_part_get_id (line->part), sizeof link->line);
  link->highest = highest_of (&line->trunk, first, tee, link->highest);
  link->trunk = end.node >= 0;
  link->to = end.node >= 0 ? (guint) end.node : self->network->floor;
  /* The tee's own straight loss belongs to the section that goes on behind it. */
  nappe_run_add_legs (run, &line->trunk, first, tee);
  if (last != NULL)
    nappe_line_finish (run, link, last, &end);
  else
    nappe_run_end (run, link, !at_tee);
  link->shut |= end.node < 0; /* a dead end */
  return at_tee ? tee : G_MAXUINT;
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
      gboolean capped = nappe_line_outlet_at (line, -1) == NULL;
      for (guint i = leg + 1; i < line->trunk.n_legs && capped; i++)
        capped = !nappe_line_branches_at (self, line, i);
      if (capped)
        return;
      NappeRunBuilder run;
      nappe_run_begin (&run, self, line->part, nappe_line_bore (line->part, line->trunk.legs[leg].bore));
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
                            _("Two outlets share the end of this line; only the first is reckoned. A second one needs a tee."));
  for (guint i = 0; i < line->n_outlets; i++)
    if (line->outlets[i].tee_leg == -2)
      nappe_compiler_problem (self, line->part,
                              /* Translators: %s is the id that an outlet names as its tee. */
                              _("An outlet branches at “%s”, which is no piece of this line."),
                              line->outlets[i].part->tee);
  if (line->n_outlets == 0)
    nappe_compiler_problem (self, line->part, _("This line has no outlet; it carries nothing."));
}

/* Whether growth is so thick in a pipe of the run that its law of narrowing has come to its end. */
static gboolean
is_overgrown (NappePart *line, const NappeRoute *route)
{
  for (guint i = 0; i < route->n_legs; i++)
    {
      const NappeItem *item = route->legs[i].item;
      gboolean tube = item != NULL && (item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE);

      if (tube && nappe_line_bore (line, item->bore) <= NAPPE_GROWTH_LEAST_OPEN * item->bore)
        return TRUE;
    }
  return FALSE;
}

static void
check_line (NappeCompiler *self, const NappeLineLayout *line)
{
  gboolean overgrown = is_overgrown (line->part, &line->trunk);

  check_tees (self, line);
  for (guint i = 0; i < line->n_outlets; i++)
    overgrown |= is_overgrown (line->part, &line->outlets[i].route);
  if (overgrown)
    nappe_compiler_problem (
        self, line->part,
        _("The growth on the wall would close a pipe of this line; a tenth of its bore is reckoned as open."));
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

  check_line (self, line);
  if (box < 0 || nappe_compiler_node (self, (guint) box)->kind != NAPPE_NODE_BOX)
    {
      nappe_compiler_problem (self, line->part, _("This drain stands in no overflow box."));
      return;
    }
  gboolean known = line->trunk.n_legs > 0 && line->trunk.legs[0].bore > 0;
  double bore = nappe_line_bore (line->part, known ? line->trunk.legs[0].bore : NAPPE_UNKNOWN_BORE);
  NappeLink *link = nappe_compiler_add_link (self, line->part, NAPPE_LINK_DRAIN, (guint) box, self->network->floor);
  guint index = self->links->len - 1;

  link->highest = line->crest;
  link->inlet = (NappeDrainInlet){ drain->role, drain->vented, line->crest, line->mouth, line->brink, bore,
                                   known ? line->trunk.legs[0].outside : NAPPE_UNKNOWN_BORE,
                                   nappe_k_entrance (entrances[CLAMP (drain->inlet, 0, 3)]) };
  NappeRunBuilder run;
  nappe_run_begin (&run, self, line->part, bore);
  nappe_run_add_entrance (&run, link->inlet.entrance_k);
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

static gboolean
can_feed_pump (NappeNodeKind kind)
{
  return kind == NAPPE_NODE_CHAMBER || kind == NAPPE_NODE_DISPLAY || kind == NAPPE_NODE_VESSEL;
}

void
nappe_compile_return (NappeCompiler *self, const NappeLineLayout *line)
{
  NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump);
  gint source = nappe_compiler_vessel (self, pump->chamber);

  check_line (self, line);
  if (source < 0 || !can_feed_pump (nappe_compiler_node (self, (guint) source)->kind))
    {
      nappe_compiler_problem (self, line->part,
                              /* Translators: %s is the id of what the pump is said to draw from. */
                              _("This pump draws from nothing: “%s” is no chamber, tank or side vessel."), pump->chamber);
      return;
    }
  guint discharge = nappe_compiler_add_node (self, NULL, NAPPE_NODE_JUNCTION);
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (pump), NAPPE_LINK_PUMP, (guint) source, discharge);

  g_strlcpy (link->line, nappe_part_get_id (line->part), sizeof link->line);
  link->count = (guint) MAX (pump->count, 1);
  link->speed = pump->speed;
  link->head_left = pump->head_left;
  link->pump_inlet = line->inlet;
  link->highest = line->trunk.highest;
  if (!take_curve (self, pump, link))
    {
      link->speed = 0;
      nappe_compiler_problem (self, NAPPE_PART (pump),
                              _("This pump has no usable curve: neither a known catalogue pump nor points of its own "
                                 "with rising flow and falling head."));
    }
  nappe_compiler_add_link (self, NULL, NAPPE_LINK_PIPE, discharge, self->network->floor);
  guint index = self->links->len - 1;
  NappeRunBuilder run;
  nappe_run_begin (&run, self, line->part, 0);
  guint leg = compile_section (self, line, &run, 0, index);
  compile_behind (self, line, leg, g_array_index (self->links, NappeLink, index).to);
}

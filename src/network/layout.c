/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where pipe runs lead, from vessel to vessel. */
#include "network/layout-private.h"

#include <math.h>

static NappePoint
advance (NappePoint from, const NappePiece *piece)
{
  NappePoint to = from;
  double length = piece->length;

  switch (piece->toward)
    {
    case NAPPE_TOWARD_DOWN:
      to.z -= length;
      return to;
    case NAPPE_TOWARD_UP:
      to.z += length;
      return to;
    default:
      break;
    }
  double fall = CLAMP (piece->fall, -length, length);
  double level = sqrt (fmax (0, length * length - fall * fall));

  to.z -= fall;
  if (piece->toward == NAPPE_TOWARD_LEFT)
    to.x -= level;
  else if (piece->toward == NAPPE_TOWARD_RIGHT)
    to.x += level;
  else if (piece->toward == NAPPE_TOWARD_FRONT)
    to.y -= level;
  else
    to.y += level;
  return to;
}

/* The bore that the first pipe of a run has, for fittings that stand before it. */
static const NappeItem *
first_pipe (GPtrArray *run, NappeCatalogue *catalogue)
{
  for (guint i = 0; i < run->len; i++)
    {
      const NappePiece *piece = run->pdata[i];
      const NappeItem *item = nappe_catalogue_find (catalogue, piece->item);

      if (item != NULL && (item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE))
        return item;
    }
  return NULL;
}

static void
lay_route (NappeRoute *route, NappePoint start, GPtrArray *run, NappeCatalogue *catalogue, double bore, double outside)
{
  const NappeItem *pipe = first_pipe (run, catalogue);

  if (pipe != NULL)
    {
      bore = pipe->bore;
      outside = pipe->outside_diameter;
    }
  *route = (NappeRoute){ .start = start, .end = start, .n_legs = run->len, .highest = start.z };
  route->legs = g_new0 (NappeLeg, run->len);
  for (guint i = 0; i < run->len; i++)
    {
      NappeLeg *leg = &route->legs[i];

      leg->piece = run->pdata[i];
      leg->item = nappe_catalogue_find (catalogue, leg->piece->item);
      if (leg->item != NULL && (leg->item->kind == NAPPE_ITEM_PIPE || leg->item->kind == NAPPE_ITEM_HOSE))
        {
          bore = leg->item->bore;
          outside = leg->item->outside_diameter;
        }
      leg->bore = bore;
      leg->outside = outside;
      leg->from = route->end;
      leg->to = route->end = advance (leg->from, leg->piece);
      route->length += leg->piece->length;
      route->highest = fmax (route->highest, leg->to.z);
    }
}

static void
lay_outlets (NappeLineLayout *line, GPtrArray *outlets, NappeCatalogue *catalogue)
{
  const NappeRoute *trunk = &line->trunk;

  line->n_outlets = outlets->len;
  line->outlets = g_new0 (NappeOutletLayout, outlets->len);
  for (guint i = 0; i < outlets->len; i++)
    {
      NappeOutletLayout *outlet = &line->outlets[i];
      NappePoint start = trunk->end;
      double bore = NAPPE_UNKNOWN_BORE, outside = NAPPE_UNKNOWN_BORE;

      outlet->part = outlets->pdata[i];
      outlet->tee_leg = *outlet->part->tee == '\0' ? -1 : -2;
      for (guint leg = 0; leg < trunk->n_legs && outlet->tee_leg == -2; leg++)
        if (g_str_equal (nappe_part_get_id (NAPPE_PART (trunk->legs[leg].piece)), outlet->part->tee))
          outlet->tee_leg = (gint) leg;
      guint before = outlet->tee_leg >= 0 ? (guint) outlet->tee_leg : trunk->n_legs - 1;
      if (trunk->n_legs > 0)
        {
          start = trunk->legs[before].to;
          bore = trunk->legs[before].bore;
          outside = trunk->legs[before].outside;
        }
      lay_route (&outlet->route, start, outlet->part->run, catalogue, bore, outside);
    }
}

static gint
find_box (const NappeLayout *self, const char *id)
{
  for (guint i = 0; i < self->n_boxes; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (self->boxes[i].part)), id))
      return (gint) i;
  return -1;
}

static void
lay_drain (NappeLayout *self, NappeLineLayout *line, NappeDrain *drain, NappeCatalogue *catalogue)
{
  line->part = NAPPE_PART (drain);
  line->chamber = -1;
  line->box = find_box (self, drain->overflow);
  const NappeFrame *frame = line->box >= 0 ? &self->boxes[line->box].frame : &self->tank;

  line->crest = frame->floor + drain->crest_height;
  line->mouth = nappe_is_given (drain->mouth_height) ? frame->floor + drain->mouth_height : line->crest;
  NappePoint start = { frame->left + drain->x, 0.5 * (frame->front + frame->back), line->crest };
  lay_route (&line->trunk, start, drain->run, catalogue, NAPPE_UNKNOWN_BORE, NAPPE_UNKNOWN_BORE);
  double bore = line->trunk.n_legs > 0 ? line->trunk.legs[0].bore : NAPPE_UNKNOWN_BORE;
  line->brink = nappe_is_given (drain->break_height) ? frame->floor + drain->break_height : line->mouth + 0.5 * bore;
  lay_outlets (line, drain->outlets, catalogue);
}

/* What a pump draws from; the sump where it names nothing. */
static const NappeFrame *
source_frame (const NappeLayout *self, NappeBuild *build, const NappeLineLayout *line, const char *id)
{
  if (line->chamber >= 0)
    return &self->chambers[line->chamber].frame;
  if (g_str_equal (nappe_part_get_id (build->tank), id))
    return &self->tank;
  for (guint i = 0; i < self->n_vessels; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (self->vessels[i].part)), id))
      return &self->vessels[i].frame;
  return &self->sump;
}

static void
lay_return (NappeLayout *self, NappeBuild *build, NappeLineLayout *line, NappeReturnLine *part, NappeCatalogue *catalogue)
{
  const NappePump *pump = NAPPE_PUMP (part->pump);

  line->part = NAPPE_PART (part);
  line->box = -1;
  line->chamber = nappe_layout_find_chamber (self, pump->chamber);
  const NappeFrame *frame = source_frame (self, build, line, pump->chamber);

  line->inlet = frame->floor + pump->inlet_height;
  NappePoint start = { frame->left + pump->x, 0.5 * (frame->front + frame->back), frame->floor + pump->outlet_height };
  lay_route (&line->trunk, start, part->run, catalogue, NAPPE_UNKNOWN_BORE, NAPPE_UNKNOWN_BORE);
  lay_outlets (line, part->outlets, catalogue);
}

NappeLayout *
nappe_layout_new (NappeBuild *build, NappeCatalogue *catalogue)
{
  NappeLayout *self = g_new0 (NappeLayout, 1);

  nappe_layout_place_vessels (self, build, catalogue);
  self->n_drains = build->drains->len;
  self->drains = g_new0 (NappeLineLayout, self->n_drains);
  for (guint i = 0; i < self->n_drains; i++)
    lay_drain (self, &self->drains[i], build->drains->pdata[i], catalogue);
  self->n_returns = build->returns->len;
  self->returns = g_new0 (NappeLineLayout, self->n_returns);
  for (guint i = 0; i < self->n_returns; i++)
    lay_return (self, build, &self->returns[i], build->returns->pdata[i], catalogue);
  return self;
}

static void
clear_lines (NappeLineLayout *lines, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_free (lines[i].trunk.legs);
      for (guint outlet = 0; outlet < lines[i].n_outlets; outlet++)
        g_free (lines[i].outlets[outlet].route.legs);
      g_free (lines[i].outlets);
    }
  g_free (lines);
}

void
nappe_layout_free (NappeLayout *self)
{
  if (self == NULL)
    return;
  clear_lines (self->drains, self->n_drains);
  clear_lines (self->returns, self->n_returns);
  g_free (self->boxes);
  g_free (self->chambers);
  g_free (self->baffles);
  g_free (self->socks);
  g_free (self->vessels);
  g_free (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps, return lines and their branches, and vessels with a line of their own. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A return pipe stands so far behind the back pane, goes so high over the rim, and comes down so far inside [m]. */
#define BEHIND_TANK 0.045
#define OVER_RIM 0.045
#define INSIDE_TANK 0.06
/* Its end under the crest of the weir, and its siphon-break hole over it, under the film that flows there [m]. */
#define END_UNDER_CREST 0.020
#define HOLE_OVER_CREST 0.003
/* Where no weir keeps a level, the tank is taken as full to this share. */
#define USUAL_FILL 0.9
/* Where it turns back, under the stand's top; beside a box [m]. */
#define UNDER_STAND 0.20
#define BESIDE_BOX 0.06
/* A branch comes down so far beside the end of the trunk, or half the way to the wall; least pipe to set a tee into [m]. */
#define BRANCH_BESIDE 0.25
#define TEE_ROOM 0.06
/* A side vessel: usual length, least length, distance from what hangs beside it; its spout over the crest of the weir; the
 * end of its feed over its spout [m]. */
#define VESSEL_LENGTH 0.36
#define VESSEL_LEAST 0.10
#define VESSEL_BESIDE 0.03
#define SPOUT_OVER_CREST 0.030
#define FEED_OVER_SPOUT 0.010
/* Its inlet under the crest: when the spout is blocked it draws air before it has emptied the display; common practice. */
#define FEED_INLET_UNDER_CREST 0.055
#define FEED_OUTLET_OVER_INLET 0.06
/* Steps in which places are tried [m]. */
#define GRID 0.01

static double
crest_of_weir (NappeBuild *build)
{
  double crest = NAN;

  for (guint i = 0; i < build->overflows->len; i++)
    crest = fmin (crest, NAPPE_OVERFLOW (build->overflows->pdata[i])->weir_height);
  return nappe_is_given (crest) ? crest : USUAL_FILL * NAPPE_BUILD_TANK (build)->height;
}

/* The pipe or hose of a family whose bore is nearest to a pump's outlet. */
static const char *
pipe_for (NappeCatalogue *catalogue, NappeItemKind kind, const char *family, const char *name, double bore)
{
  g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (catalogue, kind);
  const NappeItem *best = NULL;

  for (guint i = 0; i < items->len; i++)
    {
      const NappeItem *item = items->pdata[i];
      if (g_strcmp0 (item->family, family) == 0 && (name == NULL || g_str_equal (item->name, name))
          && (best == NULL || fabs (item->bore - bore) < fabs (best->bore - bore)))
        best = item;
    }
  return best != NULL ? best->id : "";
}

/* The family of the first pipe of the build's return lines. */
static const char *
usual_family (NappeBuild *build, NappeCatalogue *catalogue)
{
  for (guint i = 0; i < build->returns->len; i++)
    for (guint k = 0; k < NAPPE_RETURN_LINE (build->returns->pdata[i])->run->len; k++)
      {
        NappePiece *piece = NAPPE_RETURN_LINE (build->returns->pdata[i])->run->pdata[k];
        const NappeItem *item = nappe_catalogue_find (catalogue, piece->item);
        if (item != NULL && item->kind == NAPPE_ITEM_PIPE)
          return item->family;
      }
  return "pvc-sch40";
}

static void
attach_outlet (NappePart *line, const char *into, double hole)
{
  g_autoptr (NappeOutlet) outlet = g_object_new (NAPPE_TYPE_OUTLET, NULL);

  nappe_assembly_write_text (NAPPE_PART (outlet), "into", into);
  nappe_assembly_write_number (NAPPE_PART (outlet), "siphon_break_height", hole);
  nappe_part_attach (line, nappe_part_find_slot (line, "outlets"), 0, NAPPE_PART (outlet));
}

static gboolean
insert_line (NappeBuild *build, NappeReturnLine *line, GError **error)
{
  return nappe_build_insert (build, NAPPE_PART (build), "returns", G_MAXUINT, NAPPE_PART (line), error);
}

/* A place along the tank that is beside every box. */
static double
beside_boxes (const NappeLayout *layout, double x)
{
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeFrame *box = &layout->boxes[i].frame;
      if (x < box->left - BESIDE_BOX || x > box->right + BESIDE_BOX)
        continue;
      gboolean left = box->left - layout->tank.left > layout->tank.right - box->right;
      x = left ? box->left - BESIDE_BOX : box->right + BESIDE_BOX;
    }
  return CLAMP (x, layout->tank.left + BESIDE_BOX, layout->tank.right - BESIDE_BOX);
}

static void
lay_return (NappeBuild *build, const NappePlumbing *plumbing, NappeReturnLine *line, const NappeLayout *layout, guint chamber,
            const NappeItem *joint)
{
  const NappePump *pump = NAPPE_PUMP (line->pump);
  const NappeFrame *frame = &layout->chambers[chamber].frame, *tank = &layout->tank;
  double top = tank->rim + OVER_RIM, x = beside_boxes (layout, frame->left + pump->x);
  NappePoint above = { x, tank->back + NAPPE_BUILD_TANK (build)->wall_thickness + BEHIND_TANK, top };
  NappeWay up = { .from = { frame->left + pump->x, 0.5 * (frame->front + frame->back), frame->floor + pump->outlet_height },
                  .to = above, .via = fmax (layout->stand.rim - UNDER_STAND, frame->rim), .before = -1, .early = joint };
  NappeWay down = { .from = above, .to = { x, tank->back - INSIDE_TANK, tank->floor + crest_of_weir (build) - END_UNDER_CREST },
                    .via = top, .before = NAPPE_TOWARD_UP };
  GPtrArray *run = nappe_plumbing_new_run ();

  nappe_plumbing_lead (plumbing, run, &up);
  nappe_plumbing_lead (plumbing, run, &down);
  nappe_plumbing_take (NAPPE_PART (line), run);
}

NappeReturnLine *
nappe_assembly_add_return (NappeBuild *build, NappeCatalogue *catalogue, const char *id, GError **error)
{
  const NappeItem *item = nappe_assembly_item (catalogue, id, NAPPE_ITEM_PUMP, error), *joint;
  guint chamber = nappe_assembly_return_chamber (build);
  NappePlumbing plumbing;
  g_autoptr (NappeReturnLine) line = g_object_new (NAPPE_TYPE_RETURN_LINE, NULL);

  if (item == NULL)
    return NULL;
  if (chamber == G_MAXUINT)
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                           g_strdup (_("A return pump stands in a return chamber: the sump has none")));
      return NULL;
    }
  NappePart *where = NAPPE_BUILD_SUMP (build)->chambers->pdata[chamber];
  if (!nappe_plumbing_begin (&plumbing, catalogue,
                             pipe_for (catalogue, NAPPE_ITEM_PIPE, usual_family (build, catalogue), NULL,
                                       item->outlet_bore),
                             error)
      || (joint = nappe_plumbing_fit (&plumbing, NAPPE_ITEM_FITTING, "union", error)) == NULL)
    return NULL;
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  nappe_assembly_name (build, NAPPE_PART (line), _("Return line"));
  nappe_assembly_name (build, line->pump, _("Return pump"));
  nappe_assembly_write_text (line->pump, "item", item->id);
  nappe_assembly_write_text (line->pump, "chamber", nappe_part_get_id (where));
  nappe_assembly_write_number (line->pump, "x", nappe_assembly_free_place (build, catalogue, where, item->length_overall)
                                                    + 0.5 * item->length_overall);
  attach_outlet (NAPPE_PART (line), nappe_part_get_id (build->tank), crest_of_weir (build) + HOLE_OVER_CREST);
  lay_return (build, &plumbing, line, layout, chamber, joint);
  return insert_line (build, line, error) ? line : NULL;
}

gboolean
nappe_assembly_replace_pump (NappeBuild *build, NappeCatalogue *catalogue, NappePump *pump, const char *id, GError **error)
{
  const NappeItem *item = nappe_assembly_item (catalogue, id, NAPPE_ITEM_PUMP, error);
  NappePart *part = NAPPE_PART (pump);
  g_auto (GValue) no_curve = G_VALUE_INIT;
  g_autofree char *label = NULL;

  if (item == NULL)
    return FALSE;
  g_value_init (&no_curve, NAPPE_TYPE_CURVE);
  /* Translators: label of a step to undo; %s is the name of a part. */
  label = g_strdup_printf (_("Replace “%s”"), nappe_part_display_name (part));
  nappe_build_begin (build, label);
  return nappe_assembly_end (build, nappe_build_set_text (build, part, "item", item->id, error)
                                        && nappe_build_set (build, part, "curve", &no_curve, error)
                                        && nappe_build_set_number (build, part, "inlet_bore", NAN, error)
                                        && nappe_build_set_number (build, part, "power", NAN, error)
                                        && (item->variable_speed || nappe_build_set_number (build, part, "speed", 1, error)));
}

/* ---- branches ---- */

/* A tee stands at the upper end of a rising pipe, in the middle of a level one. */
static NappePoint
place_of_tee (const NappeLeg *leg)
{
  if (leg->piece->toward == NAPPE_TOWARD_UP)
    return leg->to;
  return (NappePoint){ 0.5 * (leg->from.x + leg->to.x), 0.5 * (leg->from.y + leg->to.y), 0.5 * (leg->from.z + leg->to.z) };
}

/* The leg of the trunk, of pipe and above the rim, that a tee goes to: the last one that is long enough; -1: none. */
static gint
leg_for_tee (const NappeLineLayout *line, double rim)
{
  for (guint i = line->trunk.n_legs; i > 0; i--)
    {
      const NappeLeg *leg = &line->trunk.legs[i - 1];
      if (leg->item != NULL && leg->item->kind == NAPPE_ITEM_PIPE && leg->piece->length >= TEE_ROOM
          && leg->piece->toward != NAPPE_TOWARD_DOWN && place_of_tee (leg).z > rim)
        return (gint) i - 1;
    }
  return -1;
}

static const NappeLineLayout *
layout_of (const NappeLayout *layout, NappeReturnLine *line)
{
  for (guint i = 0; i < layout->n_returns; i++)
    if (layout->returns[i].part == NAPPE_PART (line))
      return &layout->returns[i];
  return NULL;
}

/* Where the new branch comes down: beside the present end, on the side with more room. */
static NappePoint
end_of_branch (const NappeLayout *layout, const NappePoint *tee, const NappePoint *end, gboolean sideways)
{
  const NappeFrame *tank = &layout->tank;
  double left = end->x - tank->left, right = tank->right - end->x;
  NappePoint to = *end;

  if (sideways)
    {
      to.x = tee->x;
      to.y = fmax (tank->front + INSIDE_TANK, end->y - fmin (BRANCH_BESIDE, 0.5 * (end->y - tank->front)));
    }
  else
    to.x += left > right ? -fmin (BRANCH_BESIDE, 0.5 * left) : fmin (BRANCH_BESIDE, 0.5 * right);
  return to;
}

static NappePiece *
add_tee (NappeBuild *build, NappeCatalogue *catalogue, NappePiece *pipe, const NappeItem *tee, GError **error)
{
  g_autoptr (NappePiece) piece = NULL;
  NappePart *owner = nappe_part_get_owner (NAPPE_PART (pipe));
  guint index;

  if (pipe->toward != NAPPE_TOWARD_UP)
    return nappe_assembly_add_piece (build, catalogue, NAPPE_PART (pipe), tee->id, error);
  piece = g_object_new (NAPPE_TYPE_PIECE, NULL);
  nappe_assembly_write_text (NAPPE_PART (piece), "item", tee->id);
  nappe_part_place (NAPPE_PART (pipe), &index);
  return nappe_build_insert (build, owner, "run", index + 1, NAPPE_PART (piece), error) ? piece : NULL;
}

NappeOutlet *
nappe_assembly_add_branch (NappeBuild *build, NappeCatalogue *catalogue, NappeReturnLine *line, GError **error)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  const NappeLineLayout *place = layout_of (layout, line);
  gint index = place != NULL ? leg_for_tee (place, layout->tank.rim) : -1;
  NappePlumbing plumbing;
  const NappeItem *tee;

  if (index < 0 || place->n_outlets == 0)
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ROOM,
                           g_strdup (_("The line has no pipe over the tank’s rim that a tee could go into")));
      return NULL;
    }
  const NappeLeg *leg = &place->trunk.legs[index];
  const NappeOutletLayout *model = &place->outlets[0];
  if (!nappe_plumbing_begin (&plumbing, catalogue, leg->item->id, error)
      || (tee = nappe_plumbing_fit (&plumbing, NAPPE_ITEM_FITTING, "tee", error)) == NULL)
    return NULL;
  NappePoint from = place_of_tee (leg);
  gboolean sideways = leg->piece->toward == NAPPE_TOWARD_LEFT || leg->piece->toward == NAPPE_TOWARD_RIGHT;
  NappeWay way = { .from = from, .to = end_of_branch (layout, &from, &model->route.end, sideways), .via = from.z, .before = -1 };
  g_autoptr (NappeOutlet) outlet = g_object_new (NAPPE_TYPE_OUTLET, NULL);
  GPtrArray *run = nappe_plumbing_new_run ();
  nappe_plumbing_lead (&plumbing, run, &way);
  nappe_plumbing_take (NAPPE_PART (outlet), run);
  nappe_assembly_name (build, NAPPE_PART (outlet), _("Nozzle"));
  nappe_assembly_write_text (NAPPE_PART (outlet), "into", model->part->into);
  nappe_assembly_write_number (NAPPE_PART (outlet), "siphon_break_height", model->part->siphon_break_height);
  g_autofree char *label = g_strdup_printf (_("Add “%s”"), nappe_part_display_name (NAPPE_PART (outlet)));
  nappe_build_begin (build, label);
  NappePiece *piece = add_tee (build, catalogue, leg->piece, tee, error);
  if (piece != NULL)
    nappe_assembly_write_text (NAPPE_PART (outlet), "tee", nappe_part_get_id (NAPPE_PART (piece)));
  gboolean done = piece != NULL
                  && nappe_build_insert (build, NAPPE_PART (line), "outlets", G_MAXUINT, NAPPE_PART (outlet), error);
  return nappe_assembly_end (build, done) ? outlet : NULL;
}

/* ---- side vessels ---- */

/* How far the span left..right is from all that hangs on the back pane [m]. */
static double
clear_of_back (const NappeLayout *layout, double left, double right)
{
  double clear = fmin (left - layout->tank.left, layout->tank.right - right);

  for (guint i = 0; i < layout->n_boxes; i++)
    clear = fmin (clear, fmax (layout->boxes[i].frame.left - right, left - layout->boxes[i].frame.right));
  for (guint i = 0; i < layout->n_vessels; i++)
    clear = fmin (clear, fmax (layout->vessels[i].frame.left - right, left - layout->vessels[i].frame.right));
  return clear;
}

/* Finds the longest vessel up to the usual length that has room. FALSE: not even a small one. */
static gboolean
place_vessel (const NappeLayout *layout, double *x, double *length)
{
  for (*length = VESSEL_LENGTH; *length >= VESSEL_LEAST; *length -= GRID)
    for (double left = layout->tank.left + VESSEL_BESIDE; left + *length < layout->tank.right; left += GRID)
      if (clear_of_back (layout, left, left + *length) >= VESSEL_BESIDE - 1e-9)
        {
          *x = left - layout->tank.left;
          return TRUE;
        }
  return FALSE;
}

static const NappeItem *
smallest_pump (NappeCatalogue *catalogue)
{
  g_autoptr (GPtrArray) pumps = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_PUMP);
  const NappeItem *smallest = NULL;

  for (guint i = 0; i < pumps->len; i++)
    {
      const NappeItem *pump = pumps->pdata[i];
      if (smallest == NULL || pump->curve_flow[pump->n_curve - 1] < smallest->curve_flow[smallest->n_curve - 1])
        smallest = pump;
    }
  return smallest;
}

static gboolean
add_feed (NappeBuild *build, NappeCatalogue *catalogue, NappeSideVessel *vessel, GError **error)
{
  const NappeItem *item = smallest_pump (catalogue);
  g_autoptr (NappeReturnLine) line = g_object_new (NAPPE_TYPE_RETURN_LINE, NULL);
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  const NappeVesselLayout *place = &layout->vessels[layout->n_vessels - 1];
  double x = 0.5 * (place->frame.left + place->frame.right), bore = item != NULL ? item->outlet_bore : 0;
  NappePlumbing plumbing;

  if (item == NULL)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ITEM, g_strdup (_("The catalogue has no pump")));
  if (!nappe_plumbing_begin (&plumbing, catalogue, pipe_for (catalogue, NAPPE_ITEM_HOSE, "hose", "Vinyl hose", bore), error))
    return FALSE;
  nappe_assembly_name (build, NAPPE_PART (line), _("Feed of the side vessel"));
  nappe_assembly_name (build, line->pump, _("Feed pump"));
  nappe_assembly_write_text (line->pump, "item", item->id);
  nappe_assembly_write_text (line->pump, "chamber", nappe_part_get_id (build->tank));
  nappe_assembly_write_number (line->pump, "x", x - layout->tank.left);
  double inlet = fmax (0.5 * crest_of_weir (build), crest_of_weir (build) - FEED_INLET_UNDER_CREST);
  nappe_assembly_write_number (line->pump, "inlet_height", inlet);
  nappe_assembly_write_number (line->pump, "outlet_height", inlet + FEED_OUTLET_OVER_INLET);
  attach_outlet (NAPPE_PART (line), nappe_part_get_id (NAPPE_PART (vessel)), NAN);
  const NappeFrame *frame = &place->frame;
  NappeWay way = { .from = { x, 0.5 * (layout->tank.front + layout->tank.back),
                             layout->tank.floor + NAPPE_PUMP (line->pump)->outlet_height },
                   .to = { x, 0.5 * (frame->front + frame->back), place->spout + FEED_OVER_SPOUT },
                   .via = fmax (layout->tank.rim, frame->rim) + OVER_RIM, .before = -1 };
  GPtrArray *run = nappe_plumbing_new_run ();
  nappe_plumbing_lead (&plumbing, run, &way);
  nappe_plumbing_take (NAPPE_PART (line), run);
  return insert_line (build, line, error);
}

/* The smallest light over a vessel that weed grows in. */
static gboolean
add_light (NappeBuild *build, NappeCatalogue *catalogue, NappeSideVessel *vessel, GError **error)
{
  g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_EQUIPMENT);
  const NappeItem *smallest = NULL;

  for (guint i = 0; i < items->len; i++)
    {
      const NappeItem *item = items->pdata[i];
      if (g_strcmp0 (item->equipment_kind, "light") == 0
          && (smallest == NULL || item->length_overall < smallest->length_overall))
        smallest = item;
    }
  return smallest == NULL
         || nappe_assembly_add_equipment (build, catalogue, smallest->id, NAPPE_PART (vessel), error) != NULL;
}

NappeSideVessel *
nappe_assembly_add_side_vessel (NappeBuild *build, NappeCatalogue *catalogue, GError **error)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);
  g_autoptr (NappeSideVessel) vessel = g_object_new (NAPPE_TYPE_SIDE_VESSEL, NULL);
  NappePart *part = NAPPE_PART (vessel);
  double x, length;

  if (!place_vessel (layout, &x, &length))
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ROOM,
                           g_strdup (_("There is no room on the tank’s back for a side vessel")));
      return NULL;
    }
  nappe_assembly_name (build, part, _("Side refugium"));
  nappe_assembly_write_number (part, "x", x);
  nappe_assembly_write_number (part, "length", length);
  nappe_assembly_write_number (part, "base_height", crest_of_weir (build) + SPOUT_OVER_CREST - vessel->spout_height);
  nappe_assembly_write_text (part, "into", nappe_part_get_id (build->tank));
  g_autofree char *label = g_strdup_printf (_("Add “%s”"), nappe_part_display_name (part));
  nappe_build_begin (build, label);
  gboolean done = nappe_build_insert (build, NAPPE_PART (build), "vessels", G_MAXUINT, part, error)
                  && add_feed (build, catalogue, vessel, error) && add_light (build, catalogue, vessel, error);
  return nappe_assembly_end (build, done) ? vessel : NULL;
}

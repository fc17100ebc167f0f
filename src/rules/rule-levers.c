/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/rule-levers.h"

#include "build/coupling.h"

#include <math.h>

/* Most other pumps that are offered. */
#define PUMPS_MAX 4
/* Most wider pipes that are offered. */
#define SIZES_MAX 2
/* Speed below which no pump is sent: many stall there. */
#define SPEED_LEAST 0.3
/* Opening below which no valve is sent: it would be as good as shut. */
#define OPENING_LEAST 0.02
/* The shortest pipe that still can be glued [m]. */
#define PIPE_LEAST 0.02

static double
end_flow (const NappeItem *pump)
{
  return pump->n_curve > 0 ? pump->curve_flow[pump->n_curve - 1] : 0;
}

static int
compare_pumps (gconstpointer a, gconstpointer b)
{
  const NappeItem *first = *(const NappeItem *const *)a, *second = *(const NappeItem *const *)b;
  double difference = end_flow (first) - end_flow (second);
  return difference < 0 ? -1 : difference > 0;
}

/* Takes the lever. */
static void
offer_choices (NappeFinding *finding, NappeLever *lever)
{
  if (lever->choices->len > 0)
    nappe_finding_offer (finding, lever);
  else
    nappe_lever_free (lever);
}

/* Other pumps of the catalogue, the nearest in flow first. */
static void
offer_other_pumps (NappeRuleContext *context, NappeFinding *finding, const char *pump, const NappeItem *now,
                   gboolean more)
{
  g_autoptr (GPtrArray) pumps = nappe_catalogue_of_kind (context->network->catalogue, NAPPE_ITEM_PUMP);
  NappeLever *lever = nappe_lever_new_choice (pump, "item");

  g_ptr_array_sort (pumps, compare_pumps);
  for (guint i = 0; i < pumps->len && lever->choices->len < PUMPS_MAX; i++)
    {
      const NappeItem *other = pumps->pdata[more ? i : pumps->len - 1 - i];
      gboolean way = more ? end_flow (other) > end_flow (now) : end_flow (other) < end_flow (now);

      if (way && other->variable_speed == now->variable_speed)
        nappe_lever_add_choice (lever, other->id);
    }
  offer_choices (finding, lever);
}

void
nappe_rule_offer_pump_that_turns (NappeRuleContext *context, NappeFinding *finding, const NappePump *pump)
{
  const NappeItem *now = nappe_rule_item (context, pump->item);

  if (now == NULL)
    return;
  g_autoptr (GPtrArray) pumps = nappe_catalogue_of_kind (context->network->catalogue, NAPPE_ITEM_PUMP);
  NappeLever *lever = nappe_lever_new_choice (nappe_rule_id (pump), "item");
  const NappeItem *smaller = NULL;
  g_ptr_array_sort (pumps, compare_pumps);
  for (guint i = 0; i < pumps->len; i++)
    {
      const NappeItem *other = pumps->pdata[i];
      if (!other->variable_speed)
        continue;
      if (end_flow (other) >= end_flow (now))
        {
          nappe_lever_add_choice (lever, other->id);
          break;
        }
      smaller = other;
    }
  if (smaller != NULL)
    nappe_lever_add_choice (lever, smaller->id);
  offer_choices (finding, lever);
}

static int
compare_bores (gconstpointer a, gconstpointer b)
{
  const NappeItem *first = *(const NappeItem *const *)a, *second = *(const NappeItem *const *)b;
  return first->bore < second->bore ? -1 : first->bore > second->bore;
}

void
nappe_rule_offer_wider_pipe (NappeRuleContext *context, NappeFinding *finding, const char *piece)
{
  NappePart *part = nappe_build_find (context->build, piece);
  const NappeItem *now = part != NULL && NAPPE_IS_PIECE (part) ? nappe_rule_item (context, NAPPE_PIECE (part)->item) : NULL;

  if (now == NULL)
    return;
  g_autoptr (GPtrArray) pipes = nappe_catalogue_of_kind (context->network->catalogue, now->kind);
  NappeLever *lever = nappe_lever_new_choice (piece, "item");
  g_ptr_array_sort (pipes, compare_bores);
  for (guint i = 0; i < pipes->len && lever->choices->len < SIZES_MAX; i++)
    {
      const NappeItem *other = pipes->pdata[i];
      if (other->bore > now->bore && g_strcmp0 (other->family, now->family) == 0)
        nappe_lever_add_choice (lever, other->id);
    }
  offer_choices (finding, lever);
}

gboolean
nappe_rule_pump_turns (NappeRuleContext *context, const NappePump *pump)
{
  const NappeItem *item = nappe_rule_item (context, pump->item);
  return item == NULL || item->variable_speed;
}

void
nappe_rule_offer_pump (NappeRuleContext *context, NappeFinding *finding, const char *pump, gboolean more)
{
  NappePart *part = nappe_build_find (context->build, pump);

  if (part == NULL || !NAPPE_IS_PUMP (part))
    return;
  const NappePump *self = NAPPE_PUMP (part);
  const NappeItem *item = self->curve == NULL ? nappe_rule_item (context, self->item) : NULL;
  if (nappe_rule_pump_turns (context, self) && (more ? self->speed < 1 : self->speed > SPEED_LEAST))
    nappe_finding_offer (finding, more ? nappe_lever_new_number (pump, "speed", self->speed, 1)
                                       : nappe_lever_new_number (pump, "speed", SPEED_LEAST, self->speed));
  if (item != NULL)
    offer_other_pumps (context, finding, pump, item, more);
}

void
nappe_rule_offer_pumps (NappeRuleContext *context, NappeFinding *finding, gboolean more)
{
  for (guint i = 0; i < context->build->returns->len; i++)
    nappe_rule_offer_pump (context, finding,
                           nappe_rule_id (NAPPE_RETURN_LINE (context->build->returns->pdata[i])->pump), more);
}

void
nappe_rule_offer_crest (NappeRuleContext *context, NappeFinding *finding, NappeDrain *drain, double least, double most)
{
  const NappePiece *pipe = drain != NULL && drain->run->len > 0 ? drain->run->pdata[0] : NULL;
  gboolean stands = pipe != NULL && pipe->toward == NAPPE_TOWARD_DOWN && pipe->length > 0;

  if (stands)
    least = fmax (least, drain->crest_height - fmax (0, pipe->length - PIPE_LEAST));
  if (drain == NULL || !(least <= drain->crest_height && drain->crest_height <= most && least < most))
    return;
  NappeLever *lever = nappe_lever_new_number (nappe_rule_id (drain), "crest_height", least, most);
  /* What goes along is the build's to know, as for a hand that drags the inlet. */
  g_autoptr (GArray) followers = nappe_build_followers (context->build, NAPPE_PART (drain), "crest_height");
  for (guint i = 0; i < followers->len; i++)
    {
      const NappeFollower *follower = &g_array_index (followers, NappeFollower, i);
      nappe_lever_follow (lever, nappe_rule_id (follower->part), follower->field->name, follower->factor);
    }
  nappe_finding_offer (finding, lever);
}

void
nappe_rule_offer_valve (NappeFinding *finding, const NappeDrainReport *report, double least, double most)
{
  double from = fmin (report->opening, fmax (least, OPENING_LEAST));
  if (*report->valve != '\0' && from < most)
    nappe_finding_offer (finding, nappe_lever_new_number (report->valve, "opening", from, most));
}

void
nappe_rule_offer_vent (NappeFinding *finding, const char *drain, gboolean vented)
{
  NappeLever *lever = nappe_lever_new_choice (drain, "vented");
  nappe_lever_add_choice (lever, vented ? "true" : "false");
  nappe_finding_offer (finding, lever);
}

NappePiece *
nappe_rule_valve_in_run (NappeRuleContext *context, GPtrArray *run)
{
  for (guint i = 0; i < run->len; i++)
    {
      NappePiece *piece = run->pdata[i];
      const NappeItem *item = nappe_rule_item (context, piece->item);
      if (item != NULL && item->kind == NAPPE_ITEM_VALVE && item->n_points > 0)
        return piece;
    }
  return NULL;
}

void
nappe_rule_offer_valve_in_run (NappeRuleContext *context, NappeFinding *finding, GPtrArray *run)
{
  NappePiece *valve = nappe_rule_valve_in_run (context, run);
  if (valve != NULL)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (valve), "opening",
                                                          fmin (valve->opening, OPENING_LEAST), 1));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/flooding/flood-levers.h"
#include "rules/rule-levers.h"

#include <math.h>

/* How far the walls of tank and sump, the baffles and the weir may move [m]: more would be another design. */
#define WALL_REACH 0.30
#define BAFFLE_REACH 0.10
#define WEIR_REACH 0.10
/* A chamber is not made shorter than this for another's sake [m]. */
#define CHAMBER_LEAST 0.10
/* The last piece of a nozzle that still can be glued [m]. */
#define NOZZLE_PIECE_LEAST 0.02

NappeLever *
nappe_levers_number (NappeRuleContext *context, NappeFinding *finding, const char *part, const char *field, double least,
                     double most)
{
  NappePart *owner = nappe_build_find (context->build, part);
  const NappeField *row = owner != NULL ? nappe_part_find_field (owner, field) : NULL;

  if (row == NULL || row->type != NAPPE_FIELD_NUMBER)
    return NULL;
  least = fmax (least, row->minimum);
  most = fmin (most, row->maximum);
  if (!(least < most))
    return NULL;
  NappeLever *lever = nappe_lever_new_number (part, field, least, most);
  nappe_finding_offer (finding, lever);
  return lever;
}

static NappeChamber *
return_chamber (NappeRuleContext *context)
{
  guint index = context->network->return_chamber;
  NappePart *part
      = index < context->network->n_nodes ? nappe_build_find (context->build, context->network->nodes[index].id) : NULL;

  return part != NULL && NAPPE_IS_CHAMBER (part) ? NAPPE_CHAMBER (part) : NULL;
}

void
nappe_levers_lower_kept_level (NappeRuleContext *context, NappeFinding *finding)
{
  NappeChamber *chamber = return_chamber (context);
  double inlet = 0;

  if (chamber == NULL || !nappe_is_given (chamber->kept_level))
    return;
  for (guint i = 0; i < context->build->returns->len; i++)
    {
      const NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (context->build->returns->pdata[i])->pump);
      if (g_str_equal (pump->chamber, nappe_rule_id (chamber)))
        inlet = fmax (inlet, pump->inlet_height);
    }
  nappe_levers_number (context, finding, nappe_rule_id (chamber), "kept_level",
                       inlet + nappe_rule_limit (context, NAPPE_LIMIT_PUMP_COVER), chamber->kept_level);
}

/* Whether a chamber's length is for the planner to choose: those of traps and reservoirs have their own reasons. */
static gboolean
may_grow (const NappeChamber *chamber)
{
  return chamber->role != NAPPE_CHAMBER_BUBBLE_TRAP && chamber->role != NAPPE_CHAMBER_RESERVOIR;
}

void
nappe_levers_grow_sump (NappeRuleContext *context, NappeFinding *finding)
{
  NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const NappeStand *stand = NAPPE_BUILD_STAND (context->build);
  const char *id = nappe_rule_id (sump);
  double top = stand->height - stand->top_thickness - sump->base_height - sump->bottom_thickness;
  double left = sump->x - sump->wall_thickness - stand->wall_thickness;
  double right = stand->length - stand->wall_thickness - sump->wall_thickness - sump->x - sump->length;

  nappe_levers_number (context, finding, id, "height", sump->height, fmin (top, sump->height + WALL_REACH));
  if (sump->chambers->len == 0)
    return;
  NappeChamber *first = sump->chambers->pdata[0], *last = sump->chambers->pdata[sump->chambers->len - 1];
  NappeLever *lever = NULL;
  /* The other chambers stay where they are, and the pipes with them. */
  if (may_grow (last))
    lever = nappe_levers_number (context, finding, id, "length", sump->length, sump->length + fmin (right, WALL_REACH));
  if (lever != NULL)
    nappe_lever_follow (lever, nappe_rule_id (last), "length", 1);
  lever = NULL;
  if (may_grow (first) && first != last)
    lever = nappe_levers_number (context, finding, id, "length", sump->length, sump->length + fmin (left, WALL_REACH));
  if (lever != NULL)
    {
      nappe_lever_follow (lever, nappe_rule_id (first), "length", 1);
      nappe_lever_follow (lever, id, "x", -1);
    }
}

void
nappe_levers_lower_baffles (NappeRuleContext *context, NappeFinding *finding)
{
  NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  NappeLever *lever = NULL;

  for (guint i = 0; i < sump->baffles->len; i++)
    {
      const NappeBaffle *baffle = sump->baffles->pdata[i];
      if (baffle->gap_height > 0)
        continue;
      if (lever == NULL)
        lever = nappe_levers_number (context, finding, nappe_rule_id (baffle), "top_height",
                                     baffle->top_height - BAFFLE_REACH, baffle->top_height);
      else
        nappe_lever_follow (lever, nappe_rule_id (baffle), "top_height", 1);
    }
}

void
nappe_levers_lengthen_chamber (NappeRuleContext *context, NappeFinding *finding, const char *chamber)
{
  NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  NappePart *part = nappe_build_find (context->build, chamber);
  NappeChamber *giver = NULL;

  if (part == NULL || !NAPPE_IS_CHAMBER (part))
    return;
  for (guint i = 0; i < sump->chambers->len; i++)
    {
      NappeChamber *other = sump->chambers->pdata[i];
      if (NAPPE_PART (other) != part && may_grow (other) && (giver == NULL || other->length > giver->length))
        giver = other;
    }
  double length = NAPPE_CHAMBER (part)->length;
  NappeLever *lever = giver == NULL ? NULL
                                    : nappe_levers_number (context, finding, chamber, "length", length,
                                                           length + giver->length - CHAMBER_LEAST);
  if (lever != NULL)
    nappe_lever_follow (lever, nappe_rule_id (giver), "length", -1);
}

static NappeOutlet *
find_outlet (NappeRuleContext *context, const char *id)
{
  NappePart *part = nappe_build_find (context->build, id);
  return part != NULL && NAPPE_IS_OUTLET (part) ? NAPPE_OUTLET (part) : NULL;
}

/* The display's running level over the tank's floor [m]. */
static double
running_height (NappeRuleContext *context)
{
  const NappeNetwork *network = context->network;
  return context->study->running.level[network->display] - network->nodes[network->display].floor;
}

void
nappe_levers_raise_break (NappeRuleContext *context, NappeFinding *finding, const char *outlet)
{
  NappeOutlet *part = find_outlet (context, outlet);
  double level = running_height (context);

  if (part == NULL)
    return;
  double least = nappe_is_given (part->siphon_break_height) ? part->siphon_break_height : level - WALL_REACH;
  NappeLever *lever = nappe_levers_number (context, finding, outlet, "siphon_break_height", fmax (0, least), level);
  if (lever != NULL)
    nappe_lever_begin_at (lever, level);
}

/* The pipe that a nozzle ends with, if it leads down; NULL: none. */
static NappePiece *
last_piece_down (NappeOutlet *outlet)
{
  NappePart *line = nappe_part_get_owner (NAPPE_PART (outlet));
  GPtrArray *run = outlet->run->len > 0 || line == NULL ? outlet->run : NAPPE_RETURN_LINE (line)->run;
  NappePiece *last = run->len > 0 ? run->pdata[run->len - 1] : NULL;

  return last != NULL && last->length > 0 && last->toward == NAPPE_TOWARD_DOWN ? last : NULL;
}

void
nappe_levers_shorten_nozzle (NappeRuleContext *context, NappeFinding *finding, const char *outlet)
{
  NappeOutlet *part = find_outlet (context, outlet);
  NappePiece *last = part != NULL ? last_piece_down (part) : NULL;

  if (last != NULL)
    nappe_levers_number (context, finding, nappe_rule_id (last), "length", NOZZLE_PIECE_LEAST, last->length);
}

static NappeOverflow *
find_overflow (NappeRuleContext *context, const char *id)
{
  NappePart *part = nappe_build_find (context->build, id);
  return part != NULL && NAPPE_IS_OVERFLOW (part) ? NAPPE_OVERFLOW (part) : NULL;
}

void
nappe_levers_lower_weir (NappeRuleContext *context, NappeFinding *finding, const char *overflow)
{
  NappeOverflow *part = find_overflow (context, overflow);

  if (part != NULL)
    nappe_levers_number (context, finding, overflow, "weir_height", part->weir_height - WEIR_REACH, part->weir_height);
}

/* A weir is as long as the walls that it stands on: those of an internal box that are open to the tank, or the tank's
 * own wall. */
void
nappe_levers_lengthen_weir (NappeRuleContext *context, NappeFinding *finding, const char *overflow)
{
  NappeOverflow *part = find_overflow (context, overflow);

  if (part == NULL)
    return;
  double most = part->style == NAPPE_OVERFLOW_INTERNAL ? part->length + 2 * part->width
                : part->style == NAPPE_OVERFLOW_EXTERNAL ? part->length : part->inner_length + 2 * part->inner_width;
  nappe_levers_number (context, finding, overflow, "weir_length", part->weir_length, most);
}

void
nappe_levers_raise_tank (NappeRuleContext *context, NappeFinding *finding)
{
  NappeTank *tank = NAPPE_BUILD_TANK (context->build);

  nappe_levers_number (context, finding, nappe_rule_id (tank), "height", tank->height, tank->height + WALL_REACH);
}

void
nappe_levers_fit_power_cut (NappeRuleContext *context, NappeFinding *finding)
{
  const NappeNetwork *network = context->network;

  nappe_levers_lower_kept_level (context, finding);
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_PIPE && network->links[i].to == network->display
        && *network->links[i].outlet != '\0')
      {
        nappe_levers_raise_break (context, finding, network->links[i].outlet);
        nappe_levers_shorten_nozzle (context, finding, network->links[i].outlet);
      }
  nappe_levers_grow_sump (context, finding);
  nappe_levers_lower_baffles (context, finding);
}

void
nappe_levers_more_room_above (NappeRuleContext *context, NappeFinding *finding)
{
  for (guint i = 0; i < context->build->drains->len; i++)
    {
      NappeDrain *drain = context->build->drains->pdata[i];
      if (drain->role != NAPPE_DRAIN_EMERGENCY)
        continue;
      nappe_rule_offer_crest (context, finding, drain, 0, drain->crest_height);
      nappe_finding_offer (finding, nappe_lever_new_size (nappe_rule_id (drain), TRUE));
    }
  for (guint i = 0; i < context->build->overflows->len; i++)
    nappe_levers_lower_weir (context, finding, nappe_rule_id (context->build->overflows->pdata[i]));
  nappe_rule_offer_pumps (context, finding, FALSE);
  nappe_levers_lower_kept_level (context, finding);
  nappe_levers_raise_tank (context, finding);
}

void
nappe_levers_more_return_water (NappeRuleContext *context, NappeFinding *finding)
{
  const NappeChamber *chamber = return_chamber (context);
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);

  if (chamber == NULL)
    return;
  if (nappe_is_given (chamber->kept_level))
    nappe_levers_number (context, finding, nappe_rule_id (chamber), "kept_level", chamber->kept_level,
                         sump->height - context->targets->sump_freeboard);
  nappe_levers_lengthen_chamber (context, finding, nappe_rule_id (chamber));
  for (guint i = 0; i < context->build->returns->len; i++)
    {
      const NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (context->build->returns->pdata[i])->pump);
      if (g_str_equal (pump->chamber, nappe_rule_id (chamber)))
        nappe_levers_number (context, finding, nappe_rule_id (pump), "inlet_height", 0, pump->inlet_height);
    }
}

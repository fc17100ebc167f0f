/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Room for the sump: in the stand, through its door, and over it for work. */
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Outside measures of the sump, and clear ones of the stand [m]. */
typedef struct
{
  double length, width, height;
  double room_left, room_right, room_length, room_depth, room_top; /* x and z; lengths */
} Fit;

static void
measure (NappeRuleContext *context, Fit *fit)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const NappeStand *stand = NAPPE_BUILD_STAND (context->build);

  fit->length = sump->length + 2 * sump->wall_thickness;
  fit->width = sump->width + 2 * sump->wall_thickness;
  fit->height = sump->height + sump->bottom_thickness;
  fit->room_left = stand->wall_thickness;
  fit->room_right = stand->length - stand->wall_thickness;
  fit->room_length = fit->room_right - fit->room_left;
  fit->room_depth = stand->width;
  fit->room_top = stand->height - stand->top_thickness;
}

/* Whether any of the sump lies under the stand's top; if not, adds the finding that says so. */
static gboolean
is_under_stand (NappeRuleContext *context, const Fit *fit)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const NappeStand *stand = NAPPE_BUILD_STAND (context->build);

  if (sump->x - sump->wall_thickness < stand->length && sump->x - sump->wall_thickness + fit->length > 0)
    return TRUE;
  nappe_rule_not_checked (context, _("Does not apply: the sump stands beside the stand."));
  return FALSE;
}

/* How much the sump's side goes through the stand's wall as drawn [m]; negative: it is clear. */
static double
through_wall (NappeRuleContext *context, const Fit *fit)
{
  double left = NAPPE_BUILD_SUMP (context->build)->x - NAPPE_BUILD_SUMP (context->build)->wall_thickness;
  return fmax (fit->room_left - left, left + fit->length - fit->room_right);
}

static void
offer_move (NappeRuleContext *context, NappeFinding *finding, const Fit *fit)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  double least = fit->room_left + sump->wall_thickness, most = fit->room_right - sump->wall_thickness - sump->length;

  if (least <= most)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_part_get_id (context->build->sump), "x",
                                                          fmin (least, sump->x), fmax (most, sump->x)));
}

/* The sump within the stand. */
void
nappe_rule_sump_in_stand (NappeRuleContext *context)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const char *id = nappe_part_get_id (context->build->sump);
  double misfit = nappe_rule_limit (context, NAPPE_LIMIT_MISFIT);
  Fit fit;

  measure (context, &fit);
  if (!is_under_stand (context, &fit))
    return;
  double sideways = through_wall (context, &fit), deep = fit.width - fit.room_depth;
  double high = sump->base_height + fit.height - fit.room_top, worst = fmax (sideways, fmax (deep, high));
  gboolean outside = worst > misfit;
  NappeFinding *finding
      = outside ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Sump does not fit the stand"), id)
                : nappe_rule_fine (context, id, worst, misfit, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, worst, misfit, NAPPE_QUANTITY_LENGTH);
  /* Translators: length, width and height of the sump, then of the room in the stand. */
  nappe_finding_say (finding, _("The sump is %s by %s by %s outside; the stand has room for %s by %s by %s."),
                     NAPPE_SAY_LENGTH (context, fit.length), NAPPE_SAY_LENGTH (context, fit.width),
                     NAPPE_SAY_LENGTH (context, fit.height), NAPPE_SAY_LENGTH (context, fit.room_length),
                     NAPPE_SAY_LENGTH (context, fit.room_depth),
                     NAPPE_SAY_LENGTH (context, fit.room_top - sump->base_height));
  nappe_finding_formula (finding, _("outside of the sump against the inside of the stand, along, across and upwards"));
  nappe_finding_input (finding, "", _("through a side wall"), sideways, NAPPE_QUANTITY_LENGTH);
  if (!outside)
    return;
  /* Translators: %s is a length. */
  nappe_finding_say (finding, _("As drawn it goes %s into the stand."), NAPPE_SAY_LENGTH (context, worst));
  if (worst == sideways && fit.length <= fit.room_length)
    /* Translators: %s is a length. */
    nappe_finding_cure (finding, _("Move the sump sideways by %s."), NAPPE_SAY_LENGTH (context, worst));
  else
    /* Translators: %s is a length. */
    nappe_finding_cure (finding, _("Make the sump smaller by %s, or the stand larger."), NAPPE_SAY_LENGTH (context, worst));
  offer_move (context, finding, &fit);
}

/* The sump through the stand's door: with its long side first, or end first where the stand is deep enough. */
void
nappe_rule_sump_through_door (NappeRuleContext *context)
{
  const NappeStand *stand = NAPPE_BUILD_STAND (context->build);
  const char *id = nappe_part_get_id (context->build->sump);
  Fit fit;

  measure (context, &fit);
  if (!is_under_stand (context, &fit))
    return;
  if (!nappe_is_given (stand->door_length) || !nappe_is_given (stand->door_height))
    {
      nappe_rule_not_checked (context, _("Not checked: the size of the stand’s door is not known."));
      return;
    }
  gboolean end_first = fit.length <= fit.room_depth;
  double face = end_first ? fmin (fit.length, fit.width) : fit.length;
  double over_length = face - stand->door_length, over_height = fit.height - stand->door_height;
  const double rounding = 1e-9;
  gboolean stuck = over_length > rounding || over_height > rounding, wide = over_length >= over_height;
  NappeFinding *finding
      = stuck ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Sump does not pass the door"), id)
              : nappe_rule_fine (context, id, face, stand->door_length, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, wide ? face : fit.height, wide ? stand->door_length : stand->door_height,
                         NAPPE_QUANTITY_LENGTH);
  /* Translators: length and height of the sump's side, length and height of the door. */
  nappe_finding_say (finding, _("The side of the sump that goes in first is %s by %s, the door %s by %s."),
                     NAPPE_SAY_LENGTH (context, face), NAPPE_SAY_LENGTH (context, fit.height),
                     NAPPE_SAY_LENGTH (context, stand->door_length), NAPPE_SAY_LENGTH (context, stand->door_height));
  nappe_finding_formula (finding, _("outside of the sump against the clear opening, carried in straight"));
  nappe_finding_input (finding, "", _("depth of the stand"), fit.room_depth, NAPPE_QUANTITY_LENGTH);
  if (!stuck)
    return;
  nappe_finding_say (finding, _("Once the tank stands on the stand, the sump can be neither put in nor taken out when it "
                                 "leaks or cracks."));
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Make the door larger by %s, or the sump smaller, or build it so that a side of the stand "
                                  "comes off."),
                      NAPPE_SAY_LENGTH (context, fmax (over_length, over_height)));
}

/* Room over the sump's rim for hands, socks and pumps. */
void
nappe_rule_sump_service (NappeRuleContext *context)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const char *id = nappe_part_get_id (context->build->sump);
  double needed = nappe_rule_limit (context, NAPPE_LIMIT_SERVICE_HEIGHT);
  Fit fit;

  measure (context, &fit);
  if (!is_under_stand (context, &fit))
    return;
  double room = fit.room_top - sump->base_height - fit.height;
  if (!(room >= 0))
    {
      nappe_rule_not_checked (context, _("Does not apply: said already that the sump does not fit the stand."));
      return;
    }
  gboolean tight = room < needed;
  NappeFinding *finding = tight ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Little room over the sump"), id)
                                : nappe_rule_fine (context, id, room, needed, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, room, needed, NAPPE_QUANTITY_LENGTH);
  /* Translators: two heights. */
  nappe_finding_say (finding, _("Between the sump’s rim and the stand’s top there are %s; work needs about %s."),
                     NAPPE_SAY_LENGTH (context, room), NAPPE_SAY_LENGTH (context, needed));
  nappe_finding_formula (finding, _("underside of the stand’s top − rim of the sump"));
  nappe_finding_input (finding, "", _("underside of the stand’s top"), fit.room_top, NAPPE_QUANTITY_LENGTH);
  if (!tight)
    return;
  nappe_finding_say (finding, _("A hand with a filter sock or a pump in it does not pass, so that what is to be cleaned "
                                 "every week stays as it is."));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Make the stand higher or the sump lower by %s, or set the sump lower."),
                      NAPPE_SAY_LENGTH (context, needed - room));
  if (sump->base_height > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "base_height", 0, sump->base_height));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Evaporation, the top-off that makes up for it, and what happens when that sticks or fails. */
#include "rules/flooding/flood-levers.h"
#include "rules/rule-list.h"
#include "physics/water.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define DAY 86400.0

static gboolean
has_top_off (NappeRuleContext *context)
{
  for (guint i = 0; i < context->build->equipment->len; i++)
    if (NAPPE_EQUIPMENT (context->build->equipment->pdata[i])->kind == NAPPE_EQUIPMENT_TOP_OFF)
      return TRUE;
  return FALSE;
}

/* Whether a top-off has a reservoir with water; if not, says so. */
static gboolean
needs_reservoir (NappeRuleContext *context)
{
  if (!has_top_off (context))
    nappe_rule_not_checked (context, _("Does not apply: the build has no top-off."));
  else if (context->network->reservoir == G_MAXUINT)
    nappe_rule_not_checked (context, _("Not checked: the top-off draws from no chamber of the sump, so that what it can add is "
                                       "not known. A line from the mains can add without end."));
  else if (!(context->network->reservoir_volume > 0))
    nappe_rule_not_checked (context, _("Not checked: the reservoir’s water level is not given."));
  else
    return TRUE;
  return FALSE;
}

static const char *
reservoir_id (NappeRuleContext *context)
{
  return context->network->nodes[context->network->reservoir].id;
}

/* Less water in the reservoir, by its level or its length. */
static void
offer_smaller_reservoir (NappeRuleContext *context, NappeFinding *finding)
{
  const NappeChamber *chamber = NAPPE_CHAMBER (nappe_build_find (context->build, reservoir_id (context)));

  nappe_levers_number (context, finding, reservoir_id (context), "kept_level", 0, chamber->kept_level);
}

static void
add_stuck_working (NappeRuleContext *context, NappeFinding *finding)
{
  const NappeTopOffStuck *stuck = &context->study->top_off_stuck;

  nappe_finding_formula (finding, _("new rest of all levels with the reservoir’s water in the sump"));
  nappe_finding_input (finding, "", _("in the reservoir"), stuck->added, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("on the floor while the pump runs"), stuck->running.spilled, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("on the floor after a power cut from there"), stuck->cut.state.spilled,
                       NAPPE_QUANTITY_VOLUME);
}

static void
report_stuck_flood (NappeRuleContext *context, double spilled, gboolean running)
{
  const char *added = NAPPE_SAY_VOLUME (context, context->study->top_off_stuck.added);
  NappeFinding *finding
      = nappe_rule_find (context, running ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_PROBLEM,
                         running ? _("Stuck top-off floods") : _("Power cut floods after a stuck top-off"),
                         reservoir_id (context));

  nappe_finding_measure (finding, spilled, 0, NAPPE_QUANTITY_VOLUME);
  if (running)
    /* Translators: volume, volume. */
    nappe_finding_say (
        finding, _("When the top-off sticks on, the %s of its reservoir come into the sump, and %s reach the floor."),
        added, NAPPE_SAY_VOLUME (context, spilled));
  else
    /* Translators: volume, volume. */
    nappe_finding_say (finding, _("When the top-off sticks on, the %s of its reservoir still fit in the sump, and nobody "
                                  "notices; but at the next power cut %s reach the floor."),
                       added, NAPPE_SAY_VOLUME (context, spilled));
  /* Translators: %s is a volume. */
  nappe_finding_cure (finding, _("Keep %s less in the reservoir, or find as much more room in the sump. A second float switch "
                                 "above the first, and a timer, make it rarer, but no smaller."),
                      NAPPE_SAY_VOLUME (context, spilled));
  add_stuck_working (context, finding);
  offer_smaller_reservoir (context, finding);
  nappe_levers_lower_kept_level (context, finding);
  nappe_levers_grow_sump (context, finding);
}

/* A float that a snail or salt holds down pumps the whole reservoir into the sump: it must fit there, and after a power
 * cut too. */
void
nappe_rule_top_off_stuck (NappeRuleContext *context)
{
  const NappeTopOffStuck *stuck = &context->study->top_off_stuck;
  double rounding = nappe_rule_limit (context, NAPPE_LIMIT_SPILL);

  if (!needs_reservoir (context) || !nappe_rule_needs_steady (context) || !nappe_rule_needs_dry_floor (context))
    return;
  if (!stuck->known)
    {
      NappeFinding *unknown = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("A stuck top-off could not be computed"),
                                               reservoir_id (context));
      nappe_finding_say (unknown, _("With the reservoir’s water in the sump no rest of the levels was found. Take it as a danger "
                                    "until it is."));
      nappe_finding_cure (unknown, _("Keep less in the reservoir."));
      return;
    }
  if (!(stuck->running.spilled <= rounding))
    report_stuck_flood (context, stuck->running.spilled, TRUE);
  else if (!nappe_rule_cut_floods (context) && !(stuck->cut.state.spilled <= rounding))
    report_stuck_flood (context, stuck->cut.state.spilled, FALSE);
  else
    {
      NappeFinding *fine = nappe_rule_fine (context, reservoir_id (context), stuck->cut.sump_margin, 0, NAPPE_QUANTITY_LENGTH);
      if (nappe_rule_cut_floods (context))
        /* Translators: %s is a volume. */
        nappe_finding_say (fine, _("When the top-off sticks on, the %s of its reservoir fit in the sump while the pump runs. A "
                                   "power cut floods with or without them."),
                           NAPPE_SAY_VOLUME (context, stuck->added));
      else
        /* Translators: volume, height. */
        nappe_finding_say (fine, _("When the top-off sticks on, the %s of its reservoir fit in the sump; after a power cut %s "
                                   "stay free under its rim."),
                           NAPPE_SAY_VOLUME (context, stuck->added), NAPPE_SAY_LENGTH (context, stuck->cut.sump_margin));
      add_stuck_working (context, fine);
    }
}

/* Salinity of the system's water after the whole reservoir of fresh water has come into it [g/kg]. */
static double
diluted_salinity (NappeRuleContext *context, double volume)
{
  const NappeWater *water = &context->network->water;
  NappeWater fresh;

  nappe_water_init (&fresh, water->temperature_c, 0);
  double mass = volume * water->density, added = context->network->reservoir_volume * fresh.density;
  return water->salinity * mass / (mass + added);
}

/* All of the reservoir at once makes the water fresher than animals bear. */
void
nappe_rule_top_off_dilutes (NappeRuleContext *context)
{
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_DILUTION), harm = nappe_rule_limit (context, NAPPE_LIMIT_DILUTION_HARM);
  const NappeHeat *heat = nappe_rule_heat (context);

  if (!needs_reservoir (context) || !nappe_rule_needs_computed (context))
    return;
  if (!(context->network->water.salinity > 0) || heat == NULL || !heat->known)
    {
      nappe_rule_not_checked (context, _("Does not apply: the system holds fresh water."));
      return;
    }
  double before = context->network->water.salinity, after = diluted_salinity (context, heat->volume), fall = before - after;
  gboolean harmful = !(fall <= harm), much = !(fall <= limit);
  NappeFinding *finding = harmful || much
                              ? nappe_rule_find (context, harmful ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_ADVICE,
                                                 harmful ? _("Stuck top-off makes the water too fresh for the animals")
                                                         : _("Stuck top-off makes the water much fresher"),
                                                 reservoir_id (context))
                              : nappe_rule_fine (context, reservoir_id (context), fall, limit, NAPPE_QUANTITY_SALINITY);

  nappe_finding_measure (finding, fall, harmful ? harm : limit, NAPPE_QUANTITY_SALINITY);
  /* Translators: volume, volume, salinity, salinity. */
  nappe_finding_say (finding, _("When the top-off sticks on, %s of fresh water come into %s: the salinity falls from %s to %s."),
                     NAPPE_SAY_VOLUME (context, context->network->reservoir_volume), NAPPE_SAY_VOLUME (context, heat->volume),
                     nappe_rule_number (context, NAPPE_QUANTITY_SALINITY, before),
                     nappe_rule_number (context, NAPPE_QUANTITY_SALINITY, after));
  nappe_finding_formula (finding, _("salinity × water before / (water before + fresh water), by mass"));
  nappe_finding_input (finding, "", _("water in the system"), heat->volume, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("in the reservoir"), context->network->reservoir_volume, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("salinity before"), before, NAPPE_QUANTITY_SALINITY);
  if (!harmful && !much)
    return;
  /* Fresh water that lowers the salinity by just the limit. */
  double most = context->network->reservoir_volume * (limit / (before - limit)) / (fall / (before - fall));
  if (before > limit)
    /* Translators: %s is a volume. */
    nappe_finding_cure (finding, _("Keep no more than about %s in the reservoir at a time, and fill it up more often; a second "
                                   "float switch makes it rarer."),
                        NAPPE_SAY_VOLUME (context, most));
  else
    nappe_finding_cure (finding, _("Keep less in the reservoir at a time, and fill it up more often."));
  offer_smaller_reservoir (context, finding);
}

/* How long anything lasts that evaporation takes, for people. seconds [s] */
static const char *
days_text (NappeRuleContext *context, double seconds)
{
  return seconds < 3 * DAY
             ? nappe_rule_duration (context, seconds)
             /* Translators: a duration; %s is a number. */
             : nappe_rule_text (context, _("%s days"), nappe_rule_number (context, NAPPE_QUANTITY_NUMBER, seconds / DAY));
}

/* Evaporation from heat and water, when a running state gives it; else says why not. */
static const NappeHeat *
needs_evaporation (NappeRuleContext *context)
{
  const NappeHeat *heat;

  if (!nappe_rule_needs_steady (context))
    return NULL;
  heat = nappe_rule_heat (context);
  if (heat != NULL && heat->known)
    return heat;
  nappe_rule_not_checked (context, _("Not checked: evaporation is not known."));
  return NULL;
}

static void
add_evaporation_working (NappeFinding *finding, const NappeHeat *heat)
{
  nappe_finding_input (finding, "", _("evaporates in a day"), heat->evaporation * DAY, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("at the least, by other published formulas"), heat->evaporation_low * DAY,
                       NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("at the most"), heat->evaporation_high * DAY, NAPPE_QUANTITY_VOLUME);
}

/* All that evaporates is missing in the return chamber: without topping off it must last for a day. */
void
nappe_rule_return_evaporates (NappeRuleContext *context)
{
  double wanted = nappe_rule_limit (context, NAPPE_LIMIT_DRY_TIME);
  const NappeHeat *heat = needs_evaporation (context);

  if (heat == NULL)
    return;
  const char *part = context->network->nodes[context->network->return_chamber].id;
  gboolean soon = !(heat->time_to_air >= wanted), topped = context->network->reservoir_volume > 0;
  NappeFinding *finding = soon ? nappe_rule_find (context, topped ? NAPPE_SEVERITY_ADVICE : NAPPE_SEVERITY_PROBLEM,
                                                  topped ? _("Pump soon draws air when the top-off fails")
                                                         : _("A day’s evaporation empties the return chamber"),
                                                  part)
                               : nappe_rule_fine (context, part, heat->time_to_air, wanted, NAPPE_QUANTITY_DURATION);

  nappe_finding_measure (finding, heat->time_to_air, wanted, NAPPE_QUANTITY_DURATION);
  if (isfinite (heat->time_to_air))
    /* Translators: volume, chamber, duration. */
    nappe_finding_say (finding, _("About %s evaporate in a day, and all of it is missing in %s: when nothing is added, the pump "
                                  "draws air after %s."),
                       NAPPE_SAY_VOLUME (context, heat->evaporation * DAY), nappe_rule_name (context, part),
                       days_text (context, heat->time_to_air));
  else
    nappe_finding_say (finding, _("Nothing evaporates that the pump would miss."));
  nappe_finding_formula (finding, _("water over the pump’s inlet / evaporation"));
  add_evaporation_working (finding, heat);
  if (!soon)
    return;
  /* Translators: %s is a duration. */
  nappe_finding_cure (finding, topped ? _("Keep more water in the return chamber, so that it lasts %s without the top-off.")
                                      : _("Add a top-off, or keep more water in the return chamber, so that it lasts %s."),
                      days_text (context, wanted));
  nappe_levers_more_return_water (context, finding);
  nappe_levers_number (context, finding, nappe_rule_id (context->build->tank), "cover",
                       NAPPE_BUILD_TANK (context->build)->cover, 1);
}

static void
report_short_reservoir (NappeRuleContext *context, const NappeHeat *heat, double wanted)
{
  const char *part = reservoir_id (context);
  const NappeChamber *chamber = NAPPE_CHAMBER (nappe_build_find (context->build, part));
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  double to_air = heat->reservoir_lasts + heat->time_to_air;
  gboolean dry = to_air < wanted;
  NappeFinding *finding = nappe_rule_find (context, dry ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                           _("Reservoir empty before you are back"), part);

  nappe_finding_measure (finding, heat->reservoir_lasts / DAY, wanted / DAY, NAPPE_QUANTITY_NUMBER);
  /* Translators: volume, volume, duration, number of days. */
  nappe_finding_say (finding, _("About %s evaporate in a day: the %s of the reservoir last %s; you are away for up to %s."),
                     NAPPE_SAY_VOLUME (context, heat->evaporation * DAY), NAPPE_SAY_VOLUME (context, heat->reservoir),
                     days_text (context, heat->reservoir_lasts), days_text (context, wanted));
  if (dry)
    /* Translators: %s is a duration. */
    nappe_finding_say (finding, _("After %s in all the pump draws air."), days_text (context, to_air));
  /* Translators: %s is a volume. */
  nappe_finding_cure (finding, _("Let the reservoir hold %s, or cover part of the tank."),
                      NAPPE_SAY_VOLUME (context, heat->evaporation * wanted));
  nappe_finding_formula (finding, _("water in the reservoir / evaporation"));
  add_evaporation_working (finding, heat);
  nappe_levers_number (context, finding, part, "kept_level", chamber->kept_level, sump->height);
  nappe_levers_number (context, finding, nappe_rule_id (context->build->tank), "cover",
                       NAPPE_BUILD_TANK (context->build)->cover, 1);
  nappe_levers_lengthen_chamber (context, finding, part);
}

/* The reservoir against what evaporates while the planner is away. */
void
nappe_rule_reservoir_short (NappeRuleContext *context)
{
  double wanted = context->targets->days_away * DAY;

  if (!needs_reservoir (context))
    return;
  if (context->targets->days_away == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: you are never away for a day."));
      return;
    }
  const NappeHeat *heat = needs_evaporation (context);
  if (heat == NULL)
    return;
  if (!(heat->reservoir_lasts >= wanted))
    {
      report_short_reservoir (context, heat, wanted);
      return;
    }
  NappeFinding *fine = nappe_rule_fine (context, reservoir_id (context), heat->reservoir_lasts / DAY, wanted / DAY,
                                        NAPPE_QUANTITY_NUMBER);
  /* Translators: volume, volume, duration. */
  nappe_finding_say (fine, _("About %s evaporate in a day: the %s of the reservoir last %s."),
                     NAPPE_SAY_VOLUME (context, heat->evaporation * DAY), NAPPE_SAY_VOLUME (context, heat->reservoir),
                     days_text (context, heat->reservoir_lasts));
  add_evaporation_working (fine, heat);
}

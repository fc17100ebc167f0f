/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The water's temperature: heaters that are enough, fail or stick, and heat that must go. All from study/heat.h. */
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The balance of heat, or NULL: it is not known, and that is said. */
static const NappeHeat *
known_heat (NappeRuleContext *context)
{
  const NappeHeat *heat = nappe_rule_heat (context);

  if (heat != NULL && heat->known)
    return heat;
  nappe_rule_not_checked (context, _("Not checked: no heat balance without a running state."));
  return NULL;
}

static double
set_temperature (NappeRuleContext *context)
{
  return NAPPE_BUILD_WATER (context->build)->temperature;
}

static const char *
say_temperature (NappeRuleContext *context, double temperature)
{
  return nappe_rule_number (context, NAPPE_QUANTITY_TEMPERATURE, temperature);
}

static const char *
say_power (NappeRuleContext *context, double power)
{
  return nappe_rule_number (context, NAPPE_QUANTITY_POWER, power);
}

/* The working that all of these share. */
static void
give_balance (NappeRuleContext *context, NappeFinding *finding, const NappeHeat *heat)
{
  nappe_finding_formula (finding, _("heat lost by evaporation, surfaces and panels = heat put in by pumps, lights, other "
                                    "equipment and heaters"));
  nappe_finding_input (finding, "", _("room"), NAPPE_BUILD_ROOM (context->build)->temperature, NAPPE_QUANTITY_TEMPERATURE);
  nappe_finding_input (finding, "", _("water as set"), set_temperature (context), NAPPE_QUANTITY_TEMPERATURE);
  nappe_finding_input (finding, "", _("lost by evaporation"), heat->heat_evaporation, NAPPE_QUANTITY_POWER);
  nappe_finding_input (finding, "", _("lost by surfaces and panels"), heat->heat_convection_radiation + heat->heat_walls,
                       NAPPE_QUANTITY_POWER);
  nappe_finding_input (finding, "", _("put in by pumps, lights and other equipment"),
                       heat->heat_pumps + heat->heat_lights + heat->heat_other, NAPPE_QUANTITY_POWER);
  nappe_finding_input (finding, "", _("heaters"), heat->heater_power, NAPPE_QUANTITY_POWER);
}

/* The equipment of a kind with the greatest power of one, or NULL. */
static const NappeEquipment *
largest_of (NappeRuleContext *context, int kind)
{
  const NappeEquipment *largest = NULL;
  double most = 0;

  for (guint i = 0; i < context->build->equipment->len; i++)
    {
      const NappeEquipment *part = context->build->equipment->pdata[i];
      const NappeItem *item = nappe_rule_item (context, part->item);
      double power = nappe_is_given (part->power) ? part->power : item != NULL ? item->power : 0;
      if (part->kind == kind && power > most)
        {
          most = power;
          largest = part;
        }
    }
  return largest;
}

/* Other heaters of the catalogue, the weaker or the stronger ones, the nearest first. */
static void
offer_heaters (NappeRuleContext *context, NappeFinding *finding, const NappeEquipment *heater, gboolean stronger)
{
  const NappeItem *own = heater != NULL ? nappe_rule_item (context, heater->item) : NULL;
  double last = own != NULL ? own->power : 0;
  const NappeItem *next;

  if (own == NULL || nappe_is_given (heater->power))
    return;
  NappeLever *lever = nappe_lever_new_choice (nappe_rule_id (heater), "item");
  do
    {
      next = NULL;
      for (guint i = 0; i < nappe_catalogue_count (context->network->catalogue); i++)
        {
          const NappeItem *item = nappe_catalogue_nth (context->network->catalogue, i);
          double beyond = stronger ? item->power - last : last - item->power;
          if (item->kind == NAPPE_ITEM_EQUIPMENT && g_strcmp0 (item->equipment_kind, "heater") == 0 && beyond > 0
              && (next == NULL || beyond < fabs (next->power - last)))
            next = item;
        }
      if (next != NULL)
        {
          nappe_lever_add_choice (lever, next->id);
          last = next->power;
        }
    }
  while (next != NULL);
  if (lever->choices->len > 0)
    nappe_finding_offer (finding, lever);
  else
    nappe_lever_free (lever);
}

/* All heaters together hold the water at its temperature. */
void
nappe_rule_heater_power (NappeRuleContext *context)
{
  const NappeHeat *heat = known_heat (context);

  if (heat == NULL)
    return;
  const NappeEquipment *heater = largest_of (context, NAPPE_EQUIPMENT_HEATER);
  const char *part = heater != NULL ? nappe_rule_id (heater) : "";
  gboolean weak = heat->heat_wanted > heat->heater_power;
  NappeFinding *finding
      = weak ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM,
                                heater != NULL ? _("Heaters too weak") : _("No heater"), part)
             : nappe_rule_fine (context, part, heat->heater_power, fmax (0, heat->heat_wanted), NAPPE_QUANTITY_POWER);
  nappe_finding_measure (finding, heat->heater_power, fmax (0, heat->heat_wanted), NAPPE_QUANTITY_POWER);
  /* Translators: power wanted, temperature of the water, of the room, power of the heaters. */
  nappe_finding_say (finding, _("To keep the water at %s in a room of %s takes %s of heaters; there are %s."),
                     say_temperature (context, set_temperature (context)),
                     say_temperature (context, NAPPE_BUILD_ROOM (context->build)->temperature),
                     say_power (context, fmax (0, heat->heat_wanted)), say_power (context, heat->heater_power));
  give_balance (context, finding, heat);
  if (!weak)
    return;
  /* Translators: %s is a temperature. */
  nappe_finding_say (finding, _("With all of them on the water cools to %s."),
                     say_temperature (context, heat->equilibrium_heated));
  /* Translators: %s is a power. */
  nappe_finding_cure (finding, _("Add heaters for %s or more, cover the water, or warm the room."),
                      say_power (context, heat->heat_wanted - heat->heater_power));
  offer_heaters (context, finding, heater, TRUE);
}

/* With the largest heater out of order the water stays warm enough to live in. */
void
nappe_rule_heater_alone (NappeRuleContext *context)
{
  const NappeHeat *heat = known_heat (context);

  if (heat == NULL)
    return;
  const NappeEquipment *heater = largest_of (context, NAPPE_EQUIPMENT_HEATER);
  if (heater == NULL || heat->heat_wanted <= 0)
    {
      nappe_rule_not_checked (context, heater == NULL ? _("Does not apply: the build has no heater.")
                                                      : _("Does not apply: the water needs no heater."));
      return;
    }
  double least = nappe_rule_limit (context, NAPPE_LIMIT_WATER_COLD);
  gboolean enough = heat->heater_power_one_failed >= heat->heat_wanted;
  double cools_to = isnan (heat->equilibrium_one_failed) ? 0 : heat->equilibrium_one_failed;
  double left = enough ? set_temperature (context) : cools_to;
  gboolean cold = !(left >= least);
  const char *id = nappe_rule_id (heater);
  NappeFinding *finding
      = cold ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Too cold when one heater fails"), id)
             : nappe_rule_fine (context, id, left, least, NAPPE_QUANTITY_TEMPERATURE);
  nappe_finding_measure (finding, left, least, NAPPE_QUANTITY_TEMPERATURE);
  if (enough)
    /* Translators: heater, temperature of the water. */
    nappe_finding_say (finding, _("When %s fails, the other heaters keep the water at %s."), nappe_rule_name (context, id),
                       say_temperature (context, left));
  else
    /* Translators: heater, temperature it cools to, least temperature. */
    nappe_finding_say (finding, _("When %s fails, the water cools to %s at the lowest; animals should not get colder than %s."),
                     nappe_rule_name (context, id), say_temperature (context, left), say_temperature (context, least));
  give_balance (context, finding, heat);
  nappe_finding_input (finding, "", _("heaters that are left"), heat->heater_power_one_failed, NAPPE_QUANTITY_POWER);
  if (!cold)
    return;
  nappe_finding_cure (finding, _("Take two heaters of about half the power each instead of one, each with its own "
                                  "thermostat."));
  NappeLever *lever = nappe_lever_new_choice (id, "count");
  for (int more = 1; more <= 2; more++)
    {
      g_autofree char *count = g_strdup_printf ("%d", heater->count + more);
      nappe_lever_add_choice (lever, count);
    }
  nappe_finding_offer (finding, lever);
}

/* A thermostat that sticks must not cook the animals. */
void
nappe_rule_heater_stuck (NappeRuleContext *context)
{
  const NappeHeat *heat = known_heat (context);

  if (heat == NULL)
    return;
  const NappeEquipment *heater = largest_of (context, NAPPE_EQUIPMENT_HEATER);
  if (heater == NULL)
    {
      nappe_rule_not_checked (context, _("Does not apply: the build has no heater."));
      return;
    }
  double most = nappe_rule_limit (context, NAPPE_LIMIT_WATER_HOT), stuck = heat->equilibrium_stuck;
  double single = heat->heater_power - heat->heater_power_one_failed;
  const char *id = nappe_rule_id (heater);
  /* Not known: above 60 °C, or so cold that a heater is no danger. */
  gboolean hot = !(stuck <= most) && heat->heat_wanted < single;
  NappeFinding *finding
      = hot ? nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("A stuck heater overheats the water"), id)
            : nappe_rule_fine (context, id, stuck, most, NAPPE_QUANTITY_TEMPERATURE);
  nappe_finding_measure (finding, stuck, most, NAPPE_QUANTITY_TEMPERATURE);
  if (isfinite (stuck))
    /* Translators: heater, its power, temperature, highest temperature. */
    nappe_finding_say (finding,
                       _("When the thermostat of %s sticks and its %s stay on, the water ends at %s; animals should not "
                         "get warmer than %s."),
                       nappe_rule_name (context, id), say_power (context, single), say_temperature (context, stuck),
                       say_temperature (context, most));
  else
    /* Translators: heater, its power. */
    nappe_finding_say (finding, _("When the thermostat of %s sticks and its %s stay on, the water goes beyond what can be "
                                  "reckoned."),
                       nappe_rule_name (context, id), say_power (context, single));
  give_balance (context, finding, heat);
  nappe_finding_input (finding, "", _("the heater that sticks"), single, NAPPE_QUANTITY_POWER);
  if (!hot)
    return;
  nappe_finding_say (finding, _("Heaters fail in this way sooner or later, and within a day or two everything in the tank "
                                 "is dead."));
  nappe_finding_cure (finding, _("Take more and weaker heaters, and let a controller with its own probe switch them off."));
  offer_heaters (context, finding, heater, FALSE);
}

/* The heat that nobody asked for: of a chiller's work, what it can do. */
static void
report_warm (NappeRuleContext *context, const NappeHeat *heat, double warmest)
{
  double warm = nappe_rule_limit (context, NAPPE_LIMIT_WATER_WARM), hot = nappe_rule_limit (context, NAPPE_LIMIT_WATER_HOT);
  gboolean is_hot = !(warmest <= hot), is_warm = is_hot || warmest > warm;
  NappeFinding *finding
      = is_hot    ? nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Water grows hot by itself"), "")
        : is_warm ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Water grows warm by itself"), "")
                  : nappe_rule_fine (context, "", warmest, warm, NAPPE_QUANTITY_TEMPERATURE);

  nappe_finding_measure (finding, warmest, is_hot ? hot : warm, NAPPE_QUANTITY_TEMPERATURE);
  /* Translators: temperature of the room, heat of pumps, lights and other equipment, temperature of the water. */
  nappe_finding_say (finding,
                     _("With all heaters off, in a room of %s, pumps, lights and other equipment put %s into the water and "
                       "take it to %s."),
                     say_temperature (context, NAPPE_BUILD_ROOM (context->build)->temperature),
                     say_power (context, heat->heat_pumps + heat->heat_lights + heat->heat_other),
                     isfinite (warmest) ? say_temperature (context, warmest) : _("more than can be reckoned"));
  give_balance (context, finding, heat);
  nappe_finding_input (finding, "", _("chillers take away"), heat->chiller_power, NAPPE_QUANTITY_POWER);
  if (!is_warm)
    return;
  if (is_hot)
    nappe_finding_say (finding, _("Corals bleach and fish run out of oxygen at that."));
  else
    nappe_finding_say (finding, _("A few degrees more in summer and corals bleach."));
  if (heat->heat_wanted < 0)
    /* Translators: %s is a power. */
    nappe_finding_cure (finding, _("Fit a chiller that takes away %s or more, open lids, let a fan blow over the water, or "
                                    "save power in pumps and lights."),
                        say_power (context, -heat->heat_wanted));
  else
    nappe_finding_cure (finding, _("Set the water cooler."));
  const NappeTank *tank = NAPPE_BUILD_TANK (context->build);
  if (tank->cover > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_part_get_id (context->build->tank), "cover", 0, tank->cover));
}

/* The water does not grow too warm with all heaters off. */
void
nappe_rule_water_warm (NappeRuleContext *context)
{
  const NappeHeat *heat = known_heat (context);

  if (heat == NULL)
    return;
  /* Below the search's range it is cold; above it, hot. */
  double warmest = isnan (heat->equilibrium) && heat->heat_wanted > 0 ? 0 : heat->equilibrium;
  double chilled = -heat->heat_wanted;
  if (heat->chiller_power > 0 && chilled <= heat->chiller_power)
    warmest = fmin (isnan (warmest) ? INFINITY : warmest, set_temperature (context));
  report_warm (context, heat, warmest);
}

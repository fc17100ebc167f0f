/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat, evaporation, electric power and its cost; equipment; the properties of the water. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"

#define SECONDS_A_DAY 86400.0
#define SECONDS_AN_HOUR 3600.0
#define JOULES_A_KILOWATT_HOUR 3.6e6

static void
add_evaporation (NappeResultList *list)
{
  const NappeHeat *heat = list->heat;
  NappeResult *result
    = nappe_result_list_add (list, "evaporation_a_day", _("Evaporates in a day"), NAPPE_QUANTITY_VOLUME,
                             heat->evaporation * SECONDS_A_DAY, NAPPE_LAW_EVAPORATION);

  nappe_result_input (result, "A", _("open water, less covers"), NAPPE_QUANTITY_AREA, heat->surface);
  nappe_result_input (result, "p_w", _("vapour pressure over the water"), NAPPE_QUANTITY_PRESSURE,
                      list->network->water.vapour_pressure);
  nappe_result_input (result, "", _("room temperature"), NAPPE_QUANTITY_TEMPERATURE,
                      NAPPE_ROOM (list->build->room)->temperature);
  nappe_result_input (result, "", _("relative humidity"), NAPPE_QUANTITY_SHARE,
                      NAPPE_ROOM (list->build->room)->humidity);
  nappe_result_between (result, heat->evaporation_low * SECONDS_A_DAY, heat->evaporation_high * SECONDS_A_DAY);
  result = nappe_result_list_add (list, "level_fall_a_day", _("Return level falls in a day when nothing is added"),
                                  NAPPE_QUANTITY_LENGTH, heat->level_fall_rate * SECONDS_A_DAY, NAPPE_LAW_LEVEL_FALL);
  nappe_result_input (result, "E", _("evaporates in a day"), NAPPE_QUANTITY_VOLUME, heat->evaporation * SECONDS_A_DAY);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "days_to_air", _("Days until the pump draws air when nothing is added"),
                                  NAPPE_QUANTITY_NUMBER, heat->time_to_air / SECONDS_A_DAY, NAPPE_LAW_LEVEL_FALL);
  nappe_result_by_law (result);
  if (!(heat->reservoir > 0.0))
    return;
  result = nappe_result_list_add (list, "days_reservoir_lasts", _("Days that the reservoir lasts"),
                                  NAPPE_QUANTITY_NUMBER, heat->reservoir_lasts / SECONDS_A_DAY, NAPPE_LAW_RESIDENCE);
  nappe_result_input (result, "V", _("water that can be added"), NAPPE_QUANTITY_VOLUME, heat->reservoir);
  nappe_result_input (result, "Q", _("evaporates in a day"), NAPPE_QUANTITY_VOLUME, heat->evaporation * SECONDS_A_DAY);
  if (heat->evaporation > 0.0 && heat->evaporation_low > 0.0)
    nappe_result_between (result, heat->reservoir / heat->evaporation_high / SECONDS_A_DAY,
                          heat->reservoir / heat->evaporation_low / SECONDS_A_DAY);
}

static NappeResult *
add_power_row (NappeResultList *list, const char *key, const char *label, double power, NappeLawName law)
{
  NappeResult *result = nappe_result_list_add (list, key, label, NAPPE_QUANTITY_POWER, power, law);

  nappe_result_by_law (result);
  return result;
}

static void
add_heat_balance (NappeResultList *list)
{
  const NappeHeat *heat = list->heat;
  NappeResult *result;

  result = add_power_row (list, "heat_evaporation", _("Heat lost by evaporation"), heat->heat_evaporation,
                          NAPPE_LAW_HEAT_OF_EVAPORATION);
  nappe_result_input (result, "E", _("evaporates in a day"), NAPPE_QUANTITY_VOLUME, heat->evaporation * SECONDS_A_DAY);
  add_power_row (list, "heat_surface", _("Heat lost by convection and radiation"), heat->heat_convection_radiation,
                 NAPPE_LAW_SURFACE_HEAT);
  add_power_row (list, "heat_walls", _("Heat lost through the panels"), heat->heat_walls, NAPPE_LAW_WALL_HEAT);
  add_power_row (list, "heat_pumps", _("Heat from pumps"), heat->heat_pumps, NAPPE_LAW_HEAT_PUT_IN);
  add_power_row (list, "heat_lights", _("Heat from lights"), heat->heat_lights, NAPPE_LAW_HEAT_PUT_IN);
  add_power_row (list, "heat_other", _("Heat from other equipment"), heat->heat_other, NAPPE_LAW_HEAT_PUT_IN);
  result = add_power_row (list, "heat_wanted",
                          heat->heat_wanted < 0.0 ? _("Heat that a chiller must take away (below zero)")
                                                  : _("Heat that heaters must give"),
                          heat->heat_wanted, NAPPE_LAW_HEAT_BALANCE);
  nappe_result_input (result, "", _("lost by evaporation"), NAPPE_QUANTITY_POWER, heat->heat_evaporation);
  nappe_result_input (result, "", _("lost by convection and radiation"), NAPPE_QUANTITY_POWER,
                      heat->heat_convection_radiation);
  nappe_result_input (result, "", _("lost through the panels"), NAPPE_QUANTITY_POWER, heat->heat_walls);
  nappe_result_input (result, "", _("from pumps, lights and other equipment"), NAPPE_QUANTITY_POWER,
                      heat->heat_pumps + heat->heat_lights + heat->heat_other);
  nappe_result_list_add (list, "heater_power", _("Heaters that are there"), NAPPE_QUANTITY_POWER, heat->heater_power,
                         NAPPE_LAW_SUM);
  nappe_result_list_add (list, "heater_power_one_failed", _("The same without the largest"), NAPPE_QUANTITY_POWER,
                         heat->heater_power_one_failed, NAPPE_LAW_SUM);
  nappe_result_list_add (list, "equilibrium", _("Water temperature without heaters and chillers"),
                         NAPPE_QUANTITY_TEMPERATURE, heat->equilibrium, NAPPE_LAW_HEAT_BALANCE);
  result
    = nappe_result_list_add (list, "cooling_an_hour", _("Kelvin that the water cools in the first hour without heat"),
                             NAPPE_QUANTITY_NUMBER, heat->cooling_rate * SECONDS_AN_HOUR, NAPPE_LAW_COOLING);
  nappe_result_input (result, "V", _("all water"), NAPPE_QUANTITY_VOLUME, heat->volume);
  nappe_result_by_law (result);
}

/* Transfer full. */
static char *
cost_label (const NappeRoom *room)
{
  /* Translators: %s is a currency. */
  return *room->currency != '\0' ? g_strdup_printf (_("Cost in a year in %s"), room->currency)
                                 : g_strdup (_("Cost in a year, in the money of the price"));
}

static void
add_energy (NappeResultList *list)
{
  const NappeHeat *heat = list->heat;
  const NappeRoom *room = NAPPE_ROOM (list->build->room);
  g_autofree char *cost = cost_label (room);
  NappeResult *result = add_power_row (list, "power", _("Mean electric power"), heat->power, NAPPE_LAW_POWER);

  for (guint i = 0; i < heat->n_power; i++)
    nappe_result_input (result, "", nappe_result_list_name (list, heat->lines[i].part), NAPPE_QUANTITY_POWER,
                        heat->lines[i].power * heat->lines[i].duty);
  if (heat->n_power_unknown > 0)
    nappe_result_list_add (list, "power_unknown", _("Users whose power is not given: not counted"), NAPPE_QUANTITY_COUNT,
                           heat->n_power_unknown, NAPPE_LAW_GIVEN);
  result = nappe_result_list_add (list, "energy_a_year_kwh", _("Kilowatt-hours in a year"), NAPPE_QUANTITY_NUMBER,
                                  heat->energy_year / JOULES_A_KILOWATT_HOUR, NAPPE_LAW_ENERGY);
  nappe_result_input (result, "P", _("mean electric power"), NAPPE_QUANTITY_POWER, heat->power);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "cost_a_year", cost, NAPPE_QUANTITY_NUMBER, heat->cost_year, NAPPE_LAW_COST);
  nappe_result_input (result, "W", _("kilowatt-hours in a year"), NAPPE_QUANTITY_NUMBER,
                      heat->energy_year / JOULES_A_KILOWATT_HOUR);
  nappe_result_input (result, "", _("price of a kilowatt-hour"), NAPPE_QUANTITY_NUMBER, room->electricity_price);
  nappe_result_by_law (result);
}

void
nappe_results_add_heat (NappeResultList *list)
{
  if (list->heat == NULL)
    return;
  add_evaporation (list);
  add_heat_balance (list);
  add_energy (list);
}

/* What a pump or a piece of equipment draws. */
void
nappe_results_add_power (NappeResultList *list)
{
  for (guint i = 0; list->heat != NULL && i < list->heat->n_power; i++)
    {
      const NappePowerLine *line = &list->heat->lines[i];
      NappeResult *result;

      if (!g_str_equal (line->part, list->part))
        continue;
      result = nappe_result_list_add (list, "power", _("Electric power, mean over the day"), NAPPE_QUANTITY_POWER,
                                      line->power * line->duty, NAPPE_LAW_POWER);
      nappe_result_input (result, "", _("while it runs"), NAPPE_QUANTITY_POWER, line->power);
      nappe_result_input (result, "", _("share of the day"), NAPPE_QUANTITY_SHARE, line->duty);
      result = nappe_result_list_add (list, "heat", _("Of it heat into the water"), NAPPE_QUANTITY_POWER,
                                      line->power * line->duty * line->heat_share, NAPPE_LAW_HEAT_PUT_IN);
      nappe_result_input (result, "", _("share into the water"), NAPPE_QUANTITY_SHARE, line->heat_share);
      nappe_result_by_law (result);
    }
}

void
nappe_results_add_equipment (NappeResultList *list)
{
  NappeEquipment *equipment = NAPPE_EQUIPMENT (nappe_build_find (list->build, list->part));
  gint sock = nappe_network_find_node (list->network, list->part);
  gint where = nappe_network_find_node (list->network, equipment->where);

  if (sock >= 0)
    nappe_results_add_sock (list, (guint) sock);
  else if (where >= 0)
    {
      double base = list->network->nodes[where].floor + equipment->base_height;
      double level = nappe_result_list_level (list, &list->study->running, (guint) where);
      NappeResult *result = nappe_result_list_add (list, "water_depth", _("Stands in water of"), NAPPE_QUANTITY_LENGTH,
                                                   level - base, NAPPE_LAW_HEIGHT);

      nappe_result_input (result, "z1", _("level while running"), NAPPE_QUANTITY_LENGTH, level);
      nappe_result_input (result, "z2", _("its base"), NAPPE_QUANTITY_LENGTH, base);
      nappe_result_sampled_shifted (result, nappe_result_list_level_band (list, (guint) where), 1.0, -base);
    }
  nappe_results_add_power (list);
}

void
nappe_results_add_water (NappeResultList *list)
{
  const NappeWater *water = &list->network->water;
  NappeResult *results[] = {
    nappe_result_list_add (list, "density", _("Density"), NAPPE_QUANTITY_DENSITY, water->density, NAPPE_LAW_DENSITY),
    nappe_result_list_add (list, "viscosity_mpa_s", _("Dynamic viscosity in mPa s"), NAPPE_QUANTITY_NUMBER,
                           water->viscosity * 1e3, NAPPE_LAW_VISCOSITY),
    nappe_result_list_add (list, "vapour_pressure", _("Vapour pressure"), NAPPE_QUANTITY_PRESSURE,
                           water->vapour_pressure, NAPPE_LAW_VAPOUR),
    nappe_result_list_add (list, "specific_heat_kj_kg", _("Specific heat in kJ/(kg K)"), NAPPE_QUANTITY_NUMBER,
                           water->specific_heat / 1e3, NAPPE_LAW_SPECIFIC_HEAT),
  };

  for (gsize i = 0; i < G_N_ELEMENTS (results); i++)
    {
      nappe_result_input (results[i], "t", _("temperature"), NAPPE_QUANTITY_TEMPERATURE, water->temperature_c);
      nappe_result_input (results[i], "S", _("salinity"), NAPPE_QUANTITY_SALINITY, water->salinity);
    }
}

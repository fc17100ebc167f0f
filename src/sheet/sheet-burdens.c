/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the system asks of its room: heat and electricity, weight and the strength of panels. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"
#include "study/heat.h"
#include "study/loads.h"

#define SECONDS_A_DAY 86400.0
#define JOULES_A_KILOWATT_HOUR 3.6e6
/* Beyond this a duration in days says nothing. */
#define DAYS_MOST 1000.0

/* Days with one decimal; a word when there is no end to be seen. Transfer full. */
static char *
days_text (const NappeSheet *sheet, double seconds)
{
  double days = seconds / SECONDS_A_DAY;
  g_autofree char *number
      = nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, days, sheet->options->units, days < 10.0 ? 2 : 3);

  if (isnan (days))
    return g_strdup ("—");
  if (days > DAYS_MOST)
    return g_strdup (_("does not happen"));
  /* Translators: %s is a number of days, perhaps with a decimal */
  return g_strdup_printf (_("%s days"), number);
}

static void
pair_power (const NappeSheet *sheet, NappeTable *table, const char *label, double watts)
{
  /* Nothing at all is exact: decimals would say otherwise. */
  nappe_sheet_pair (table, label,
                    nappe_quantity_format (NAPPE_QUANTITY_POWER, watts, sheet->options->units, watts == 0.0 ? 1 : 0));
}

static void
add_evaporation (const NappeSheet *sheet, NappeTable *table, const NappeHeat *heat)
{
  g_autofree char *middle = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_VOLUME, heat->evaporation * SECONDS_A_DAY);
  g_autofree char *low = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_VOLUME, heat->evaporation_low * SECONDS_A_DAY);
  g_autofree char *high = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_VOLUME, heat->evaporation_high * SECONDS_A_DAY);

  /* Translators: a value, then the range that it may lie in */
  nappe_sheet_pair (table, _("evaporates in a day"), g_strdup_printf (_("%1$s (%2$s to %3$s)"), middle, low, high));
  nappe_sheet_pair (table, _("return level falls in a day when nothing is added"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_LENGTH, heat->level_fall_rate * SECONDS_A_DAY));
  nappe_sheet_pair (table, _("until the pump draws air when nothing is added"), days_text (sheet, heat->time_to_air));
  if (heat->reservoir > 0.0)
    nappe_sheet_pair (table, _("the reservoir lasts"), days_text (sheet, heat->reservoir_lasts));
}

static void
add_balance (const NappeSheet *sheet, NappeTable *table, const NappeHeat *heat)
{
  pair_power (sheet, table, _("heat lost by evaporation"), heat->heat_evaporation);
  pair_power (sheet, table, _("heat lost by convection and radiation"), heat->heat_convection_radiation);
  pair_power (sheet, table, _("heat lost through the panels"), heat->heat_walls);
  pair_power (sheet, table, _("heat from pumps"), heat->heat_pumps);
  pair_power (sheet, table, _("heat from lights"), heat->heat_lights);
  pair_power (sheet, table, _("heat from other equipment"), heat->heat_other);
  if (heat->heat_wanted < 0.0)
    pair_power (sheet, table, _("heat that a chiller must take away"), -heat->heat_wanted);
  else
    pair_power (sheet, table, _("heat that heaters must give"), heat->heat_wanted);
  pair_power (sheet, table, _("heaters that are there"), heat->heater_power);
  pair_power (sheet, table, _("the same without the largest"), heat->heater_power_one_failed);
  nappe_sheet_pair (table, _("water temperature without heaters and chillers"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_TEMPERATURE, heat->equilibrium));
}

static void
add_cost (const NappeSheet *sheet, NappeTable *table, const NappeHeat *heat)
{
  const char *currency = NAPPE_ROOM (sheet->build->room)->currency;
  g_autofree char *energy = nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, heat->energy_year / JOULES_A_KILOWATT_HOUR,
                                                          sheet->options->units, 3);

  pair_power (sheet, table, _("electricity on the mean"), heat->power);
  /* Translators: electric energy; %s is a number of kilowatt-hours */
  nappe_sheet_pair (table, _("electricity in a year"), g_strdup_printf (_("%s kWh"), energy));
  if (isnan (heat->cost_year))
    return;
  g_autofree char *cost = nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, heat->cost_year, sheet->options->units, 3);
  if (*currency != '\0')
    /* Translators: a sum of money and its currency */
    nappe_sheet_pair (table, _("its cost at the price given"), g_strdup_printf (_("%s %s"), cost, currency));
  else
    nappe_sheet_pair (table, _("its cost at the price given, in the money of that price"), g_steal_pointer (&cost));
}

/* Who draws the electricity. */
static void
write_users (const NappeSheet *sheet, const NappeHeat *heat)
{
  g_autofree char *power = nappe_sheet_head (sheet, _("draws"), NAPPE_QUANTITY_POWER);
  g_autofree char *duty = nappe_sheet_head (sheet, _("of the day"), NAPPE_QUANTITY_SHARE);
  g_autofree char *mean = nappe_sheet_head (sheet, _("on the mean"), NAPPE_QUANTITY_POWER);
  g_autofree char *share = nappe_sheet_head (sheet, _("of it into the water"), NAPPE_QUANTITY_SHARE);
  const char *heads[] = { _("pump or equipment"), power, duty, mean, share };
  g_autoptr (NappeTable) table = nappe_table_new ("tnnnn", heads);

  for (guint i = 0; i < heat->n_power; i++)
    {
      const NappePowerLine *line = &heat->lines[i];
      nappe_table_add (table, nappe_wording_part (sheet->build, line->part));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_POWER, line->power));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_SHARE, line->duty));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_POWER, line->power * line->duty));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_SHARE, line->heat_share));
    }
  if (nappe_table_n_rows (table) > 0)
    nappe_sheet_section (sheet, _("Electricity by user"), table, "");
  if (heat->n_power_unknown > 0)
    {
      g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Not counted: %u piece whose power is not given.",
                                                            "Not counted: %u pieces whose power is not given.",
                                                            heat->n_power_unknown),
                                               heat->n_power_unknown);
      nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0, text);
    }
}

void
nappe_sheet_heat (const NappeSheet *sheet)
{
  g_autoptr (NappeHeat) heat = nappe_heat_new (sheet->build, sheet->study->network->catalogue, sheet->study);
  const char *heads[] = { _("heat and electricity"), _("value") };
  g_autoptr (NappeTable) table = nappe_table_new ("tn", heads);

  if (heat->known)
    {
      add_evaporation (sheet, table, heat);
      add_balance (sheet, table, heat);
      add_cost (sheet, table, heat);
    }
  nappe_sheet_section (sheet, _("Evaporation, heat and electricity"), table, _("There is no steady state to speak of."));
  if (heat->known)
    {
      nappe_pages_skip (sheet->pages, 3.0);
      nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                             _("In still air. Published formulas of evaporation differ by a factor of 2.5; a fan or a draught "
                               "takes more than all of them. All that follows from it takes the middle value."));
    }
  write_users (sheet, heat);
}

/* A heading with its caution, which is not to be overlooked, then the table. */
static void
cautioned_section (const NappeSheet *sheet, const char *heading, const char *caution, NappeTable *table, const char *empty)
{
  NappePages *pages = sheet->pages;
  double line = 2.0 * nappe_lettering_line_height (NAPPE_LETTERING_STRONG);

  nappe_pages_heading (pages, heading, line + (nappe_table_n_rows (table) > 0 ? nappe_table_first_height (table, pages) : line));
  nappe_pages_paragraph (pages, NAPPE_LETTERING_STRONG, 0.0, caution);
  nappe_pages_skip (pages, 3.0);
  if (nappe_table_n_rows (table) > 0)
    nappe_table_draw (table, pages);
  else
    nappe_pages_paragraph (pages, NAPPE_LETTERING_BODY, 0.0, empty);
}

static void
add_masses (const NappeSheet *sheet, NappeTable *table, const NappeLoads *loads)
{
  const struct
  {
    const char *label;
    NappeQuantity quantity;
    double value;
  } rows[] = {
    { _("water"), NAPPE_QUANTITY_MASS, loads->mass_water },
    { _("panels of all vessels"), NAPPE_QUANTITY_MASS, loads->mass_glass },
    { _("rock and sand"), NAPPE_QUANTITY_MASS, loads->mass_rock },
    { _("media and pipes"), NAPPE_QUANTITY_MASS, loads->mass_other },
    { _("all without the stand"), NAPPE_QUANTITY_MASS, loads->mass },
    { _("footprint of the stand"), NAPPE_QUANTITY_AREA, loads->footprint },
    { _("load on the floor under the whole footprint"), NAPPE_QUANTITY_PRESSURE, loads->floor_pressure },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    nappe_sheet_pair (table, rows[i].label, nappe_sheet_quantity (sheet, rows[i].quantity, rows[i].value));
  if (!isnan (loads->floor_allowed))
    nappe_sheet_pair (table, _("load that the floor is said to carry"),
                      nappe_sheet_quantity (sheet, NAPPE_QUANTITY_PRESSURE, loads->floor_allowed));
}

void
nappe_sheet_weight (const NappeSheet *sheet)
{
  g_autoptr (NappeLoads) loads = nappe_loads_new (sheet->build, sheet->study->network->catalogue, sheet->study);
  const char *heads[] = { _("weight when running"), _("value") };
  g_autoptr (NappeTable) table = nappe_table_new ("tn", heads);

  if (loads->known)
    add_masses (sheet, table, loads);
  cautioned_section (sheet, _("Weight"), _("Have a qualified person check floor and stand; this is never an approval."), table,
                     _("There is no steady state to speak of."));
  nappe_pages_skip (sheet->pages, 3.0);
  nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                         _("Under feet or skids the load is a multiple of the mean under the footprint. Local codes and "
                           "licensed practice come first."));
}

static const char *
panel_label (int side)
{
  switch (side)
    {
    case NAPPE_PANEL_FRONT:
      /* Translators: panels of a tank */
      return _("front and back");
    case NAPPE_PANEL_SIDE:
      return _("left and right");
    case NAPPE_PANEL_BOTTOM:
    default:
      return _("bottom, held at its edges alone");
    }
}

static void
add_panel (const NappeSheet *sheet, NappeTable *table, const NappePanel *panel, gboolean notes)
{
  nappe_table_add (table, nappe_wording_part (sheet->build, panel->part));
  nappe_table_add (table, panel_label (panel->side));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, panel->length));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, panel->height));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, panel->thickness));
  nappe_table_take (table, nappe_quantity_format_number (NAPPE_QUANTITY_PRESSURE, panel->stress, sheet->options->units, 2));
  nappe_table_take (table, nappe_quantity_format_number (NAPPE_QUANTITY_PRESSURE, panel->strength, sheet->options->units, 2));
  nappe_table_take (table, nappe_quantity_format_number (NAPPE_QUANTITY_NUMBER, panel->safety, sheet->options->units, 2));
  nappe_table_take (table, nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, panel->deflection, sheet->options->units, 2));
  if (notes)
    nappe_table_add (table, panel->small ? "" : _("bends more than the theory bears"));
}

void
nappe_sheet_panels (const NappeSheet *sheet)
{
  g_autoptr (NappeLoads) loads = nappe_loads_new (sheet->build, sheet->study->network->catalogue, sheet->study);
  g_autofree char *length = nappe_sheet_head (sheet, _("span"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *height = nappe_sheet_head (sheet, _("water, or width"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *thickness = nappe_sheet_head (sheet, _("thickness"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *stress = nappe_sheet_head (sheet, _("greatest stress"), NAPPE_QUANTITY_PRESSURE);
  g_autofree char *strength = nappe_sheet_head (sheet, _("strength assumed"), NAPPE_QUANTITY_PRESSURE);
  g_autofree char *deflection = nappe_sheet_head (sheet, _("bends by"), NAPPE_QUANTITY_LENGTH);
  const char *heads[] = { _("vessel"), _("panel"), length, height, thickness, stress, strength, _("strength over stress"),
                          deflection, _("note") };
  gboolean notes = FALSE;

  for (guint i = 0; i < loads->n_panels; i++)
    notes = notes || !loads->panels[i].small;
  g_autoptr (NappeTable) table = nappe_table_new (notes ? "ttnnnnnnnt" : "ttnnnnnnn", heads);
  for (guint i = 0; i < loads->n_panels; i++)
    add_panel (sheet, table, &loads->panels[i], notes);
  cautioned_section (sheet, _("Panels with water up to the rim"),
                     _("Have a qualified person check glass and joints; this is never an approval."), table,
                     _("Nothing is reckoned: material or thickness of the panels is not known."));
  if (nappe_table_n_rows (table) == 0)
    return;
  nappe_pages_skip (sheet->pages, 3.0);
  nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                         _("Thin plates held at the bottom and both sides, free to turn, without a brace along the rim; joints "
                           "and holes are left out. A bottom that lies on a flat plate carries next to nothing of this."));
}

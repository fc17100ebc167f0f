/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weight, load on the floor, panels: cautions for a person to have checked. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"

void
nappe_results_add_loads (NappeResultList *list)
{
  const NappeLoads *loads = list->loads;
  NappeResult *result;

  if (loads == NULL)
    return;
  result = nappe_result_list_add (list, "mass", _("Weighs, full, without its stand"), NAPPE_QUANTITY_MASS, loads->mass,
                                  NAPPE_LAW_MASS);
  nappe_result_input (result, "", _("water"), NAPPE_QUANTITY_MASS, loads->mass_water);
  nappe_result_input (result, "", _("panels"), NAPPE_QUANTITY_MASS, loads->mass_glass);
  nappe_result_input (result, "", _("rock and sand"), NAPPE_QUANTITY_MASS, loads->mass_rock);
  nappe_result_input (result, "", _("other"), NAPPE_QUANTITY_MASS, loads->mass_other);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "floor_pressure", _("Load on the floor under the stand"),
                                  NAPPE_QUANTITY_PRESSURE, loads->floor_pressure, NAPPE_LAW_FLOOR_PRESSURE);
  nappe_result_input (result, "m", _("mass"), NAPPE_QUANTITY_MASS, loads->mass);
  nappe_result_input (result, "A", _("footprint of the stand"), NAPPE_QUANTITY_AREA, loads->footprint);
  nappe_result_by_law (result);
  nappe_result_list_add (list, "floor_allowed", _("The floor may carry, as given"), NAPPE_QUANTITY_PRESSURE,
                         loads->floor_allowed, NAPPE_LAW_GIVEN);
}

/* The three results of one side of a vessel. */
typedef struct
{
  const char *keys[3];
  const char *labels[3];
} PanelWords;

static PanelWords
panel_words (int side)
{
  switch (side)
    {
    case NAPPE_PANEL_FRONT:
      return (PanelWords) { { "front_stress", "front_deflection", "front_safety" },
                            { _("Stress of the front panel"), _("The front panel bends by"),
                              _("Its strength over its stress") } };
    case NAPPE_PANEL_SIDE:
      return (PanelWords) { { "side_stress", "side_deflection", "side_safety" },
                            { _("Stress of the side panels"), _("The side panels bend by"),
                              _("Their strength over their stress") } };
    case NAPPE_PANEL_BOTTOM:
    default:
      return (PanelWords) { { "bottom_stress", "bottom_deflection", "bottom_safety" },
                            { _("Stress of the bottom panel, standing on its edges"), _("The bottom panel bends by"),
                              _("Its strength over its stress") } };
    }
}

static void
add_panel (NappeResultList *list, const NappePanel *panel)
{
  PanelWords words = panel_words (panel->side);
  NappeResult *results[] = {
    nappe_result_list_add (list, words.keys[0], words.labels[0], NAPPE_QUANTITY_PRESSURE, panel->stress,
                           NAPPE_LAW_PLATE_STRESS),
    nappe_result_list_add (list, words.keys[1], words.labels[1], NAPPE_QUANTITY_LENGTH, panel->deflection,
                           NAPPE_LAW_PLATE_DEFLECTION),
    nappe_result_list_add (list, words.keys[2], words.labels[2], NAPPE_QUANTITY_NUMBER, panel->safety,
                           NAPPE_LAW_PLATE_SAFETY),
  };

  for (gsize i = 0; i < 2; i++)
    {
      nappe_result_input (results[i], "", _("clear length"), NAPPE_QUANTITY_LENGTH, panel->length);
      nappe_result_input (results[i], "", _("depth of water at the rim, or width"), NAPPE_QUANTITY_LENGTH,
                          panel->height);
      nappe_result_input (results[i], "t", _("thickness"), NAPPE_QUANTITY_LENGTH, panel->thickness);
    }
  nappe_result_input (results[2], "", _("strength for years under load"), NAPPE_QUANTITY_PRESSURE, panel->strength);
  nappe_result_input (results[2], "σ", _("stress"), NAPPE_QUANTITY_PRESSURE, panel->stress);
  for (gsize i = 0; i < G_N_ELEMENTS (results); i++)
    nappe_result_by_law (results[i]);
}

void
nappe_results_add_panels (NappeResultList *list)
{
  for (guint i = 0; list->loads != NULL && i < list->loads->n_panels; i++)
    if (g_str_equal (list->loads->panels[i].part, list->part))
      add_panel (list, &list->loads->panels[i]);
}

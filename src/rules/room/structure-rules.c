/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Load on the floor and stress in the panels: cautions. A licensed person and the maker of the glass decide. */
#include "rules/rule-list.h"

#include "study/loads.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
report_floor (NappeRuleContext *context, const NappeLoads *loads)
{
  gboolean known = nappe_is_given (loads->floor_allowed);
  double limit = known ? loads->floor_allowed : nappe_rule_limit (context, NAPPE_LIMIT_FLOOR_USUAL);
  const char *id = nappe_part_get_id (context->build->stand);
  gboolean over = loads->floor_pressure > limit;
  NappeFinding *finding
      = over ? nappe_rule_find (context, known ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_ADVICE,
                                known ? _("Too heavy for the floor") : _("Have the floor judged"), id)
             : nappe_rule_fine (context, id, loads->floor_pressure, limit, NAPPE_QUANTITY_PRESSURE);

  nappe_finding_measure (finding, loads->floor_pressure, limit, NAPPE_QUANTITY_PRESSURE);
  /* Translators: mass, area, pressure. */
  nappe_finding_say (finding, _("The filled system weighs %s without stand and equipment, on %s of floor: %s."),
                     nappe_rule_number (context, NAPPE_QUANTITY_MASS, loads->mass),
                     nappe_rule_number (context, NAPPE_QUANTITY_AREA, loads->footprint),
                     nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, loads->floor_pressure));
  nappe_finding_formula (finding, _("mass × gravity / footprint of the stand"));
  nappe_finding_input (finding, "", _("water"), loads->mass_water, NAPPE_QUANTITY_MASS);
  nappe_finding_input (finding, "", _("glass"), loads->mass_glass, NAPPE_QUANTITY_MASS);
  nappe_finding_input (finding, "", _("rock and sand"), loads->mass_rock, NAPPE_QUANTITY_MASS);
  if (known)
    /* Translators: %s is a pressure. */
    nappe_finding_say (finding, _("The room’s floor is said to carry %s."),
                       nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, limit));
  else
    /* Translators: %s is a pressure. */
    nappe_finding_say (finding, _("What this floor may carry is not known; floors of homes are reckoned for about %s all "
                                  "over."),
                       nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, limit));
  if (!over)
    return;
  if (known)
    nappe_finding_say (finding, _("It can sag, crack the tank, or give way."));
  /* Translators: %s is an area. */
  nappe_finding_cure (finding, _("Ask someone licensed to judge it before water goes in; local codes decide. Spread over %s "
                                  "the load would be within that, or stand it along a bearing wall, or on the ground."),
                      nappe_rule_number (context, NAPPE_QUANTITY_AREA, loads->footprint * loads->floor_pressure / limit));
}

/* The floor under the stand carries the filled system. */
void
nappe_rule_floor_load (NappeRuleContext *context)
{
  if (!nappe_rule_needs_computed (context))
    return;
  if (context->network->catalogue == NULL)
    {
      nappe_rule_not_checked (context, _("Not checked: there is no catalogue of parts."));
      return;
    }
  g_autoptr (NappeLoads) loads = nappe_loads_new_weight (context->build, context->network->catalogue, context->study);
  if (loads->floor_pressure > 0)
    report_floor (context, loads);
  else
    nappe_rule_not_checked (context, _("Not checked: the stand has no footprint."));
}

static void
report_panel (NappeRuleContext *context, const NappePanel *panel)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  double breaks = nappe_rule_limit (context, NAPPE_LIMIT_PANEL_BREAKS);
  /* Baffles that are glued in hold the long panels of a sump, and are not reckoned with. */
  gboolean braced = g_str_equal (panel->part, nappe_part_get_id (context->build->sump)) && sump->baffles->len > 0;
  double least = braced ? breaks : nappe_rule_limit (context, NAPPE_LIMIT_PANEL_SAFETY);
  gboolean weak = !(panel->safety >= least), breaking = !braced && !(panel->safety >= breaks);
  NappeFinding *finding
      = weak ? nappe_rule_find (context, breaking ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_PROBLEM, _("Panel too thin"),
                                panel->part)
             : nappe_rule_fine (context, panel->part, panel->safety, least, NAPPE_QUANTITY_NUMBER);

  nappe_finding_measure (finding, panel->safety, least, NAPPE_QUANTITY_NUMBER);
  /* Translators: length, height, thickness of a panel, part it belongs to, two stresses. */
  nappe_finding_say (finding, _("The panel of %s by %s, %s thick, of %s is bent with %s when filled to the rim; over years it "
                                "should bear no more than %s."),
                     NAPPE_SAY_LENGTH (context, panel->length), NAPPE_SAY_LENGTH (context, panel->height),
                     NAPPE_SAY_LENGTH (context, panel->thickness), nappe_rule_name (context, panel->part),
                     nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, panel->stress),
                     nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, panel->strength));
  nappe_finding_formula (finding, _("strength for a load of years / greatest stress of a thin plate, top edge free"));
  nappe_finding_input (finding, "", _("greatest stress"), panel->stress, NAPPE_QUANTITY_PRESSURE);
  nappe_finding_input (finding, "", _("strength assumed"), panel->strength, NAPPE_QUANTITY_PRESSURE);
  nappe_finding_input (finding, "", _("bends by"), panel->deflection, NAPPE_QUANTITY_LENGTH);
  if (!weak)
    return;
  nappe_finding_say (finding, _("Holes, scratches and poor edges weaken it further; braces and baffles that are glued in, "
                                "which are not reckoned with, help. A panel that breaks lets all the water out at once."));
  /* Stress falls with the square of the thickness. */
  double thicker = panel->thickness * sqrt (least / panel->safety);
  /* Translators: %s is a thickness. */
  nappe_finding_cure (finding, _("Take panels of %s or more, or brace the rim, and ask the tank’s maker: this is a caution, "
                                  "never an approval."),
                      NAPPE_SAY_LENGTH (context, thicker));
  nappe_finding_offer (finding, nappe_lever_new_number (panel->part, "wall_thickness", panel->thickness, 0.1));
}

/* The upright panels of tank and sump hold the water for years. */
void
nappe_rule_panel_stress (NappeRuleContext *context)
{
  NappePanel panels[2];
  guint n = nappe_loads_weakest_upright (context->build, context->study, panels);

  if (n == 0)
    nappe_rule_not_checked (context, _("Not checked: thickness or material of the panels is not known."));
  for (guint i = 0; i < n; i++)
    report_panel (context, &panels[i]);
}

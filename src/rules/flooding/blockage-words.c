/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/flooding/blockage-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

NappeSeverity
nappe_severity_of_faults (guint faults)
{
  return faults <= 1 ? NAPPE_SEVERITY_DANGER : faults == 2 ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE;
}

static void
add_blockage_working (NappeFinding *finding, NappeRuleContext *context, const NappeBlockage *blockage)
{
  nappe_finding_formula (finding, _("new rest of all levels with the inlets blocked"));
  nappe_finding_input (finding, "", _("rise of the display"), blockage->display_rise, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("left under the rim"), blockage->freeboard, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("room in display and boxes"), context->study->display_free,
                       NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("lifted by the pump before it draws air"), context->study->pump_liftable,
                       NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("added by the top-off"), blockage->top_off_added, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("on the floor"), blockage->state.spilled, NAPPE_QUANTITY_VOLUME);
}

void
nappe_say_blockage_flood (NappeRuleContext *context, NappeFinding *finding, const NappeBlockage *blockage, const char *what)
{
  nappe_finding_measure (finding, blockage->state.spilled, 0, NAPPE_QUANTITY_VOLUME);
  /* Translators: %s: "With ... blocked", a duration, a volume. */
  nappe_finding_say (finding, _("%s the water reaches the rim after %s at the earliest, and %s reach the floor."),
                     what, nappe_rule_duration (context, blockage->time_to_rim),
                     NAPPE_SAY_VOLUME (context, blockage->state.spilled));
  if (blockage->top_off_added > nappe_rule_limit (context, NAPPE_LIMIT_SPILL))
    /* Translators: %s is a volume. */
    nappe_finding_say (finding, _("That counts %s which the top-off adds meanwhile."),
                       NAPPE_SAY_VOLUME (context, blockage->top_off_added));
  add_blockage_working (finding, context, blockage);
}

NappeFinding *
nappe_report_blockage_held (NappeRuleContext *context, const NappeBlockage *blockage, const char *part, const char *what,
                            const char *title)
{
  double wanted = context->targets->display_freeboard;
  gboolean pair = blockage->n_blocked > 1 || blockage->all_drains;
  gboolean little = !pair && !(blockage->freeboard >= wanted);
  gboolean bare = little && !(blockage->freeboard >= nappe_rule_limit (context, NAPPE_LIMIT_EMERGENCY_CLEAR));
  NappeFinding *finding = little ? nappe_rule_find (context, bare ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                    title, part)
                                 : nappe_rule_fine (context, part, blockage->freeboard, wanted, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, blockage->freeboard, pair ? 0 : wanted, NAPPE_QUANTITY_LENGTH);
  /* Translators: "With ... blocked", height, height. */
  nappe_finding_say (finding, _("%s the display rises %s and stands %s below its rim."), what,
                     NAPPE_SAY_LENGTH (context, fmax (0, blockage->display_rise)),
                     NAPPE_SAY_LENGTH (context, blockage->freeboard));
  add_blockage_working (finding, context, blockage);
  if (!little)
    return NULL;
  /* Translators: %s is a height. */
  nappe_finding_say (finding, _("You asked for %s."), NAPPE_SAY_LENGTH (context, wanted));
  return finding;
}

void
nappe_report_blockage_unknown (NappeRuleContext *context, const char *part, const char *what)
{
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("A blockage could not be computed"), part);
  /* Translators: %s: "With ... blocked". */
  nappe_finding_say (finding, _("%s no rest of the levels was found. Take it as a danger until it is."), what);
  nappe_finding_cure (finding, _("Check the sizes and heights of this part and of what it leads to."));
}

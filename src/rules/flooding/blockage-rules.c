/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains, and half of a weir, that block while the pump goes on. */
#include "rules/flooding/blockage-words.h"
#include "rules/flooding/flood-levers.h"
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const char *
blocked_id (NappeRuleContext *context, const NappeBlockage *blockage, guint index)
{
  return context->network->links[blockage->blocked[index]].id;
}

/* What the only drain blocked brings. */
typedef struct
{
  double risen; /* that rises into the display and boxes at most [m3] */
  double room;  /* under the rim [m3] */
  double time;  /* to the rim, at the earliest [s]; INFINITY: never or unknown */
} SingleDrain;

static SingleDrain
reckon_single_drain (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  const NappeBlockage *blockage = nappe_study_blockage (study, NULL);
  SingleDrain single = { study->pump_liftable + context->network->reservoir_volume, study->display_free, INFINITY };

  if (blockage == NULL || !blockage->floods)
    return single;
  /* The computed end counts what the chambers above the pump's give up too: the worse reckoning is told. */
  if (blockage->state.spilled > nappe_rule_limit (context, NAPPE_LIMIT_SPILL))
    single.risen = fmax (single.risen, single.room + blockage->state.spilled);
  single.time = blockage->time_to_rim;
  return single;
}

static void
add_single_drain_working (NappeRuleContext *context, NappeFinding *finding, const SingleDrain *single)
{
  double lifted = context->study->pump_liftable, added = context->network->reservoir_volume;
  double others = single->risen - lifted - added;

  nappe_finding_formula (finding, _("what rises when the drain blocks, against the room under the rim"));
  nappe_finding_input (finding, "", _("lifted by the pump before it draws air"), lifted, NAPPE_QUANTITY_VOLUME);
  if (added > 0)
    nappe_finding_input (finding, "", _("added by the top-off"), added, NAPPE_QUANTITY_VOLUME);
  if (others > nappe_rule_limit (context, NAPPE_LIMIT_SPILL))
    nappe_finding_input (finding, "", _("given up by pipes and other chambers"), others, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("room in display and boxes"), single->room, NAPPE_QUANTITY_VOLUME);
}

static void
report_single_drain (NappeRuleContext *context, const char *id)
{
  SingleDrain single = reckon_single_drain (context);
  gboolean fits = single.risen <= single.room;
  const char *lost = NAPPE_SAY_VOLUME (context, single.risen - single.room);
  NappeFinding *finding
      = nappe_rule_find (context, fits ? NAPPE_SEVERITY_ADVICE : NAPPE_SEVERITY_DANGER,
                         fits ? _("Only one drain") : _("Only one drain, and it floods when it blocks"), id);

  nappe_finding_measure (finding, single.risen, single.room, NAPPE_QUANTITY_VOLUME);
  /* Translators: drain, then two volumes. */
  nappe_finding_say (finding,
                     _("All water leaves by %s alone. When it blocks, up to %s rise into the display, which has room "
                        "for %s under its rim."),
                     nappe_rule_name (context, id), NAPPE_SAY_VOLUME (context, single.risen),
                     NAPPE_SAY_VOLUME (context, single.room));
  nappe_finding_cure (finding, _("Add an emergency drain that carries the pump’s whole flow."));
  add_single_drain_working (context, finding, &single);
  if (fits)
    return;
  /* Translators: %s is a volume. */
  nappe_finding_say (finding, _("Up to %s reach the floor."), lost);
  if (isfinite (single.time))
    /* Translators: %s is a duration. */
    nappe_finding_say (finding, _("The water is at the rim after %s at the earliest."),
                       nappe_rule_duration (context, single.time));
  nappe_rule_say_played (context, finding, nappe_rule_blocked_course (context, id));
  nappe_levers_more_room_above (context, finding);
  nappe_finding_cure (finding,
                      /* Translators: %s is a volume. */
                      _("Until then let the return chamber hold %s less above the level at which the pump draws air."),
                      lost);
}

/* A single drain is always said. It is a danger unless all that the pump can lift, with what the
 * top-off adds, fits above the display's running level. */
void
nappe_rule_single_drain (NappeRuleContext *context)
{
  NappeRest rest = context->study->running.rest;

  if (context->build->drains->len != 1)
    {
      nappe_rule_not_checked (context, context->build->drains->len == 0
                                           ? _("Does not apply: the build has no drain.")
                                           : _("Does not apply: the build has more than one drain."));
      return;
    }
  const char *id = nappe_rule_id (context->build->drains->pdata[0]);
  if (rest == NAPPE_REST_FOUND || rest == NAPPE_REST_CYCLES)
    {
      report_single_drain (context, id);
      return;
    }
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Only one drain"), id);
  nappe_finding_say (finding, _("All water leaves by one drain. Whether the display could hold what the pump lifts "
                                 "when it blocks could not be computed."));
  nappe_finding_cure (finding, _("Add an emergency drain."));
}

static void
cure_flood (NappeRuleContext *context, NappeFinding *finding, const NappeBlockage *blockage)
{
  nappe_levers_more_room_above (context, finding);
  /* Translators: flow, volume. */
  nappe_finding_cure (finding,
                      _("Let what stays open carry the pump’s whole flow of %s below the rim, or let the pump draw "
                         "air %s sooner: a smaller or lower return chamber."),
                      NAPPE_SAY_FLOW (context, context->study->running.display_flow),
                      NAPPE_SAY_VOLUME (context, blockage->state.spilled));
}

static void
report_drain_held (NappeRuleContext *context, const NappeBlockage *blockage, const char *part, const char *what)
{
  NappeFinding *finding
      = nappe_report_blockage_held (context, blockage, part, what, _("Little room under the rim with a drain blocked"));

  if (finding == NULL)
    return;
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Lower the weir or the emergency inlet by %s, or let what stays open carry more."),
                      NAPPE_SAY_LENGTH (context, context->targets->display_freeboard - blockage->freeboard));
  nappe_levers_more_room_above (context, finding);
}

/* Each drain blocked, and each pair of three or more. */
void
nappe_rule_drain_blocked (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (context->build->drains->len == 1)
    {
      nappe_rule_not_checked (context, _("Does not apply: said of the single drain already."));
      return;
    }
  if (!nappe_rule_needs_running (context) || !nappe_rule_needs_dry_floor (context))
    return;
  for (guint i = 0; i < study->n_blockages; i++)
    {
      const NappeBlockage *blockage = &study->blockages[i];
      if (blockage->all_drains || blockage->n_blocked == 0)
        continue;
      const char *part = blocked_id (context, blockage, 0);
      /* Translators: start of a sentence; %s is a drain. */
      const char *what
          = blockage->n_blocked == 1
                ? nappe_rule_text (context, _("With %s blocked,"), nappe_rule_name (context, part))
                /* Translators: start of a sentence; two drains. */
                : nappe_rule_text (context, _("With %s and %s blocked at once,"), nappe_rule_name (context, part),
                                   nappe_rule_name (context, blocked_id (context, blockage, 1)));
      if (blockage->floods)
        {
          NappeFinding *finding = nappe_rule_find (
              context, nappe_severity_of_faults (blockage->n_blocked),
              blockage->n_blocked == 1 ? _("Blocked drain floods") : _("Two blocked drains flood"), part);
          nappe_say_blockage_flood (context, finding, blockage, what);
          if (blockage->n_blocked == 1)
            nappe_rule_say_played (context, finding, nappe_rule_blocked_course (context, part));
          cure_flood (context, finding, blockage);
        }
      else if (blockage->state.rest == NAPPE_REST_NOT_FOUND)
        nappe_report_blockage_unknown (context, part, what);
      else
        report_drain_held (context, blockage, part, what);
    }
}

/* All drains at once: a weir or a strainer shared by all that clogs, or a pump left on at work. */
void
nappe_rule_all_drains_blocked (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  const NappeBlockage *blockage = nappe_study_blockage (study, NULL);
  const char *part = nappe_rule_id (context->build->tank);
  const char *what = _("With every drain blocked,");

  if (context->build->drains->len == 1)
    {
      nappe_rule_not_checked (context, _("Does not apply: said of the single drain already."));
      return;
    }
  if (!nappe_rule_needs_running (context) || !nappe_rule_needs_dry_floor (context))
    return;
  if (blockage == NULL)
    nappe_rule_not_checked (context, _("Does not apply: the build has no drain."));
  else if (blockage->floods)
    {
      NappeFinding *finding
          = nappe_rule_find (context, nappe_severity_of_faults (study->n_drains), _("All drains blocked flood"), part);
      nappe_say_blockage_flood (context, finding, blockage, what);
      /* Translators: %s is a volume. */
      nappe_finding_cure (finding,
                          _("A return chamber from which the pump can lift %s less before it draws air would keep the "
                             "floor dry whatever blocks."),
                          NAPPE_SAY_VOLUME (context, blockage->state.spilled));
      nappe_levers_lower_kept_level (context, finding);
      nappe_levers_raise_tank (context, finding);
    }
  else if (blockage->state.rest == NAPPE_REST_NOT_FOUND)
    nappe_report_blockage_unknown (context, part, what);
  else
    report_drain_held (context, blockage, part, what);
}

static void
report_weir (NappeRuleContext *context, const NappeBlockage *blockage, const char *overflow)
{
  /* Translators: start of a sentence; %s is an overflow box. */
  const char *what = nappe_rule_text (context, _("With half of the weir of %s closed by growth or a snail,"),
                                      nappe_rule_name (context, overflow));
  NappeFinding *finding;

  if (!blockage->floods && blockage->state.rest == NAPPE_REST_NOT_FOUND)
    {
      nappe_report_blockage_unknown (context, overflow, what);
      return;
    }
  if (blockage->floods)
    {
      finding = nappe_rule_find (context, nappe_severity_of_faults (1), _("Half-blocked weir floods"), overflow);
      nappe_say_blockage_flood (context, finding, blockage, what);
      nappe_finding_cure (finding, _("Lower the weir, make it longer, or let the tank’s walls stand higher over it."));
    }
  else
    {
      finding = nappe_report_blockage_held (context, blockage, overflow, what, _("Little room under the rim with half the weir"));
      if (finding == NULL)
        return;
      /* Translators: %s is a height. */
      nappe_finding_cure (finding, _("Lower the weir by %s, or make it longer; brush its teeth whenever you clean the glass."),
                          NAPPE_SAY_LENGTH (context, context->targets->display_freeboard - blockage->freeboard));
    }
  nappe_levers_lower_weir (context, finding, overflow);
  nappe_levers_lengthen_weir (context, finding, overflow);
  nappe_rule_offer_pumps (context, finding, FALSE);
  nappe_levers_raise_tank (context, finding);
}

/* Half of each weir of the display closed: the film over what is left is thicker, and the display stands higher. */
void
nappe_rule_weir_blocked (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!nappe_rule_needs_running (context) || !nappe_rule_needs_dry_floor (context))
    return;
  if (study->n_weirs == 0)
    nappe_rule_not_checked (context, _("Does not apply: the display has no weir."));
  for (guint i = 0; i < study->n_weirs; i++)
    report_weir (context, &study->weir_blocked[i], study->weirs[i].id);
}

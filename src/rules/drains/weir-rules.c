/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is seen and heard at the overflow: the film over the weir and the standpipes. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A wider pipe; a siphon that carries more; less water. */
static void
offer_quiet (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *report)
{
  const NappeStudy *study = context->study;

  if (report->role == NAPPE_DRAIN_OPEN_CHANNEL)
    for (guint i = 0; i < study->n_drains; i++)
      if (study->drains[i].role == NAPPE_DRAIN_SIPHON)
        nappe_rule_offer_valve (finding, &study->drains[i], study->drains[i].opening, 1);
  nappe_finding_offer (finding, nappe_lever_new_size (report->id, TRUE));
  nappe_rule_offer_pumps (context, finding, FALSE);
}

static void
report_standpipe (NappeRuleContext *context, const NappeDrainReport *report)
{
  double quiet = nappe_rule_limit (context, NAPPE_LIMIT_FROUDE_QUIET);
  double prime = nappe_rule_limit (context, NAPPE_LIMIT_FROUDE_PRIME);
  gboolean surging = report->froude > prime || report->state == NAPPE_DRAIN_FULL;
  gboolean loud = surging || report->froude > quiet;
  const char *name = nappe_rule_name (context, report->id);
  /* At one bore the flow goes with the Froude number; the study's is that of the usual limit. */
  double quiet_flow = report->quiet_flow * quiet / NAPPE_FROUDE_QUIET;
  const char *flow = NAPPE_SAY_FLOW (context, report->flow), *limit = NAPPE_SAY_FLOW (context, quiet_flow);
  double bore = context->network->links[report->link].inlet.bore;
  NappeFinding *finding = loud
                              ? nappe_rule_find (context, surging ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                 surging ? _("Standpipe surges") : _("Standpipe is loud"), report->id)
                              : nappe_rule_fine (context, report->id, report->froude, quiet, NAPPE_QUANTITY_NUMBER);

  nappe_finding_measure (finding, report->froude, surging ? prime : quiet, NAPPE_QUANTITY_NUMBER);
  if (surging)
    /* Translators: drain, flow, flow. */
    nappe_finding_say (finding,
                       _("%s carries %s; it is quiet up to about %s. So much water sweeps the air down with it: the "
                          "pipe fills, gulps and empties by turns."),
                       name, flow, limit);
  else if (loud)
    /* Translators: drain, flow, flow. */
    nappe_finding_say (
        finding, _("%s carries %s; it is quiet up to about %s. Above that it draws air down, surges and gurgles."),
        name, flow, limit);
  else
    /* Translators: drain, flow, flow. */
    nappe_finding_say (finding, _("%s carries %s; it is quiet up to about %s."), name, flow, limit);
  nappe_finding_formula (finding, "Fr = V / √(g D)");
  nappe_finding_input (finding, "Fr", _("Froude number of the full bore"), report->froude, NAPPE_QUANTITY_NUMBER);
  nappe_finding_input (finding, "V", _("flow over the whole bore"), report->velocity, NAPPE_QUANTITY_SPEED);
  nappe_finding_input (finding, "D", _("bore"), bore, NAPPE_QUANTITY_LENGTH);
  if (!loud)
    return;
  double wanted = nappe_rule_bore_for (context, report, fmax (1, report->froude / quiet));
  if (report->role == NAPPE_DRAIN_OPEN_CHANNEL && nappe_rule_count_role (context, NAPPE_DRAIN_SIPHON) > 0)
    /* Translators: diameter, flow. */
    nappe_finding_cure (finding,
                        _("Open the siphon’s valve so that less is left for this drain, or give it a bore of %s."),
                        NAPPE_SAY_LENGTH (context, wanted));
  else
    /* Translators: diameter, flow. */
    nappe_finding_cure (
        finding,
        _("Give it a bore of %s, turn the pump down to %s, or let a throttled siphon carry most of the flow."),
        NAPPE_SAY_LENGTH (context, wanted), limit);
  offer_quiet (context, finding, report);
}

/* Vented standpipes and open channels stay below the flow at which they draw air. */
void
nappe_rule_standpipe_quiet (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint found = 0;

  if (nappe_rule_count_role (context, NAPPE_DRAIN_STANDPIPE) + nappe_rule_count_role (context, NAPPE_DRAIN_OPEN_CHANNEL)
      == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: the build has no vented standpipe and no open channel."));
      return;
    }
  if (!nappe_rule_needs_steady (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      if (report->role != NAPPE_DRAIN_STANDPIPE && report->role != NAPPE_DRAIN_OPEN_CHANNEL)
        continue;
      report_standpipe (context, report);
      found++;
    }
}

/* Longest weir that a box has room for: all its walls [m]. */
static double
longest_weir (const NappeOverflow *box)
{
  return fmax (box->weir_length, 2 * (box->length + box->width));
}

/* The crest's length, of a toothed weir its slots' together [m]. */
static double
crest_length (const NappeOverflow *box)
{
  return box->slot_count > 0 ? box->slot_count * box->slot_width : box->weir_length;
}

/* About as many slots as reckoned, and a few on the safe side of that. */
static void
offer_slots (NappeFinding *finding, const NappeOverflow *box, guint slots, gboolean more)
{
  static const double shares[] = { 1, 1.05, 1.15, 1.3 };
  NappeLever *lever = nappe_lever_new_choice (nappe_rule_id (box), "slot_count");

  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      double count = round (more ? slots * shares[i] : slots / shares[i]);
      g_autofree char *text = g_strdup_printf ("%.0f", count);
      if (count >= 1 && count * box->slot_width <= longest_weir (box))
        nappe_lever_add_choice (lever, text);
    }
  if (lever->choices->len > 0)
    nappe_finding_offer (finding, lever);
  else
    nappe_lever_free (lever);
}

static void
cure_film (NappeRuleContext *context, NappeFinding *finding, const NappeOverflow *box, double film, double limit)
{
  /* The same flow at another head: length goes with the head to the power of -3/2. */
  double length = crest_length (box) * pow (film / limit, 1.5);
  if (box->slot_count > 0)
    {
      guint slots = (guint)CLAMP (round (length / fmax (box->slot_width, 1e-4)), 1, 10000);
      nappe_finding_cure (
          finding,
          /* Translators: %u is a number of slots, %s a height. */
          g_dngettext (GETTEXT_PACKAGE, "About %u slot would give %s.", "About %u slots would give %s.", slots), slots,
          NAPPE_SAY_LENGTH (context, limit));
      offer_slots (finding, box, slots, film > limit);
    }
  else
    /* Translators: length, height. */
    nappe_finding_cure (finding, _("A weir about %s long would give %s."), NAPPE_SAY_LENGTH (context, length),
                        NAPPE_SAY_LENGTH (context, limit));
  if (box->slot_count == 0)
    nappe_finding_offer (finding,
                         nappe_lever_new_number (nappe_rule_id (box), "weir_length", 0.01, longest_weir (box)));
}

static void
report_film (NappeRuleContext *context, const NappeWeirReport *report, const NappeOverflow *box)
{
  double thin = nappe_rule_limit (context, NAPPE_LIMIT_FILM_THIN), thick = nappe_rule_limit (context, NAPPE_LIMIT_FILM_THICK);
  gboolean too_thin = !(report->film >= thin);
  gboolean too_thick = report->film > thick;
  NappeFinding *finding
      = too_thin || too_thick
            ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                               too_thin ? _("Film over the weir is too thin") : _("Film over the weir is too thick"),
                               report->id)
            : nappe_rule_fine (context, report->id, report->film, thick, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, report->film, too_thin ? thin : thick, NAPPE_QUANTITY_LENGTH);
  /* Translators: overflow box, then three heights. */
  nappe_finding_say (
      finding,
      _("The water over the weir of %s is about %s deep (%s to %s, for no weir law is surer at so little head)."),
      nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, report->film),
      NAPPE_SAY_LENGTH (context, report->film_low), NAPPE_SAY_LENGTH (context, report->film_high));
  nappe_finding_formula (finding, _("Q = 2/3 Ce √(2g) b h^1.5 (Kindsvater and Carter)"));
  nappe_finding_input (finding, "Q", _("flow over the weir"), report->flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "b", _("clear length of crest"), crest_length (box), NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "h", _("water over the crest"), report->film, NAPPE_QUANTITY_LENGTH);
  if (too_thin)
    {
      /* Translators: %s is a height. */
      nappe_finding_say (
          finding, _("Below %s it clings to the glass, skims only in places, and the numbers cannot be trusted."),
          NAPPE_SAY_LENGTH (context, thin));
      cure_film (context, finding, box, report->film, thin);
    }
  else if (too_thick)
    {
      /* Translators: %s is a height. */
      nappe_finding_say (finding, _("Above %s it roars and takes small fish along."),
                         NAPPE_SAY_LENGTH (context, thick));
      cure_film (context, finding, box, report->film, thick);
    }
}

/* The weir's crest higher, up to the tank's rim, or lower. */
static void
offer_crest (NappeRuleContext *context, NappeFinding *finding, const char *overflow, gboolean higher)
{
  NappePart *part = nappe_build_find (context->build, overflow);

  if (part == NULL || !NAPPE_IS_OVERFLOW (part))
    return;
  double now = NAPPE_OVERFLOW (part)->weir_height, rim = NAPPE_BUILD_TANK (context->build)->height;
  if (!higher)
    nappe_finding_offer (finding, nappe_lever_new_number (overflow, "weir_height", 0, now));
  else if (now < rim)
    nappe_finding_offer (finding, nappe_lever_new_number (overflow, "weir_height", now, rim));
}

/* The box stands above the crest, so that the film says nothing of the flow. */
static void
report_drowned (NappeRuleContext *context, const NappeWeirReport *report)
{
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Weir is drowned"), report->id);

  nappe_finding_measure (finding, -report->fall, 0, NAPPE_QUANTITY_LENGTH);
  /* Translators: overflow box, height. */
  nappe_finding_say (finding,
                     _("The water in %s backs up to %s over the crest of its weir: it does not skim, and the display "
                        "rises with the box."),
                     nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, -report->fall));
  nappe_finding_formula (finding, _("level of the box − crest"));
  nappe_finding_input (finding, "", _("water over the crest, display’s side"), report->film, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("water over the crest, box’s side"), -report->fall, NAPPE_QUANTITY_LENGTH);
  nappe_finding_cure (finding,
                      _("Open the drains’ valves, lower their inlets or make them larger, or raise the crest."));
  for (guint i = 0; i < context->study->n_drains; i++)
    nappe_rule_offer_valve (finding, &context->study->drains[i], context->study->drains[i].opening, 1);
  offer_crest (context, finding, report->id, TRUE);
}

/* The crest stands above the display's level. */
static void
report_dry (NappeRuleContext *context, const NappeWeirReport *report)
{
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Nothing runs over the weir"), report->id);

  nappe_finding_measure (finding, report->film, 0, NAPPE_QUANTITY_LENGTH);
  /* Translators: overflow box, height. */
  nappe_finding_say (finding, _("No water runs over the weir of %s: its crest stands %s above the display’s level."),
                     nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, fmax (0, -report->film)));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Lower the crest by more than %s."),
                      NAPPE_SAY_LENGTH (context, fmax (0, -report->film)));
  offer_crest (context, finding, report->id, FALSE);
}

/* The film is thick enough to skim and thin enough to be quiet. */
void
nappe_rule_weir_film (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!nappe_rule_needs_running (context))
    return;
  if (study->n_weirs == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no weir."));
  for (guint i = 0; i < study->n_weirs; i++)
    {
      NappePart *box = nappe_build_find (context->build, study->weirs[i].id);
      if (!(study->weirs[i].film > 0))
        report_dry (context, &study->weirs[i]);
      else if (study->weirs[i].fall < 0)
        report_drowned (context, &study->weirs[i]);
      else if (box != NULL && NAPPE_IS_OVERFLOW (box))
        report_film (context, &study->weirs[i], NAPPE_OVERFLOW (box));
    }
}

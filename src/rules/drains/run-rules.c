/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sideways pipes: those of drains fall, and no return line has a high spot that holds air. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Fall of a pipe below which it is level [m]. */
#define LEVEL 0.0005

static NappePiece *
piece_of (NappeRuleContext *context, const NappeLevelRun *run)
{
  NappePart *part = nappe_build_find (context->build, run->piece);
  return part != NULL && NAPPE_IS_PIECE (part) ? NAPPE_PIECE (part) : NULL;
}

/* A pipe gets more fall, and the pipe that leads down after it in its run gives the same height. */
static void
offer_fall (NappeFinding *finding, NappePiece *piece, double wanted)
{
  NappePart *line = nappe_part_get_owner (NAPPE_PART (piece));
  GPtrArray *run = line == NULL ? NULL : NAPPE_IS_DRAIN (line) ? NAPPE_DRAIN (line)->run : NAPPE_OUTLET (line)->run;
  gboolean behind = FALSE;

  for (guint i = 0; run != NULL && i < run->len; i++)
    {
      NappePiece *next = run->pdata[i];
      if (behind && next->toward == NAPPE_TOWARD_DOWN && next->length > wanted - piece->fall)
        {
          NappeLever *lever = nappe_lever_new_number (nappe_rule_id (piece), "fall", piece->fall,
                                                      fmin (1.5 * wanted, piece->length));
          nappe_lever_follow (lever, nappe_rule_id (next), "length", -1);
          nappe_finding_offer (finding, lever);
          return;
        }
      behind = behind || next == piece;
    }
}

/* A drain's pipe that climbs on its way down holds air. */
static void
report_climb (NappeRuleContext *context, const NappeLevelRun *run, NappePiece *piece)
{
  double climb = -run->fall * piece->length;
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Drain pipe climbs"), run->piece);

  nappe_finding_measure (finding, climb, 0, NAPPE_QUANTITY_LENGTH);
  /* Translators: drain, height, length. */
  nappe_finding_say (finding,
                     _("A pipe of %s climbs %s over its length of %s. Air stays at its upper end whenever the drain "
                       "starts: it gurgles, and carries less than it should until the air is gone, if it ever goes."),
                     nappe_rule_name (context, run->drain), NAPPE_SAY_LENGTH (context, climb),
                     NAPPE_SAY_LENGTH (context, piece->length));
  nappe_finding_cure (finding, _("Let it fall along the flow all the way."));
  offer_fall (finding, piece, nappe_rule_limit (context, NAPPE_LIMIT_RUN_FALL) * piece->length);
}

static void
report_siphon_level (NappeRuleContext *context, const NappeDrainReport *report, double level, NappePiece *longest)
{
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_LEVEL_RUN);
  double fall = nappe_rule_limit (context, NAPPE_LIMIT_RUN_FALL);
  gboolean much = level > limit;
  NappeFinding *finding
      = much ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Siphon leads level for long"), report->id)
             : nappe_rule_fine (context, report->id, level, limit, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, level, limit, NAPPE_QUANTITY_LENGTH);
  /* Translators: drain, length. */
  nappe_finding_say (finding, _("%s leads level, or nearly so, over %s in all."), nappe_rule_name (context, report->id),
                     NAPPE_SAY_LENGTH (context, level));
  if (!much)
    return;
  nappe_finding_say (finding, _("When it starts, the water runs along the bottom of such a pipe and leaves the air over "
                                "it: the siphon takes long to fill."));
  /* Translators: %s is a share: height over length. */
  nappe_finding_cure (finding, _("Let its sideways pipes fall by %s of their length or more, or set the outlet nearer "
                                 "under the box."),
                      NAPPE_SAY_SHARE (context, fall));
  if (longest != NULL)
    offer_fall (finding, longest, fall * longest->length);
}

static void
check_siphon_runs (NappeRuleContext *context, const NappeDrainReport *report)
{
  const NappeStudy *study = context->study;
  double fall = nappe_rule_limit (context, NAPPE_LIMIT_RUN_FALL), level = 0;
  NappePiece *longest = NULL;
  gboolean climbs = FALSE;

  for (guint i = 0; i < study->n_level_runs; i++)
    {
      const NappeLevelRun *run = &study->level_runs[i];
      NappePiece *piece = piece_of (context, run);
      if (piece == NULL || !g_str_equal (run->drain, report->id) || run->fall >= fall)
        continue;
      if (run->fall < 0)
        {
          report_climb (context, run, piece);
          climbs = TRUE;
          continue;
        }
      level += piece->length;
      if (longest == NULL || piece->length > longest->length)
        longest = piece;
    }
  if (!climbs)
    report_siphon_level (context, report, level, longest);
}

/* A siphon's pipes fall, so that its air is swept out. */
void
nappe_rule_siphon_run_level (NappeRuleContext *context)
{
  if (!nappe_rule_needs_siphon (context) || !nappe_rule_needs_computed (context))
    return;
  for (guint i = 0; i < context->study->n_drains; i++)
    if (context->study->drains[i].role == NAPPE_DRAIN_SIPHON)
      check_siphon_runs (context, &context->study->drains[i]);
}

static void
report_open_level (NappeRuleContext *context, const NappeLevelRun *run, NappePiece *piece)
{
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_RUN_FALL);
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Drain pipe leads sideways without fall"), run->piece);

  nappe_finding_measure (finding, run->fall, limit, NAPPE_QUANTITY_SHARE);
  if (run->fall * piece->length < LEVEL)
    /* Translators: drain, length. */
    nappe_finding_say (finding, _("A pipe of %s leads %s sideways without any fall."), nappe_rule_name (context, run->drain),
                       NAPPE_SAY_LENGTH (context, piece->length));
  else
    /* Translators: drain, length, height. */
    nappe_finding_say (finding, _("A pipe of %s leads %s sideways and falls only %s on the way."),
                       nappe_rule_name (context, run->drain), NAPPE_SAY_LENGTH (context, piece->length),
                       NAPPE_SAY_LENGTH (context, run->fall * piece->length));
  nappe_finding_say (finding, _("Water and dirt stay in it; when it runs, it fills from wall to wall, shuts the air in, and "
                                "gulps."));
  nappe_finding_formula (finding, _("fall over length"));
  nappe_finding_input (finding, "", _("length"), piece->length, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("bore"), run->bore, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("flow now"), run->flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("most that it carries with air over the water"), run->full_flow,
                       NAPPE_QUANTITY_FLOW);
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Let it fall by %s or more over its length."),
                      NAPPE_SAY_LENGTH (context, limit * piece->length));
  offer_fall (finding, piece, limit * piece->length);
}

/* Sideways pipes of drains in which water and air share the pipe have fall. */
void
nappe_rule_open_run_level (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  double fall = nappe_rule_limit (context, NAPPE_LIMIT_RUN_FALL), least = INFINITY;
  double shortest = nappe_rule_limit (context, NAPPE_LIMIT_SHORT_RUN);
  guint found = 0;

  if (!nappe_rule_needs_computed (context))
    return;
  for (guint i = 0; i < study->n_level_runs; i++)
    {
      const NappeLevelRun *run = &study->level_runs[i];
      const NappeDrainReport *drain = nappe_study_drain (study, run->drain);
      NappePiece *piece = piece_of (context, run);
      if (piece == NULL || drain == NULL || drain->role == NAPPE_DRAIN_SIPHON)
        continue;
      if (run->fall >= 0 && piece->length < shortest)
        continue;
      least = fmin (least, run->fall);
      if (run->fall < 0)
        report_climb (context, run, piece);
      else if (run->fall < fall)
        report_open_level (context, run, piece);
      found += run->fall < fall;
    }
  if (!isfinite (least))
    /* Translators: %s is a length. */
    nappe_rule_not_checked (context, nappe_rule_text (context, _("Does not apply: no open drain leads sideways over %s or more."),
                                                      NAPPE_SAY_LENGTH (context, shortest)));
  else if (found == 0)
    {
      NappeFinding *fine = nappe_rule_fine (context, "", least, fall, NAPPE_QUANTITY_SHARE);
      /* Translators: %s is a share: height over length. */
      nappe_finding_say (fine, _("The sideways pipes of the open drains fall by %s of their length or more."),
                         NAPPE_SAY_SHARE (context, least));
    }
}

/* Where a way along a return line turns down and then up again. */
typedef struct
{
  double top, low; /* highest so far; lowest since then, z [m] */
  double dip;      /* deepest dip that was followed by a climb [m] */
  double bore;     /* of the pipe that leads down from the top [m] */
  const NappePiece *peak; /* that leads up to the top, or down from it */
  double peak_bore;
  const NappePiece *said;
} HighSpot;

static void
follow (HighSpot *self, const NappeRoute *route, guint n_legs)
{
  for (guint i = 0; i < n_legs; i++)
    {
      const NappeLeg *leg = &route->legs[i];
      double z = leg->to.z;
      /* What it has come up again since its lowest point, but not over the top. */
      double dip = fmin (self->top, z) - self->low;
      if (dip > self->dip)
        {
          self->dip = dip;
          self->bore = self->peak_bore;
          self->said = self->peak;
        }
      if (z >= self->top)
        {
          self->top = self->low = z;
          self->peak = leg->piece;
          self->peak_bore = leg->bore;
        }
      self->low = fmin (self->low, z);
    }
}

static HighSpot
highest_spot (const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  HighSpot spot = { .top = line->trunk.start.z, .low = line->trunk.start.z };

  follow (&spot, &line->trunk, outlet->tee_leg >= 0 ? (guint)outlet->tee_leg + 1 : line->trunk.n_legs);
  follow (&spot, &outlet->route, outlet->route.n_legs);
  return spot;
}

static void
report_high_spot (NappeRuleContext *context, const char *line, const NappeOutletLayout *outlet, const HighSpot *spot)
{
  double flow = nappe_study_flow (context->study, &context->study->running, nappe_rule_id (outlet->part));
  double froude = nappe_full_bore_froude (flow, spot->bore);
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("High spot in the return line"),
                                           spot->said != NULL ? nappe_rule_id (spot->said) : line);

  nappe_finding_measure (finding, spot->dip, nappe_rule_limit (context, NAPPE_LIMIT_HIGH_SPOT), NAPPE_QUANTITY_LENGTH);
  /* Translators: line, height. */
  nappe_finding_say (finding,
                     _("On its way %s comes down from a high spot and climbs %s again. Air gathers there and narrows the "
                       "pipe, and after a power cut the pump may not push the water past it."),
                     nappe_rule_name (context, line), NAPPE_SAY_LENGTH (context, spot->dip));
  nappe_finding_formula (finding, "Fr = V / √(g D)");
  nappe_finding_input (finding, "Fr", _("Froude number of the full bore"), froude, NAPPE_QUANTITY_NUMBER);
  nappe_finding_input (finding, "D", _("bore"), spot->bore, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("flow"), flow, NAPPE_QUANTITY_FLOW);
  if (froude > nappe_rule_limit (context, NAPPE_LIMIT_FROUDE_PRIME))
    nappe_finding_say (finding, _("While the pump runs as drawn, the water sweeps the air along; with less flow it "
                                  "stays."));
  nappe_finding_cure (finding, _("Lead the pipe up to its highest point without a dip, or give the high spot a vent."));
}

/* A return line climbs to its highest point without a dip, in which the air before it would stay. */
void
nappe_rule_return_high_spot (NappeRuleContext *context)
{
  const NappeLayout *layout = context->layout;
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_HIGH_SPOT), worst = 0;
  guint found = 0;

  if (layout == NULL)
    nappe_rule_not_checked (context, _("Not checked: there is no catalogue to lay the pipes out with."));
  else if (layout->n_returns == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no return line."));
  if (layout == NULL || layout->n_returns == 0 || !nappe_rule_needs_computed (context))
    return;
  for (guint i = 0; i < layout->n_returns; i++)
    {
      const NappeLineLayout *line = &layout->returns[i];
      const NappeOutletLayout *to = NULL;
      HighSpot highest = { .dip = -1 };
      for (guint outlet = 0; outlet < line->n_outlets; outlet++)
        {
          HighSpot spot = highest_spot (line, &line->outlets[outlet]);
          to = spot.dip > highest.dip ? &line->outlets[outlet] : to;
          highest = spot.dip > highest.dip ? spot : highest;
        }
      worst = fmax (worst, highest.dip);
      if (!(highest.dip > limit))
        continue;
      report_high_spot (context, nappe_rule_id (line->part), to, &highest);
      found++;
    }
  if (found == 0)
    nappe_finding_say (nappe_rule_fine (context, "", worst, limit, NAPPE_QUANTITY_LENGTH),
                       _("The return lines climb to their highest point without a dip."));
}

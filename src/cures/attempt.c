/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One attempt: the changed copy is studied and judged as any build is. */
#include "cures/cure-private.h"

#include <math.h>

/* A danger whose number is off its limit by so much more than before has become worse. Less is drift: a cure of one
 * finding moves all levels a little. */
#define WORSE 1.1

static gboolean
is_about (const char *rule, const char *part, NappeFinding *finding)
{
  return g_str_equal (rule, nappe_finding_get_rule (finding)) && g_str_equal (part, nappe_finding_get_part (finding));
}

/* Whether the rules said as much of the part before. Several findings of one rule and part are counted. */
static gboolean
was_known (const NappeCureSearch *self, GPtrArray *findings, guint index)
{
  NappeFinding *finding = findings->pdata[index];
  double excess = fabs (nappe_finding_get_value (finding) - nappe_finding_get_limit (finding));
  guint same = 0, known = 0;

  for (guint i = 0; i <= index; i++)
    same += is_about (nappe_finding_get_rule (finding), nappe_finding_get_part (finding), findings->pdata[i]);
  for (guint i = 0; i < self->known->len; i++)
    {
      const NappeKnownFinding *before = self->known->pdata[i];
      if (!is_about (before->rule, before->part, finding))
        continue;
      gboolean worse = nappe_finding_get_severity (finding) > before->severity
                       || (before->severity == NAPPE_SEVERITY_DANGER && excess > WORSE * before->excess);
      known += !worse;
    }
  return same <= known;
}

/* A rule that can no longer look has cleared or eased nothing. Where its finding stays as something less, it looked. */
static gboolean
still_looks (const NappeVerdict *verdict, const char *rule)
{
  gboolean looked = FALSE, silent = TRUE;

  for (guint i = 0; i < verdict->fine->len; i++)
    if (g_str_equal (nappe_finding_get_rule (verdict->fine->pdata[i]), rule))
      {
        silent = FALSE;
        looked = looked || nappe_finding_get_checked (verdict->fine->pdata[i]);
      }
  return looked || silent;
}

/* What eases a finding may raise lesser ones, but must not blind a rule: with its pump stopped nothing runs over. */
static gboolean
all_still_look (const NappeCureSearch *self, const NappeVerdict *verdict)
{
  GHashTableIter rules;
  gpointer rule;

  g_hash_table_iter_init (&rules, self->looked);
  while (g_hash_table_iter_next (&rules, &rule, NULL))
    if (!still_looks (verdict, rule))
      return FALSE;
  return TRUE;
}

static gboolean
is_better (const NappeCureSearch *self, const NappeVerdict *verdict)
{
  const char *rule = nappe_finding_get_rule (self->finding), *part = nappe_finding_get_part (self->finding);
  NappeSeverity was = nappe_finding_get_severity (self->finding);

  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      gboolean lesser = nappe_finding_get_severity (finding) < was;
      if (self->easing && lesser)
        continue;
      if (is_about (rule, part, finding) || !was_known (self, verdict->findings, i))
        return FALSE;
    }
  return self->easing ? all_still_look (self, verdict) : still_looks (verdict, rule);
}

NappeVerdict *
nappe_cure_judge (NappeCureSearch *self, gboolean in_time, NappeStudy **study)
{
  g_autoptr (GPtrArray) courses = NULL;

  *study = nappe_study_build (self->build, self->catalogue);
  if (!in_time)
    return nappe_rules_run (self->build, *study, self->units);
  courses = nappe_rules_play (self->build, *study, self->evaporation, 1, self->cancellable);
  return nappe_rules_run_timed (self->build, *study, courses, self->units);
}

static gboolean
passes (NappeCureSearch *self, gboolean in_time)
{
  g_autoptr (NappeStudy) study = NULL;
  g_autoptr (NappeVerdict) verdict = nappe_cure_judge (self, in_time, &study);
  return is_better (self, verdict);
}

gboolean
nappe_cure_attempt (NappeCureSearch *self, const GArray *changes)
{
  const NappeRuleInfo *rule = nappe_rules_find (nappe_finding_get_rule (self->finding));
  gboolean passed;

  if (g_cancellable_is_cancelled (self->cancellable))
    return FALSE;
  nappe_build_begin (self->build, "");
  /* What is cheap first. A timed rule is silent then, and so passes nothing that it would not pass later. */
  passed = nappe_cure_changes_put (changes, self->build, NULL) && passes (self, FALSE)
           && ((!self->in_time && !rule->timed) || passes (self, TRUE));
  nappe_build_roll_back (self->build);
  return passed && !g_cancellable_is_cancelled (self->cancellable);
}

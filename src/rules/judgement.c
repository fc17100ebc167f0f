/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/judgement.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static NappeSeverity
severity_of (int weight)
{
  return (NappeSeverity)(NAPPE_SEVERITY_ADVICE + weight);
}

static void
append_sentence (GString *text, char *sentence)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", sentence);
  g_free (sentence);
}

/* Which limits the rule looked at that are the planner's own here. */
static void
tell_limits (NappeRuleContext *context, GString *text)
{
  for (guint i = 0; i < NAPPE_LIMIT_N; i++)
    {
      double own = context->consulted[i] ? nappe_limit_in_build (i, context->build) : NAN;
      if (isnan (own) || own == nappe_limit_value (i))
        continue;
      const NappeField *field = nappe_limit_field (i);
      const NappeLimit *limit = nappe_limit (i);
      g_autofree char *usual = nappe_rounded_text (limit->quantity, limit->value, context->units);
      g_autofree char *now = nappe_rounded_text (limit->quantity, own, context->units);
      /* Translators: name of a limit, value in this build, the usual value. */
      append_sentence (text, g_strdup_printf (_("Limit changed for this build: %s %s, usually %s."), _(field->label),
                                              now, usual));
    }
}

NappeWeighing *
nappe_rules_weighing_in (NappeBuild *build, const char *rule)
{
  for (guint i = 0; i < build->weighings->len; i++)
    if (g_str_equal (NAPPE_WEIGHING (build->weighings->pdata[i])->rule, rule))
      return build->weighings->pdata[i];
  return NULL;
}

/* A danger stays one. */
static void
weigh (NappeFinding *finding, const NappeWeighing *given, const char *changed)
{
  GString *text = g_string_new (changed);
  NappeSeverity own = nappe_finding_get_severity (finding);

  if (given != NULL && own != NAPPE_SEVERITY_DANGER && severity_of (given->weight) != own)
    {
      nappe_finding_set_severity (finding, severity_of (given->weight));
      /* Translators: %s is a severity, “Advice”. */
      append_sentence (text, g_strdup_printf (_("Weight changed for this build: usually “%s”."),
                                              nappe_severity_label (own)));
    }
  nappe_finding_set_changed (finding, text->str);
  g_string_free (text, TRUE);
}

void
nappe_judge_rule (NappeRuleContext *context, guint first_finding, guint first_fine)
{
  g_autoptr (GString) changed = g_string_new (NULL);
  const NappeWeighing *given = nappe_rules_weighing_in (context->build, context->rule->id);

  tell_limits (context, changed);
  for (guint i = first_finding; i < context->verdict->findings->len; i++)
    weigh (context->verdict->findings->pdata[i], given, changed->str);
  for (guint i = first_fine; i < context->verdict->fine->len && changed->len > 0; i++)
    nappe_finding_set_changed (context->verdict->fine->pdata[i], changed->str);
}

NappeAnswer *
nappe_rules_answer_in (NappeBuild *build, const char *rule, const char *part)
{
  for (guint i = build->answers->len; i > 0; i--)
    {
      NappeAnswer *answer = build->answers->pdata[i - 1];
      if (g_str_equal (answer->rule, rule) && g_str_equal (answer->part, part))
        return answer;
    }
  return NULL;
}

/* Transfer full. */
static char *
answer_text (const NappeAnswer *answer, gboolean worse)
{
  const char *who = answer->answerer == NAPPE_ANSWERER_REVIEWER ? _("reviewer") : _("planner");
  GString *text = g_string_new (NULL);

  if (*answer->author != '\0' && *answer->date != '\0')
    /* Translators: “planner” or “reviewer”, a name, a date, what they wrote. */
    g_string_printf (text, _("Answered by the %s %s, %s: “%s”"), who, answer->author, answer->date, answer->reason);
  else if (*answer->author != '\0')
    /* Translators: “planner” or “reviewer”, a name, what they wrote. */
    g_string_printf (text, _("Answered by the %s %s: “%s”"), who, answer->author, answer->reason);
  else
    /* Translators: “planner” or “reviewer”, what they wrote. */
    g_string_printf (text, _("Answered by the %s: “%s”"), who, answer->reason);
  if (worse)
    append_sentence (text, g_strdup (_("It has become worse since.")));
  return g_string_free (text, FALSE);
}

void
nappe_judge_answers (NappeRuleContext *context)
{
  NappeVerdict *verdict = context->verdict;

  for (guint i = 0; i < verdict->findings->len && context->build->answers->len > 0;)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      NappeSeverity severity = nappe_finding_get_severity (finding);
      const NappeAnswer *answer = nappe_rules_answer_in (context->build, nappe_finding_get_rule (finding),
                                                         nappe_finding_get_part (finding));
      gboolean worse = answer != NULL && severity > severity_of (answer->weight);
      if (answer != NULL)
        {
          g_autofree char *text = answer_text (answer, worse);
          nappe_finding_set_answer (finding, text);
        }
      if (answer == NULL || worse || severity == NAPPE_SEVERITY_DANGER)
        i++;
      else
        g_ptr_array_add (verdict->answered, g_ptr_array_steal_index (verdict->findings, i));
    }
}

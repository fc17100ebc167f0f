/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/document/judgements.h"

#include <glib/gi18n-lib.h>

#include "rules/rules.h"

/* Ends the open transaction as one step, or takes it back. */
static gboolean
end (NappeBuild *build, gboolean done)
{
  if (done)
    nappe_build_commit (build);
  else
    nappe_build_roll_back (build);
  return done;
}

static gboolean
remove_answers (NappeBuild *build, const char *rule, const char *part, GError **error)
{
  NappeAnswer *answer;

  while ((answer = nappe_rules_answer_in (build, rule, part)) != NULL)
    if (!nappe_build_remove (build, NAPPE_PART (answer), error))
      return FALSE;
  return TRUE;
}

static gboolean
add_answer (NappeBuild *build, NappeFinding *finding, const NappeReply *reply, GError **error)
{
  g_autoptr (NappePart) answer = g_object_new (NAPPE_TYPE_ANSWER, NULL);
  int weight = (int) nappe_finding_get_severity (finding) - (int) NAPPE_SEVERITY_ADVICE;

  return nappe_build_insert (build, NAPPE_PART (build), "answers", G_MAXUINT, answer, error)
         && nappe_build_set_text (build, answer, "rule", nappe_finding_get_rule (finding), error)
         && nappe_build_set_text (build, answer, "part", nappe_finding_get_part (finding), error)
         && nappe_build_set_number (build, answer, "weight", weight, error)
         && nappe_build_set_text (build, answer, "reason", reply->reason, error)
         && nappe_build_set_number (build, answer, "answerer", reply->answerer, error)
         && nappe_build_set_text (build, answer, "author", reply->author, error)
         && nappe_build_set_text (build, answer, "date", reply->date, error);
}

gboolean
nappe_judgements_answer (NappeBuild *build, NappeFinding *finding, const NappeReply *reply, GError **error)
{
  /* Translators: a step that can be undone; %s is the title of a finding. */
  g_autofree char *label = g_strdup_printf (_("Answer “%s”"), nappe_finding_get_title (finding));

  nappe_build_begin (build, label);
  return end (build, remove_answers (build, nappe_finding_get_rule (finding), nappe_finding_get_part (finding), error)
                         && add_answer (build, finding, reply, error));
}

gboolean
nappe_judgements_take_back (NappeBuild *build, const char *rule, const char *part, const char *title, GError **error)
{
  /* Translators: a step that can be undone; %s is the title of a finding. */
  g_autofree char *label = g_strdup_printf (_("Take back the answer to “%s”"), title);

  nappe_build_begin (build, label);
  return end (build, remove_answers (build, rule, part, error));
}

int
nappe_judgements_get_weight (NappeBuild *build, const char *rule)
{
  const NappeWeighing *weighing = nappe_rules_weighing_in (build, rule);

  return weighing != NULL ? weighing->weight : -1;
}

static gboolean
write_weight (NappeBuild *build, const char *rule, int weight, GError **error)
{
  g_autoptr (NappePart) fresh = NULL;
  NappeWeighing *weighing;

  while ((weighing = nappe_rules_weighing_in (build, rule)) != NULL)
    if (!nappe_build_remove (build, NAPPE_PART (weighing), error))
      return FALSE;
  if (weight < 0)
    return TRUE;
  fresh = g_object_new (NAPPE_TYPE_WEIGHING, NULL);
  return nappe_build_insert (build, NAPPE_PART (build), "weighings", G_MAXUINT, fresh, error)
         && nappe_build_set_text (build, fresh, "rule", rule, error)
         && nappe_build_set_number (build, fresh, "weight", weight, error);
}

gboolean
nappe_judgements_set_weight (NappeBuild *build, const char *rule, int weight, GError **error)
{
  const NappeRuleInfo *info = nappe_rules_find (rule);
  /* Translators: a step that can be undone; %s is the title of a rule. */
  g_autofree char *label = g_strdup_printf (_("Weigh “%s”"), info != NULL ? _(info->title) : rule);

  nappe_build_begin (build, label);
  return end (build, write_weight (build, rule, weight, error));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cures/cure.h"

#include "cures/cure-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
known_free (gpointer data)
{
  NappeKnownFinding *known = data;
  g_free (known->rule);
  g_free (known->part);
  g_free (known);
}

static void
keep_findings (NappeCureSearch *self, const GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    {
      NappeFinding *finding = findings->pdata[i];
      NappeKnownFinding *known = g_new0 (NappeKnownFinding, 1);
      known->rule = g_strdup (nappe_finding_get_rule (finding));
      known->part = g_strdup (nappe_finding_get_part (finding));
      known->severity = nappe_finding_get_severity (finding);
      known->excess = fabs (nappe_finding_get_value (finding) - nappe_finding_get_limit (finding));
      g_ptr_array_add (self->known, known);
    }
}

static void
keep_lookers (NappeCureSearch *self, const GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    if (nappe_finding_get_checked (findings->pdata[i]))
      g_hash_table_add (self->looked, g_strdup (nappe_finding_get_rule (findings->pdata[i])));
}

NappeCureSearch *
nappe_cure_search_new (NappeBuild *build, NappeCatalogue *catalogue, const NappeVerdict *verdict,
                       NappeUnitSystem units, gboolean in_time, double evaporation)
{
  NappeCureSearch *self = g_new0 (NappeCureSearch, 1);

  self->build = nappe_build_copy (build);
  self->catalogue = nappe_catalogue_ref (catalogue);
  self->units = units;
  self->in_time = in_time;
  self->evaporation = evaporation;
  self->known = g_ptr_array_new_with_free_func (known_free);
  self->counts = nappe_verdict_counts_text (verdict);
  self->looked = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  keep_findings (self, verdict->findings);
  keep_lookers (self, verdict->findings);
  keep_lookers (self, verdict->fine);
  return self;
}

void
nappe_cure_search_free (NappeCureSearch *self)
{
  if (self == NULL)
    return;
  g_object_unref (self->build);
  nappe_catalogue_unref (self->catalogue);
  g_ptr_array_unref (self->known);
  g_hash_table_unref (self->looked);
  g_free (self->counts);
  g_free (self);
}

/* Takes the changes. */
static NappeCure *
cure_new (NappeCureSearch *self, GArray *changes)
{
  NappeCure *cure = g_new0 (NappeCure, 1);

  g_atomic_ref_count_init (&cure->references);
  cure->rule = g_strdup (nappe_finding_get_rule (self->finding));
  cure->part = g_strdup (nappe_finding_get_part (self->finding));
  cure->eases = self->easing;
  cure->changes = changes;
  cure->label = nappe_cure_label (self, changes);
  nappe_build_begin (self->build, "");
  nappe_cure_changes_put (changes, self->build, NULL);
  cure->build = nappe_build_copy (self->build);
  cure->verdict = nappe_cure_judge (self, self->in_time, &cure->study);
  nappe_build_roll_back (self->build);
  cure->effect = nappe_cure_effect (self, cure->verdict);
  return cure;
}

static void
add_singles (NappeCureSearch *self, const GPtrArray *levers, GPtrArray *cures)
{
  for (guint i = 0; i < levers->len; i++)
    {
      GArray *changes = nappe_cure_move (self, levers->pdata[i]);
      if (changes != NULL)
        g_ptr_array_add (cures, cure_new (self, changes));
    }
}

static void
add_pair (NappeCureSearch *self, const GPtrArray *levers, GPtrArray *cures)
{
  GArray *changes = nappe_cure_move_two (self, levers);
  if (changes != NULL)
    g_ptr_array_add (cures, cure_new (self, changes));
}

static int
compare_counts (guint a, guint b)
{
  return a < b ? -1 : a > b;
}

/* What leaves least to say comes first; among equals the order of the levers stays (the sort is stable). */
static int
compare_cures (gconstpointer a, gconstpointer b)
{
  const NappeVerdict *first = (*(NappeCure *const *)a)->verdict, *second = (*(NappeCure *const *)b)->verdict;
  int order = compare_counts (first->n_danger, second->n_danger);
  if (order == 0)
    order = compare_counts (first->n_problem, second->n_problem);
  return order != 0 ? order : compare_counts (first->n_advice, second->n_advice);
}

GPtrArray *
nappe_cure_search_run (NappeCureSearch *self, NappeFinding *finding, GCancellable *cancellable)
{
  GPtrArray *cures = g_ptr_array_new_with_free_func ((GDestroyNotify)nappe_cure_unref);
  const GPtrArray *levers = nappe_finding_get_levers (finding);

  self->finding = finding;
  self->cancellable = cancellable;
  for (guint easing = FALSE; easing <= TRUE && cures->len == 0; easing++)
    {
      self->easing = (gboolean)easing;
      add_singles (self, levers, cures);
      if (cures->len == 0)
        add_pair (self, levers, cures);
    }
  g_ptr_array_sort (cures, compare_cures);
  self->finding = NULL;
  self->cancellable = NULL;
  return cures;
}

gboolean
nappe_cure_apply (const NappeCure *self, NappeBuild *build, GError **error)
{
  /* Translators: a step that can be undone; %s tells what is changed. */
  g_autofree char *label = g_strdup_printf (_("Cure: %s"), self->label);

  nappe_build_begin (build, label);
  if (nappe_cure_changes_put (self->changes, build, error))
    {
      nappe_build_commit (build);
      return TRUE;
    }
  nappe_build_roll_back (build);
  return FALSE;
}

NappeCure *
nappe_cure_ref (NappeCure *self)
{
  g_atomic_ref_count_inc (&self->references);
  return self;
}

void
nappe_cure_unref (NappeCure *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->references))
    return;
  g_free (self->rule);
  g_free (self->part);
  g_free (self->label);
  g_free (self->effect);
  g_array_unref (self->changes);
  g_clear_object (&self->build);
  nappe_study_unref (self->study);
  nappe_verdict_free (self->verdict);
  g_free (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/document/outcome.h"

/* Neither the spread nor the courses take more (study/spread.h, study/courses.h). */
#define MOST_THREADS 8u

NappeOutcome *
nappe_outcome_new (NappeBuild *build, NappeCatalogue *catalogue, NappeUnitSystem units, GCancellable *cancellable)
{
  g_autoptr (NappeOutcome) self = g_new0 (NappeOutcome, 1);

  g_atomic_ref_count_init (&self->references);
  self->build = build;
  self->catalogue = nappe_catalogue_ref (catalogue);
  self->units = units;
  self->layout = nappe_layout_new (build, catalogue);
  self->study = nappe_study_new (nappe_network_compile (build, self->layout, catalogue), cancellable);
  if (self->study == NULL)
    return NULL;
  self->verdict = nappe_rules_run (build, self->study, units);
  self->heat = nappe_heat_new (build, catalogue, self->study);
  self->loads = nappe_loads_new (build, catalogue, self->study);
  return g_steal_pointer (&self);
}

NappeOutcome *
nappe_outcome_refine (NappeOutcome *self, GCancellable *cancellable)
{
  guint threads = CLAMP (g_get_num_processors (), 1, MOST_THREADS);
  g_autoptr (GPtrArray) courses
      = nappe_rules_play (self->build, self->study, self->heat->evaporation, threads, cancellable);
  NappeSpread *spread = nappe_spread_new (self->study, NAPPE_SPREAD_SAMPLES, NAPPE_SPREAD_BLOCKAGE_SAMPLES, threads,
                                          cancellable);
  NappeOutcome *refined;

  /* Courses that were cut short would be judged as if they had failed. */
  if (g_cancellable_is_cancelled (cancellable))
    {
      nappe_spread_free (spread);
      return NULL;
    }
  refined = g_new (NappeOutcome, 1);
  *refined = *self;
  g_atomic_ref_count_init (&refined->references);
  refined->base = nappe_outcome_ref (self);
  refined->spread = spread;
  refined->verdict = nappe_rules_run_timed (self->build, self->study, courses, self->units);
  refined->timed = TRUE;
  return refined;
}

NappeOutcome *
nappe_outcome_with_cure (const NappeOutcome *self, NappeCure *cure)
{
  NappeOutcome *cured = g_new0 (NappeOutcome, 1);

  g_atomic_ref_count_init (&cured->references);
  cured->cure = nappe_cure_ref (cure);
  cured->build = g_object_ref (cure->build);
  cured->catalogue = nappe_catalogue_ref (self->catalogue);
  cured->units = self->units;
  cured->layout = nappe_layout_new (cured->build, cured->catalogue);
  cured->study = nappe_study_ref (cure->study);
  cured->verdict = cure->verdict;
  cured->timed = self->timed;
  cured->heat = nappe_heat_new (cured->build, cured->catalogue, cured->study);
  cured->loads = nappe_loads_new (cured->build, cured->catalogue, cured->study);
  return cured;
}

NappeOutcome *
nappe_outcome_ref (NappeOutcome *self)
{
  g_atomic_ref_count_inc (&self->references);
  return self;
}

void
nappe_outcome_unref (NappeOutcome *self)
{
  if (!g_atomic_ref_count_dec (&self->references))
    return;
  g_clear_pointer (&self->spread, nappe_spread_free);
  if (self->cure == NULL)
    g_clear_pointer (&self->verdict, nappe_verdict_free);
  g_clear_pointer (&self->cure, nappe_cure_unref);
  if (self->base != NULL)
    {
      nappe_outcome_unref (self->base);
      g_free (self);
      return;
    }
  g_clear_pointer (&self->loads, nappe_loads_free);
  g_clear_pointer (&self->heat, nappe_heat_free);
  g_clear_pointer (&self->study, nappe_study_unref);
  g_clear_pointer (&self->layout, nappe_layout_free);
  g_clear_object (&self->build);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_free (self);
}

NappePart *
nappe_outcome_find (const NappeOutcome *self, const char *id)
{
  return id != NULL && *id != '\0' ? nappe_build_find (self->build, id) : NULL;
}

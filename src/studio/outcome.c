/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/outcome.h"

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
  return g_steal_pointer (&self);
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
  g_clear_pointer (&self->verdict, nappe_verdict_free);
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

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/cure-finder.h"

struct _NappeCureFinder
{
  GObject parent_instance;
  NappeOutcome *outcome;     /* NULL: there is nothing to look in */
  char *rule, *part;         /* of the finding that was asked about; NULL: none */
  NappeCuresState state;
  GPtrArray *cures;          /* NappeCure */
  GCancellable *cancellable; /* of the search under way; NULL: none */
};

G_DEFINE_FINAL_TYPE (NappeCureFinder, nappe_cure_finder, G_TYPE_OBJECT)

static guint changed_signal;

/* What a search needs. Owned by its task. */
typedef struct
{
  NappeOutcome *outcome;
  NappeFinding *finding;
} Search;

static void
search_free (gpointer data)
{
  Search *search = data;

  nappe_outcome_unref (search->outcome);
  g_object_unref (search->finding);
  g_free (search);
}

static void
run_search (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Search *search = data;
  const NappeOutcome *outcome = search->outcome;
  g_autoptr (NappeCureSearch) cures
      = nappe_cure_search_new (outcome->build, outcome->catalogue, outcome->verdict, outcome->units, outcome->timed,
                               outcome->heat->evaporation);

  g_task_return_pointer (task, nappe_cure_search_run (cures, search->finding, cancellable),
                         (GDestroyNotify) g_ptr_array_unref);
}

static void
search_done (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (NappeCureFinder) self = user_data;
  g_autoptr (GPtrArray) cures = g_task_propagate_pointer (G_TASK (result), NULL);

  /* One that was overtaken was cancelled, and gives nothing. */
  if (cures == NULL || g_task_get_cancellable (G_TASK (result)) != self->cancellable)
    return;
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->cures, g_ptr_array_unref);
  self->cures = g_steal_pointer (&cures);
  self->state = NAPPE_CURES_FOUND;
  g_signal_emit (self, changed_signal, 0);
}

static void
forget (NappeCureFinder *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->rule, g_free);
  g_clear_pointer (&self->part, g_free);
  g_ptr_array_set_size (self->cures, 0);
  self->state = NAPPE_CURES_IDLE;
}

/* Begins the search that was asked for, once the cases have been played. */
static void
start (NappeCureFinder *self)
{
  NappeFinding *finding = nappe_cure_finder_get_finding (self);
  g_autoptr (GTask) task = NULL;
  Search *search;

  if (finding == NULL)
    {
      forget (self);
      return;
    }
  search = g_new (Search, 1);
  search->outcome = nappe_outcome_ref (self->outcome);
  search->finding = g_object_ref (finding);
  self->cancellable = g_cancellable_new ();
  /* Not its source object: that may be freed on the worker. */
  task = g_task_new (NULL, self->cancellable, search_done, g_object_ref (self));
  g_task_set_source_tag (task, start);
  g_task_set_task_data (task, search, search_free);
  g_task_run_in_thread (task, run_search);
}

static void
nappe_cure_finder_finalize (GObject *object)
{
  NappeCureFinder *self = NAPPE_CURE_FINDER (object);

  forget (self);
  g_ptr_array_unref (self->cures);
  g_clear_pointer (&self->outcome, nappe_outcome_unref);
  G_OBJECT_CLASS (nappe_cure_finder_parent_class)->finalize (object);
}

static void
nappe_cure_finder_class_init (NappeCureFinderClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = nappe_cure_finder_finalize;
  changed_signal = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
nappe_cure_finder_init (NappeCureFinder *self)
{
  self->cures = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_cure_unref);
}

NappeCureFinder *
nappe_cure_finder_new (void)
{
  return g_object_new (NAPPE_TYPE_CURE_FINDER, NULL);
}

void
nappe_cure_finder_set_outcome (NappeCureFinder *self, NappeOutcome *outcome)
{
  NappeOutcome *before = self->outcome;
  gboolean refines = outcome != NULL && before != NULL && outcome->base == before;

  if (outcome == before)
    return;
  self->outcome = outcome != NULL ? nappe_outcome_ref (outcome) : NULL;
  if (!refines)
    forget (self);
  else if (self->state == NAPPE_CURES_LOOKING && self->cancellable == NULL)
    start (self);
  g_clear_pointer (&before, nappe_outcome_unref);
  g_signal_emit (self, changed_signal, 0);
}

NappeOutcome *
nappe_cure_finder_get_outcome (NappeCureFinder *self)
{
  return self->outcome;
}

void
nappe_cure_finder_look (NappeCureFinder *self, const char *rule, const char *part)
{
  if (self->outcome == NULL)
    return;
  forget (self);
  self->rule = g_strdup (rule);
  self->part = g_strdup (part);
  self->state = NAPPE_CURES_LOOKING;
  if (self->outcome->timed)
    start (self);
  g_signal_emit (self, changed_signal, 0);
}

void
nappe_cure_finder_stop (NappeCureFinder *self)
{
  forget (self);
  g_signal_emit (self, changed_signal, 0);
}

static gboolean
is_about (NappeCureFinder *self, NappeFinding *finding)
{
  return g_strcmp0 (self->rule, nappe_finding_get_rule (finding)) == 0
         && g_strcmp0 (self->part, nappe_finding_get_part (finding)) == 0;
}

NappeCuresState
nappe_cure_finder_get_state (NappeCureFinder *self, NappeFinding *finding)
{
  return is_about (self, finding) ? self->state : NAPPE_CURES_IDLE;
}

const GPtrArray *
nappe_cure_finder_get_cures (NappeCureFinder *self)
{
  return self->cures;
}

NappeFinding *
nappe_cure_finder_get_finding (NappeCureFinder *self)
{
  const GPtrArray *findings = self->outcome != NULL ? self->outcome->verdict->findings : NULL;

  for (guint i = 0; findings != NULL && i < findings->len; i++)
    if (is_about (self, findings->pdata[i]))
      return findings->pdata[i];
  return NULL;
}

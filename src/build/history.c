/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "build/history.h"

typedef struct
{
  char *label;
  guint64 state;      /* the state that it led to */
  GPtrArray *changes; /* NappeChange, in the order they were applied */
} Step;

struct _NappeHistory
{
  gpointer document;
  GPtrArray *done;     /* Step, oldest first */
  GPtrArray *undone;   /* Step, the next to redo last */
  Step *open;          /* the step being made, or NULL */
  guint depth;         /* levels of the open step */
  gboolean doomed;     /* the open step was rolled back on an inner level */
  guint64 last_state;  /* counts states up */
  guint64 oldest;      /* state below the oldest step */
  guint64 saved;       /* state at the last mark */
};

static void
free_change (gpointer data)
{
  NappeChange *change = data;

  change->free (change);
}

static Step *
step_new (const char *label)
{
  Step *step = g_new0 (Step, 1);

  step->label = g_strdup (label);
  step->changes = g_ptr_array_new_with_free_func (free_change);
  return step;
}

static void
step_free (gpointer data)
{
  Step *step = data;

  g_free (step->label);
  g_ptr_array_unref (step->changes);
  g_free (step);
}

static void
step_apply (Step *step, gpointer document)
{
  for (guint i = 0; i < step->changes->len; i++)
    {
      NappeChange *change = g_ptr_array_index (step->changes, i);
      change->apply (change, document);
    }
}

static void
step_revert (Step *step, gpointer document)
{
  for (guint i = step->changes->len; i > 0; i--)
    {
      NappeChange *change = g_ptr_array_index (step->changes, i - 1);
      change->revert (change, document);
    }
}

NappeHistory *
nappe_history_new (gpointer document)
{
  NappeHistory *self = g_new0 (NappeHistory, 1);

  self->document = document;
  self->done = g_ptr_array_new_with_free_func (step_free);
  self->undone = g_ptr_array_new_with_free_func (step_free);
  return self;
}

void
nappe_history_free (NappeHistory *self)
{
  g_ptr_array_unref (self->done);
  g_ptr_array_unref (self->undone);
  g_clear_pointer (&self->open, step_free);
  g_free (self);
}

void
nappe_history_begin (NappeHistory *self, const char *label)
{
  if (self->depth++ > 0)
    return;
  self->open = step_new (label);
  self->doomed = FALSE;
}

void
nappe_history_do (NappeHistory *self, NappeChange *change)
{
  g_return_if_fail (self->depth > 0);
  change->apply (change, self->document);
  g_ptr_array_add (self->open->changes, change);
}

/* Takes back and forgets what the open step did so far. */
static void
revert_open (NappeHistory *self)
{
  step_revert (self->open, self->document);
  g_ptr_array_set_size (self->open->changes, 0);
}

static void
forget_oldest (NappeHistory *self)
{
  const Step *first = g_ptr_array_index (self->done, 0);

  self->oldest = first->state;
  g_ptr_array_remove_index (self->done, 0);
}

gboolean
nappe_history_commit (NappeHistory *self)
{
  g_return_val_if_fail (self->depth > 0, FALSE);
  if (--self->depth > 0)
    return FALSE;
  if (self->doomed)
    revert_open (self);
  if (self->open->changes->len == 0)
    {
      g_clear_pointer (&self->open, step_free);
      return FALSE;
    }
  self->open->state = ++self->last_state;
  g_ptr_array_add (self->done, g_steal_pointer (&self->open));
  g_ptr_array_set_size (self->undone, 0);
  if (self->done->len > NAPPE_HISTORY_STEPS_MAX)
    forget_oldest (self);
  return TRUE;
}

void
nappe_history_roll_back (NappeHistory *self)
{
  g_return_if_fail (self->depth > 0);
  revert_open (self);
  self->doomed = TRUE;
  if (--self->depth == 0)
    g_clear_pointer (&self->open, step_free);
}

gboolean
nappe_history_is_open (const NappeHistory *self)
{
  return self->depth > 0;
}

static Step *
last_step (GPtrArray *steps)
{
  return steps->len > 0 ? g_ptr_array_index (steps, steps->len - 1) : NULL;
}

const char *
nappe_history_undo_label (const NappeHistory *self)
{
  const Step *step = last_step (self->done);

  return step != NULL ? step->label : NULL;
}

const char *
nappe_history_redo_label (const NappeHistory *self)
{
  const Step *step = last_step (self->undone);

  return step != NULL ? step->label : NULL;
}

gboolean
nappe_history_undo (NappeHistory *self)
{
  if (self->depth > 0 || self->done->len == 0)
    return FALSE;
  step_revert (last_step (self->done), self->document);
  g_ptr_array_add (self->undone, g_ptr_array_steal_index (self->done, self->done->len - 1));
  return TRUE;
}

gboolean
nappe_history_redo (NappeHistory *self)
{
  if (self->depth > 0 || self->undone->len == 0)
    return FALSE;
  step_apply (last_step (self->undone), self->document);
  g_ptr_array_add (self->done, g_ptr_array_steal_index (self->undone, self->undone->len - 1));
  return TRUE;
}

static guint64
current_state (const NappeHistory *self)
{
  const Step *step = last_step (self->done);

  return step != NULL ? step->state : self->oldest;
}

void
nappe_history_mark_saved (NappeHistory *self)
{
  self->saved = current_state (self);
}

gboolean
nappe_history_is_modified (const NappeHistory *self)
{
  return current_state (self) != self->saved;
}

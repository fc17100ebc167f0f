/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/courses.h"

#define MOST_THREADS 8

/* What the threads share: each takes the next plan that nobody has taken. */
typedef struct
{
  const NappeStudy *study;
  const GPtrArray *plans;
  double evaporation;
  GPtrArray *courses;
  GCancellable *cancellable;
  gint next;
} Playing;

static gpointer
play (gpointer data)
{
  Playing *self = data;
  guint i;

  while ((i = (guint) g_atomic_int_add (&self->next, 1)) < self->plans->len)
    if (!g_cancellable_is_cancelled (self->cancellable))
      self->courses->pdata[i]
          = nappe_simulation_new (self->study, self->plans->pdata[i], self->evaporation, NULL, NULL,
                                  self->cancellable, NULL);
  return NULL;
}

static void
free_course (gpointer course)
{
  if (course != NULL)
    nappe_simulation_unref (course);
}

GPtrArray *
nappe_courses_new (const NappeStudy *study, const GPtrArray *plans, double evaporation, guint threads, GCancellable *cancellable)
{
  GPtrArray *courses = g_ptr_array_new_with_free_func (free_course);
  Playing playing = { study, plans, evaporation, courses, cancellable, 0 };
  GThread *other[MOST_THREADS];

  g_return_val_if_fail (threads >= 1 && threads <= MOST_THREADS, courses);
  g_ptr_array_set_size (courses, (int) plans->len);
  threads = MAX (1, MIN (threads, plans->len));
  for (guint i = 1; i < threads; i++)
    other[i] = g_thread_new ("courses", play, &playing);
  play (&playing);
  for (guint i = 1; i < threads; i++)
    g_thread_join (other[i]);
  return courses;
}

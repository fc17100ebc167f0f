/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keeps what happened: frames so dense that straight lines between them are good, events, extremes.
 *
 * For every state the slopes are known by which a line from the last kept frame passes all points since then within tolerance;
 * the last point is kept once the line to the next one leaves them. When the room is used up, every second frame
 * between events goes, and the tolerance doubles. */
#include "study/simulation-private.h"

#include <math.h>
#include <string.h>

struct _NappeRecord
{
  NappeTime *time;
  double *kept, *pending; /* states */
  double *least, *most;   /* by state: slopes of lines that still pass */
  double kept_at, pending_at;
  gboolean has_pending;
  double slack;           /* tolerances by which a line may miss */
  guint room;
  gboolean *at_event;     /* by frame */
};

#define FIRST_ROOM 512
/* Tolerances of a step by which straight lines may miss: 0.025 mm, and 0.2 % of the pumps' flow. */
#define FIRST_SLACK 10
/* Points within one step. */
#define MOST_PIECES 64

NappeRecord *
nappe_record_new (NappeTime *time)
{
  NappeRecord *self = g_new0 (NappeRecord, 1);
  NappeSimulation *result = time->result;
  guint n_nodes = time->network->n_nodes;

  self->time = time;
  self->kept = g_new0 (double, time->n_states);
  self->pending = g_new0 (double, time->n_states);
  self->least = g_new0 (double, time->n_states);
  self->most = g_new0 (double, time->n_states);
  self->slack = FIRST_SLACK;
  result->peak = g_new0 (double, n_nodes);
  result->peak_time = g_new0 (double, n_nodes);
  result->lowest = g_new0 (double, n_nodes);
  result->lowest_time = g_new0 (double, n_nodes);
  for (guint i = 0; i < n_nodes; i++)
    {
      gboolean vessel = time->volume[i] != G_MAXUINT;

      result->peak[i] = vessel ? -INFINITY : NAN;
      result->lowest[i] = vessel ? INFINITY : NAN;
    }
  return self;
}

void
nappe_record_free (NappeRecord *self)
{
  g_free (self->kept);
  g_free (self->pending);
  g_free (self->least);
  g_free (self->most);
  g_free (self->at_event);
  g_free (self);
}

static void
make_room (NappeRecord *self)
{
  NappeSimulation *result = self->time->result;
  gsize n_nodes = result->network->n_nodes, n_links = MAX (result->network->n_links, 1);

  if (result->n_frames < self->room)
    return;
  self->room = self->room == 0 ? FIRST_ROOM : MIN (2 * self->room, NAPPE_SIMULATION_FRAMES_MAX);
  result->time = g_renew (double, result->time, self->room);
  result->on_floor = g_renew (double, result->on_floor, self->room);
  result->level = g_renew (double, result->level, self->room * n_nodes);
  result->flow = g_renew (double, result->flow, self->room * n_links);
  self->at_event = g_renew (gboolean, self->at_event, self->room);
}

static void
move_frame (NappeRecord *self, guint from, guint to)
{
  NappeSimulation *result = self->time->result;
  gsize n_nodes = result->network->n_nodes, n_links = result->network->n_links;

  result->time[to] = result->time[from];
  result->on_floor[to] = result->on_floor[from];
  self->at_event[to] = self->at_event[from];
  memmove (result->level + to * n_nodes, result->level + from * n_nodes, n_nodes * sizeof *result->level);
  memmove (result->flow + to * n_links, result->flow + from * n_links, n_links * sizeof *result->flow);
}

/* Of frames that stand at no event every second goes; when events fill the room, of those too. */
static void
thin_out (NappeRecord *self)
{
  NappeSimulation *result = self->time->result;
  guint kept = 0, events = 0;

  for (guint i = 0; i < result->n_frames; i++)
    events += self->at_event[i];
  for (guint i = 0; i < result->n_frames; i++)
    if ((self->at_event[i] && events < NAPPE_SIMULATION_FRAMES_MAX / 2) || i % 2 == 0)
      move_frame (self, i, kept++);
  result->n_frames = kept;
  self->slack *= 2;
}

static void
add_frame (NappeRecord *self, double t, const double *y, gboolean at_event)
{
  NappeTime *time = self->time;
  NappeSimulation *result = time->result;
  gsize n_nodes = result->network->n_nodes, n_links = result->network->n_links;

  nappe_time_evaluate (time, t, y, NULL);
  gboolean again = result->n_frames > 0 && !(t > result->time[result->n_frames - 1]);
  if (!again && result->n_frames >= NAPPE_SIMULATION_FRAMES_MAX)
    thin_out (self);
  make_room (self);
  guint frame = again ? result->n_frames - 1 : result->n_frames++;
  result->time[frame] = t;
  result->on_floor[frame] = y[time->volume[time->network->floor]];
  self->at_event[frame] = at_event;
  for (guint i = 0; i < n_nodes; i++)
    result->level[frame * n_nodes + i] = time->volume[i] == G_MAXUINT ? NAN : time->level[i];
  memcpy (result->flow + frame * n_links, time->flow, n_links * sizeof *time->flow);
  memcpy (self->kept, y, time->n_states * sizeof *y);
  for (guint i = 0; i < time->n_states; i++)
    {
      self->least[i] = -INFINITY;
      self->most[i] = INFINITY;
    }
  self->kept_at = t;
  self->has_pending = FALSE;
}

static void
note_extremes (NappeRecord *self, double t, const double *y)
{
  NappeTime *time = self->time;
  NappeSimulation *result = time->result;

  nappe_time_take_levels (time, y);
  for (guint i = 0; i < result->network->n_nodes; i++)
    {
      if (time->volume[i] == G_MAXUINT)
        continue;
      if (time->level[i] > result->peak[i])
        {
          result->peak[i] = time->level[i];
          result->peak_time[i] = t;
        }
      if (time->level[i] < result->lowest[i])
        {
          result->lowest[i] = time->level[i];
          result->lowest_time[i] = t;
        }
    }
}

/* Whether the line from the last kept frame to this point passes all between them. */
static gboolean
is_straight (const NappeRecord *self, double t, const double *y)
{
  for (guint i = 0; i < self->time->n_states; i++)
    {
      double slope = (y[i] - self->kept[i]) / (t - self->kept_at);

      if (slope < self->least[i] || slope > self->most[i])
        return FALSE;
    }
  return TRUE;
}

static void
consider (NappeRecord *self, double t, const double *y)
{
  const NappeTime *time = self->time;

  if (!(t > self->kept_at))
    return;
  if (self->has_pending && t > self->pending_at && !is_straight (self, t, y))
    add_frame (self, self->pending_at, self->pending, FALSE);
  for (guint i = 0; i < time->n_states; i++)
    {
      double slack = self->slack * time->tolerance[i], since = t - self->kept_at;

      self->least[i] = fmax (self->least[i], (y[i] - slack - self->kept[i]) / since);
      self->most[i] = fmin (self->most[i], (y[i] + slack - self->kept[i]) / since);
    }
  memcpy (self->pending, y, time->n_states * sizeof *y);
  self->pending_at = t;
  self->has_pending = TRUE;
}

guint
nappe_record_pieces (const NappeRecord *self, const double *middle, const double *end)
{
  const NappeTime *time = self->time;
  const double *start = self->has_pending ? self->pending : self->kept;
  double bend = 0;

  for (guint i = 0; i < time->n_states; i++)
    bend = fmax (bend, fabs (middle[i] - 0.5 * (start[i] + end[i])) / (self->slack * time->tolerance[i]));
  /* Of a parabola n pieces each bend by a share 1/n2. */
  return (guint) CLAMP (ceil (2 * sqrt (bend)), 1, MOST_PIECES);
}

void
nappe_record_pass (NappeRecord *self, double t, const double *y)
{
  note_extremes (self, t, y);
  consider (self, t, y);
}

void
nappe_record_keep (NappeRecord *self, double t, const double *y)
{
  if (self->has_pending && self->pending_at < t && t > self->kept_at && !is_straight (self, t, y))
    add_frame (self, self->pending_at, self->pending, FALSE);
  note_extremes (self, t, y);
  add_frame (self, t, y, TRUE);
}

void
nappe_record_event (NappeTime *self, double t, NappeEventKind kind, guint index, const char *part)
{
  NappeSimulation *result = self->result;
  NappeEvent event = { .time = t, .kind = kind, .index = index };

  if (result->n_events >= NAPPE_SIMULATION_EVENTS_MAX)
    return;
  if ((result->n_events & (result->n_events - 1)) == 0)
    result->events = g_renew (NappeEvent, result->events, MAX (2 * result->n_events, 1));
  g_strlcpy (event.part, part, sizeof event.part);
  result->events[result->n_events++] = event;
}

static int
compare_events (const void *one, const void *other, void *data)
{
  const NappeEvent *a = one, *b = other;
  int by_part = strcmp (a->part, b->part);

  return a->time < b->time ? -1 : a->time > b->time ? 1 : by_part;
}

void
nappe_record_end (NappeRecord *self)
{
  NappeSimulation *result = self->time->result;

  if (result->n_events > 0)
    g_qsort_with_data (result->events, (gint) result->n_events, sizeof *result->events, compare_events, NULL);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The side elevation at a moment of a time simulation: its state, its words, and water that leaks out of a vessel. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/curves/course-words.h"
#include "picture/moment.h"
#include "study/state.h"

/* A jet lands in the puddle as it is drawn [px]; a real one may go farther than the paper. */
#define JET_REACH 64.0

gboolean
nappe_elevation_take_moment (NappeElevation *self)
{
  self->at_moment = nappe_moment_take (&self->moment, self->options, self->study);
  if (self->at_moment)
    self->shown = &self->moment;
  return self->at_moment;
}

void
nappe_elevation_leave_moment (NappeElevation *self)
{
  if (self->at_moment)
    nappe_state_clear (&self->moment);
}

char *
nappe_elevation_moment_subtitle (const NappeElevation *self, const char *unit)
{
  const NappeSimulation *course = self->options->course;
  g_autofree char *time = nappe_course_time_text (self->options->moment, self->options->units);
  const char *title = course->plan->title ? course->plan->title : "";
  if (self->small)
    /* Translators: short subtitle of a picture; the name of a case, and the time since it began */
    return g_strdup_printf (_("%1$s · after %2$s"), title, time);
  /* Translators: subtitle of the side elevation; the name of a case, the time since it began, and a unit of length */
  return g_strdup_printf (_("%1$s · after %2$s · levels in %3$s above the floor"), title, time, unit);
}

const char *
nappe_elevation_moment_word (const NappeElevation *self, const NappeDrawnPipe *pipe)
{
  gboolean full = pipe->drain && nappe_moment_is_full (self->study, self->shown, nappe_elevation_id (pipe->line->part));
  return nappe_moment_word (pipe->drain, full, nappe_moment_flow (pipe->flow));
}

/* A jet as free fall bends it: what has dropped by h has gone 2 sqrt (head h) far (Torricelli), drawn shorter when it
 * goes too far. */
static void
draw_jet (NappeElevation *self, double x, double hole, double head)
{
  NappeStyle jet = { .stroke = NAPPE_ROLE_MOVING, .weight = 2, .round = TRUE };
  double shorter = fmin (1, JET_REACH / self->scale / (2 * sqrt (head * hole)));
  nappe_scene_move (self->scene, nappe_elevation_x (self, x), nappe_elevation_y (self, hole));
  for (guint i = 1; i <= 12; i++)
    {
      double fallen = hole * i * i / 144.0;
      nappe_scene_line (self->scene, nappe_elevation_x (self, x + shorter * 2 * sqrt (head * fallen)),
                        nappe_elevation_y (self, hole - fallen));
    }
  nappe_scene_paint (self->scene, NAPPE_LAYER_LEVEL, &jet);
}

void
nappe_elevation_draw_leaks (NappeElevation *self)
{
  const NappePlan *plan = self->at_moment ? self->options->course->plan : NULL;
  for (guint i = 0; plan && i < plan->n; i++)
    {
      const NappeHappening *happening = &plan->happenings[i];
      NappeFrame room;
      if (happening->kind != NAPPE_HAPPEN_LEAK || happening->at > self->options->moment
          || !nappe_elevation_room (self, happening->change.part, &room))
        continue;
      double level = nappe_elevation_level (self, self->shown, happening->change.part);
      double hole = room.floor + happening->height, wall = NAPPE_BUILD_TANK (self->build)->wall_thickness;
      if (level > hole && hole > 0)
        draw_jet (self, room.right + wall, hole, level - hole);
    }
}

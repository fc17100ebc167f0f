/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The side elevation at a moment of a time simulation: its state, its words, and water that leaks out of a vessel. */
#include "picture/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/course-words.h"
#include "study/state.h"

/* Pipes that carry less are drawn as still: 1 L/h [m3/s]. */
#define STILL_FLOW (1e-3 / 3600)
/* A jet lands in the puddle as it is drawn [px]; a real one may go farther than the paper. */
#define JET_REACH 64.0

gboolean
nappe_elevation_take_moment (NappeElevation *self)
{
  const NappeSimulation *course = self->options->course;
  if (self->options->shown != NAPPE_SHOW_MOMENT || !course || !self->study || course->n_frames == 0
      || course->network->n_nodes != self->study->network->n_nodes || course->network->n_links != self->study->network->n_links)
    return FALSE;
  nappe_state_init (&self->moment, course->network);
  nappe_simulation_state (course, self->options->moment, &self->moment);
  self->at_moment = TRUE;
  self->shown = &self->moment;
  return TRUE;
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
    /* Translators: short subtitle of the side elevation; the name of a case, and the time since it began */
    return g_strdup_printf (_("%1$s · after %2$s"), title, time);
  /* Translators: subtitle of the side elevation; the name of a case, the time since it began, and a unit of length */
  return g_strdup_printf (_("%1$s · after %2$s · levels in %3$s above the floor"), title, time, unit);
}

gboolean
nappe_elevation_moment_is_full (const NappeElevation *self, const char *drain)
{
  gint link = nappe_network_find_link (self->study->network, NAPPE_LINK_DRAIN, drain);
  return link >= 0 && self->moment.primed[link];
}

double
nappe_elevation_moment_flow (double flow)
{
  return fabs (flow) < STILL_FLOW ? 0 : flow;
}

const char *
nappe_elevation_moment_word (const NappeElevation *self, const NappeDrawnPipe *pipe)
{
  double flow = nappe_elevation_moment_flow (pipe->flow);
  if (!(fabs (flow) > 0))
    /* Translators: how a pipe runs at a moment: no water flows in it */
    return _("no flow");
  if (flow < 0)
    /* Translators: how a pipe runs at a moment: its water flows back */
    return _("runs back");
  if (!pipe->drain)
    /* Translators: how a return line runs at a moment */
    return _("pumps");
  return nappe_elevation_moment_is_full (self, nappe_elevation_id (pipe->line->part))
             /* Translators: how a drain runs at a moment */
             ? _("full bore") : _("partly full");
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

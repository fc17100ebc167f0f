/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A course that is made by hand, for what shows courses. */
#pragma once

#include <math.h>

#include "study/simulation.h"

/* Three frames at 0, 10 and 20 s in which every level rises by 1 mm a frame, every flow is 100 L/h, and 2 L reach the floor
 * from 10 s on, and two events: the first happening at 10 s, and the display over its rim at 12 s. */
static inline NappeSimulation *
course_new (const NappeStudy *study, const NappePlan *plan)
{
  NappeSimulation *self = g_new0 (NappeSimulation, 1);
  const NappeNetwork *network = study->network;

  g_atomic_ref_count_init (&self->references);
  self->plan = nappe_plan_copy (plan);
  self->network = nappe_network_copy (network);
  self->end_time = 20;
  self->n_frames = 3;
  self->time = g_new0 (double, 3);
  self->level = g_new0 (double, 3 * network->n_nodes);
  self->flow = g_new0 (double, 3 * network->n_links);
  self->on_floor = g_new0 (double, 3);
  for (guint f = 0; f < 3; f++)
    {
      self->time[f] = 10.0 * f;
      for (guint i = 0; i < network->n_nodes; i++)
        self->level[f * network->n_nodes + i]
            = network->nodes[i].kind == NAPPE_NODE_JUNCTION ? NAN : study->running.level[i] + 0.001 * f;
      for (guint i = 0; i < network->n_links; i++)
        self->flow[f * network->n_links + i] = 0.1 / 3600;
    }
  self->on_floor[2] = self->spilled = 0.002;
  self->first_drop = 12;
  self->n_events = 2;
  self->events = g_new0 (NappeEvent, 2);
  self->events[0] = (NappeEvent){ .time = 10, .kind = NAPPE_EVENT_HAPPENING, .index = 0 };
  self->events[1] = (NappeEvent){ .time = 12, .kind = NAPPE_EVENT_OVER_RIM, .index = network->display };
  g_strlcpy (self->events[1].part, network->nodes[network->display].id, sizeof self->events[1].part);
  self->peak = g_new0 (double, network->n_nodes);
  self->peak_time = g_new0 (double, network->n_nodes);
  self->lowest = g_new0 (double, network->n_nodes);
  self->lowest_time = g_new0 (double, network->n_nodes);
  self->period = self->swing = NAN;
  self->settles = TRUE;
  return self;
}

/* For a course of course_new alone. */
static inline void
course_free (NappeSimulation *self)
{
  nappe_plan_free (self->plan);
  nappe_network_free (self->network);
  g_free (self->time);
  g_free (self->level);
  g_free (self->flow);
  g_free (self->on_floor);
  g_free (self->events);
  g_free (self->peak);
  g_free (self->peak_time);
  g_free (self->lowest);
  g_free (self->lowest_time);
  g_free (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What befalls the running system, as the plan says. */
#include "study/simulation-private.h"

#include "study/scenario.h"

#include <math.h>

/* Way of a change that is gone at its start: enough that what was shut counts as open. */
#define LEAST_WAY 1e-3

static gboolean
is_meant (const NappeHappening *happening, const NappeLink *link)
{
  const char *part = happening->change.part;

  return *part == '\0' || g_str_equal (link->id, part) || g_str_equal (link->line, part) || g_str_equal (link->outlet, part);
}

static void
set_speed (NappePumpSpeed *pump, double target, double t)
{
  double standing, now = nappe_time_pump_speed (pump, t, &standing);

  pump->from = now;
  pump->target = target;
  pump->since = t;
}

static void
switch_power (NappeTime *self, gboolean on, double t)
{
  if (self->power == on)
    return;
  self->power = on;
  for (guint p = 0; p < self->n_pumps; p++)
    set_speed (&self->pumps[p], on ? self->pumps[p].own : 0, t);
}

/* Speeds of pumps; without power they wait for it. */
static void
change_speeds (NappeTime *self, const NappeHappening *happening, double value, double t, gboolean at_once)
{
  for (guint p = 0; p < self->n_pumps; p++)
    {
      NappePumpSpeed *pump = &self->pumps[p];

      if (!is_meant (happening, &self->network->links[pump->link]))
        continue;
      pump->own = value;
      if (self->power && at_once)
        pump->from = pump->target = value;
      else if (self->power)
        set_speed (pump, value, t);
    }
}

/* What a change is a change of, as it stands now. */
static double
present_value (NappeTime *self, const NappeHappening *happening)
{
  const NappeNetwork *network = self->network;
  const char *part = happening->change.part;

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean same = g_str_equal (link->id, part);

      switch (happening->change.kind)
        {
        case NAPPE_CHANGE_BLOCK:
          if (same && link->kind == NAPPE_LINK_DRAIN)
            return 1 - link->open_share;
          if (same && link->kind == NAPPE_LINK_WEIR)
            return 1 - link->weir.open_share;
          break;
        case NAPPE_CHANGE_BLOCK_JOINT:
          if (same && link->kind == NAPPE_LINK_JOINT)
            return 1 - link->open_share;
          break;
        case NAPPE_CHANGE_OPENING:
          if (link->valve.n_points > 0
              && (g_str_equal (link->valve.piece, part) || (link->trunk && g_str_equal (link->line, part))))
            return link->valve.opening;
          break;
        case NAPPE_CHANGE_WEAR:
          if (link->kind == NAPPE_LINK_PUMP && (same || g_str_equal (link->line, part)))
            return link->head_left;
          break;
        case NAPPE_CHANGE_LOAD:
          if (same && link->kind == NAPPE_LINK_SOCK)
            return link->sock.load;
          break;
        case NAPPE_CHANGE_SPEED:
        default:
          break;
        }
    }
  for (guint p = 0; p < self->n_pumps; p++)
    if (is_meant (happening, &network->links[self->pumps[p].link]))
      return self->pumps[p].own;
  return happening->change.value;
}

static void
apply_change (NappeTime *self, const NappeHappening *happening, double value, double t, gboolean at_once)
{
  NappeScenarioChange change = happening->change;

  change.value = value;
  if (happening->kind == NAPPE_HAPPEN_SPEED || change.kind == NAPPE_CHANGE_SPEED)
    change_speeds (self, happening, value, t, at_once);
  else
    nappe_scenario_change (self->network, &change, NULL);
}

void
nappe_time_run_ramps (NappeTime *self, double t)
{
  for (guint i = 0; i < self->ramps->len; i++)
    {
      const NappeRamp *ramp = &g_array_index (self->ramps, NappeRamp, i);
      double way = CLAMP ((t - ramp->happening->at) / ramp->happening->over, LEAST_WAY, 1);

      apply_change (self, ramp->happening, ramp->from + way * (ramp->happening->change.value - ramp->from), t, TRUE);
    }
}

double
nappe_time_ramp_end (const NappeTime *self, double t)
{
  double end = INFINITY;

  for (guint i = 0; i < self->ramps->len; i++)
    {
      const NappeHappening *happening = g_array_index (self->ramps, NappeRamp, i).happening;

      end = fmin (end, happening->at + happening->over);
    }
  return fmax (end, t);
}

static void
refresh_lines (NappeTime *self, double *y)
{
  for (guint i = 0; i < self->n_lines; i++)
    nappe_line_find_loops (self, &self->lines[i], y);
}

void
nappe_time_drop_ramps (NappeTime *self, double t, double *y)
{
  for (guint i = self->ramps->len; i-- > 0;)
    {
      const NappeHappening *happening = g_array_index (self->ramps, NappeRamp, i).happening;

      if (happening->at + happening->over > t)
        continue;
      apply_change (self, happening, happening->change.value, t, TRUE);
      g_array_remove_index (self->ramps, i);
    }
  refresh_lines (self, y);
}

static void
begin_change (NappeTime *self, const NappeHappening *happening, double t)
{
  NappeRamp ramp = { happening, present_value (self, happening) };

  if (!(happening->over > 0))
    {
      apply_change (self, happening, happening->change.value, t, FALSE);
      return;
    }
  g_array_append_val (self->ramps, ramp);
  nappe_time_run_ramps (self, t);
}

static void
change_outlets (NappeTime *self, const NappeHappening *happening)
{
  gboolean undo = happening->change.value == 0;

  for (guint i = 0; i < self->network->n_links; i++)
    {
      NappeLink *link = &self->network->links[i];
      const NappeLink *own = &self->original->links[i];

      if (link->kind != NAPPE_LINK_PIPE || !is_meant (happening, link))
        continue;
      if (happening->kind == NAPPE_HAPPEN_BLOCK_HOLE)
        link->siphon_break = undo ? own->siphon_break : -INFINITY;
      else
        link->one_way = undo && own->one_way;
    }
}

static void
begin_leak (NappeTime *self, const NappeHappening *happening, double t)
{
  gint node = nappe_network_find_node (self->network, happening->change.part);

  if (node < 0 || self->volume[node] == G_MAXUINT || (guint) node == self->network->floor)
    return;
  if (happening->change.value == 0)
    {
      for (guint i = self->leaks->len; i-- > 0;)
        if (g_array_index (self->leaks, NappeLeak, i).node == (guint) node)
          g_array_remove_index (self->leaks, i);
      return;
    }
  NappeLeak leak = { (guint) node, G_PI_4 * happening->bore * happening->bore,
                     self->network->nodes[node].floor + happening->height };
  g_array_append_val (self->leaks, leak);
  if (self->level[node] > leak.height)
    self->result->first_drop = fmin (self->result->first_drop, t);
}

static void
happen (NappeTime *self, const NappeHappening *happening, double t)
{
  switch (happening->kind)
    {
    case NAPPE_HAPPEN_POWER_OFF:
    case NAPPE_HAPPEN_POWER_ON:
      switch_power (self, happening->kind == NAPPE_HAPPEN_POWER_ON, t);
      break;
    case NAPPE_HAPPEN_CHANGE:
    case NAPPE_HAPPEN_SPEED:
      begin_change (self, happening, t);
      break;
    case NAPPE_HAPPEN_BLOCK_HOLE:
    case NAPPE_HAPPEN_CHECK_STICKS:
      change_outlets (self, happening);
      break;
    case NAPPE_HAPPEN_TOP_OFF_STICKS:
      self->top_off_stuck = happening->change.value != 0;
      self->top_off_on |= self->top_off_stuck;
      break;
    case NAPPE_HAPPEN_NO_TOP_OFF:
      self->no_top_off = happening->change.value != 0;
      break;
    case NAPPE_HAPPEN_LEAK:
      begin_leak (self, happening, t);
      break;
    default:
      g_return_if_reached ();
    }
}

guint
nappe_time_happen (NappeTime *self, guint next, double t, double *y)
{
  const NappePlan *plan = self->plan;

  while (next < plan->n && plan->happenings[next].at <= t)
    {
      const NappeHappening *happening = &plan->happenings[next];

      nappe_record_event (self, t, NAPPE_EVENT_HAPPENING, next, happening->change.part);
      happen (self, happening, t);
      next++;
    }
  refresh_lines (self, y);
  return next;
}

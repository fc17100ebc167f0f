/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/moment.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "study/state.h"

/* Pipes that carry less are drawn as still: 1 L/h [m3/s]. */
#define STILL_FLOW (1e-3 / 3600)

gboolean
nappe_moment_take (NappeState *state, const NappePictureOptions *options, const NappeStudy *study)
{
  const NappeSimulation *course = options->course;
  if (options->shown != NAPPE_SHOW_MOMENT || !course || !study || course->n_frames == 0
      || course->network->n_nodes != study->network->n_nodes || course->network->n_links != study->network->n_links)
    return FALSE;
  nappe_state_init (state, course->network);
  nappe_simulation_state (course, options->moment, state);
  return TRUE;
}

double
nappe_moment_flow (double flow)
{
  return fabs (flow) < STILL_FLOW ? 0 : flow;
}

gboolean
nappe_moment_is_full (const NappeStudy *study, const NappeState *state, const char *id)
{
  gint link = nappe_network_find_link (study->network, NAPPE_LINK_DRAIN, id);
  return link >= 0 && state->primed[link];
}

const char *
nappe_moment_word (gboolean drain, gboolean full, double flow)
{
  if (!(fabs (flow) > 0))
    /* Translators: how a pipe runs at a moment: no water flows in it */
    return _("no flow");
  if (flow < 0)
    /* Translators: how a pipe runs at a moment: its water flows back */
    return _("runs back");
  if (!drain)
    /* Translators: how a return line runs at a moment */
    return _("pumps");
  /* Translators: how a drain runs at a moment */
  return full ? _("full bore") : _("partly full");
}

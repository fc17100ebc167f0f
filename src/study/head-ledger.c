/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/head-ledger.h"

#include "physics/friction.h"
#include "physics/gravity.h"

#include <math.h>

/* A drain counts as full when its flow is what its full pipe carries, to this share. */
#define FULL_SHARE 1e-6

/* What a stretch loses to friction, to its constant coefficients and to those that fall with Reynolds' number [m]. The
 * law adds the three, and each is shared out among the pieces by its own measure, so nothing is left over. */
typedef struct
{
  double friction, constant, viscous;
} StretchParts;

static StretchParts
stretch_parts (const NappeStretch *stretch, double flow, const NappeWater *water)
{
  const NappeStretch friction = { .bore = stretch->bore, .length = stretch->length, .roughness = stretch->roughness };
  const NappeStretch constant = { .bore = stretch->bore, .k = stretch->k };
  const NappeStretch viscous = { .bore = stretch->bore, .k1 = stretch->k1 };

  return (StretchParts){ nappe_stretch_head (&friction, flow, water), nappe_stretch_head (&constant, flow, water),
                         nappe_stretch_head (&viscous, flow, water) };
}

static double
part_of (double whole, double measure, double sum)
{
  return measure > 0 && sum > 0 ? whole * (measure / sum) : 0;
}

static void
fill_line (NappeHeadLine *line, const NappeNetwork *network, const NappeLoss *loss, double flow)
{
  const NappeStretch *stretch = &network->stretches[loss->stretch];
  StretchParts parts = stretch_parts (stretch, flow, &network->water);
  double velocity = flow / (G_PI_4 * stretch->bore * stretch->bore);
  double velocity_head = velocity * fabs (velocity) / (2 * NAPPE_GRAVITY);

  g_strlcpy (line->piece, loss->piece, sizeof line->piece);
  line->kind = loss->kind;
  line->flow = flow;
  line->bore = stretch->bore;
  line->velocity = velocity;
  line->reynolds = fabs (velocity) * stretch->bore / network->water.kinematic;
  if (loss->kind == NAPPE_LOSS_PIPE && line->reynolds > 0)
    line->friction = nappe_friction_factor (line->reynolds, stretch->roughness / stretch->bore);
  line->head = part_of (parts.friction, loss->length, stretch->length) + part_of (parts.constant, loss->k, stretch->k)
               + part_of (parts.viscous, loss->k1, stretch->k1);
  line->k = velocity_head != 0 ? line->head / velocity_head : loss->k;
}

static void
add_section (GArray *lines, const NappeNetwork *network, const NappeState *state, guint index)
{
  const NappeLink *link = &network->links[index];
  double passed = 0;

  for (guint i = 0; i < link->n_losses; i++)
    {
      NappeHeadLine line = { .link = index };

      fill_line (&line, network, &network->losses[link->first_loss + i], state->flow[index]);
      line.passed = passed += line.head;
      g_array_append_val (lines, line);
    }
}

static gboolean
drain_runs_full (const NappeNetwork *network, const NappeState *state, guint index)
{
  const NappeLink *link = &network->links[index];
  double flow = state->flow[index];

  if (state->primed[index])
    return TRUE;
  double full = nappe_drain_full_flow (network, link, state->level[link->from], state->level[link->to], flow, NULL);
  return flow > 0 && fabs (flow - full) <= FULL_SHARE * full;
}

/* Whether the line that begins with this link runs full: a drain that its inlet does not hold down, a pump's line
 * with the pump on or water moving in it. */
static gboolean
runs_full (const NappeNetwork *network, const NappeState *state, const char *line)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (!g_str_equal (link->line, line))
        continue;
      if (link->kind == NAPPE_LINK_DRAIN)
        return drain_runs_full (network, state, i);
      if ((link->kind == NAPPE_LINK_PUMP && link->speed > 0) || state->flow[i] != 0)
        return TRUE;
    }
  return FALSE;
}

NappeHeadLedger *
nappe_head_ledger_new (const NappeStudy *study, const NappeState *state, const char *line)
{
  NappeHeadLedger *self = g_new0 (NappeHeadLedger, 1);
  const NappeNetwork *network = study->network;
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (NappeHeadLine));

  self->full = *line != '\0' && runs_full (network, state, line);
  for (guint i = 0; i < network->n_links && self->full; i++)
    if (network->links[i].n_losses > 0 && g_str_equal (network->links[i].line, line) && !network->links[i].shut)
      add_section (lines, network, state, i);
  self->n = lines->len;
  self->lines = (NappeHeadLine *) (void *) g_array_free (lines, FALSE);
  return self;
}

void
nappe_head_ledger_free (NappeHeadLedger *self)
{
  if (self == NULL)
    return;
  g_free (self->lines);
  g_free (self);
}

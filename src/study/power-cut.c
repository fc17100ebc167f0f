/* SPDX-License-Identifier: GPL-3.0-or-later */
/* After a power cut, from geometry alone: where every level ends when all has run down.
 *
 * The display runs down to its weir, or further through the return line to an open siphon-break hole or the nozzle's
 * mouth when nothing holds the water; each box to its lowest open inlet, with an inner box as far as its bulkheads or
 * siphon tubes let it; side vessels to their spouts or down their lines (run-down.h); the pipes empty to the surface
 * they end in; the sump's chambers take it up pool by pool (pools.h). What the pipes beyond the highest point of a
 * return line hold is counted as coming down too, which is the safe side for the sump.
 * What runs over a rim already goes on doing so for a moment (over-rim.h).
 * When water spills, the end depends on the order in which it arrives: the sources therefore run down together in
 * small helpings. Water is neither made nor lost. */
#include "study/state.h"

#include "study/over-rim.h"
#include "study/pools.h"
#include "study/run-down.h"

#include <math.h>
#include <string.h>

/* Helpings that the sources run down in when water spills; without a spill the order does not matter. */
#define HELPINGS 64
/* Rounds in which the water left in submerged pipe ends is found; each shrinks the miss by pipe over plan area. */
#define TAIL_ROUNDS 24
/* A miss that no display shows [m3]. */
#define TAIL_TOLERANCE 1e-12
/* More than any sump holds, to find out what it can take [m3]. */
#define MORE_THAN_FITS 1e3

typedef struct
{
  const NappeNetwork *network;
  const NappeState *running;
  NappePowerCut *cut;
  NappeRunDown *above; /* vessels above the sump */
  NappePools *pools;
  double *start;       /* by node: levels before the sump takes anything, z [m] */
  double *source;      /* by node of the pools: what runs down into it from vessels above [m3] */
  double *pipes;       /* by node of the pools: what runs down into it from pipes, in the present round [m3] */
  double over;         /* over rims that water ran over before, out of vessels and what the pumps still lift [m3] */
  double share;        /* of what comes to the sump that goes the same way */
  double *kept;        /* by link: what its pipes hold at the end [m3] */
  guint *pipe_end;     /* by link: node that its pipes run down into; G_MAXUINT: they are held */
  GArray *ledger;      /* NappeLedgerLine */
} Run;

static void
add_line (Run *run, NappeLedgerKind kind, const char *id, double volume)
{
  NappeLedgerLine line = { .kind = kind, .volume = volume };

  if (volume == 0)
    return;
  for (guint i = 0; i < run->ledger->len; i++)
    {
      NappeLedgerLine *known = &g_array_index (run->ledger, NappeLedgerLine, i);

      if (known->kind == kind && g_str_equal (known->id, id))
        {
          known->volume += volume;
          return;
        }
    }
  g_strlcpy (line.id, id, sizeof line.id);
  g_array_append_val (run->ledger, line);
}

/* What a vessel has lost, under the id of its part: an inner box belongs to its overflow. */
static void
add_vessel_line (Run *run, guint index)
{
  static const NappeLedgerKind kinds[] = {
    [NAPPE_NODE_DISPLAY] = NAPPE_LEDGER_DISPLAY, [NAPPE_NODE_BOX] = NAPPE_LEDGER_BOX, [NAPPE_NODE_CHAMBER] = NAPPE_LEDGER_CHAMBER,
    [NAPPE_NODE_SOCK] = NAPPE_LEDGER_CHAMBER, [NAPPE_NODE_VESSEL] = NAPPE_LEDGER_VESSEL,
  };
  const NappeNode *node = &run->network->nodes[index];
  char id[NAPPE_PART_ID_MAX + 1];
  const char *end = g_str_has_suffix (node->id, NAPPE_INNER_SUFFIX) ? strrchr (node->id, '/') : NULL;

  g_strlcpy (id, node->id, end != NULL ? (gsize) (end - node->id) + 1 : sizeof id);
  add_line (run, kinds[node->kind], id,
            nappe_node_volume (node, run->running->level[index]) - nappe_node_volume (node, run->cut->state.level[index]));
}

static gboolean
is_pooled (const Run *run, guint node)
{
  return run->pools->vessel_of[node] != G_MAXUINT;
}

/* Where water ends that finds no vessel of the pools: in the chamber that the pump stands in. */
static void
pour_into (Run *run, double *amounts, guint node, double volume)
{
  amounts[is_pooled (run, node) ? node : run->network->return_chamber] += volume;
}

/* What a link's pipes hold at the end: what a check valve holds, and of the rest what stands under a level. */
static double
held_at_end (const Run *run, guint index, double level)
{
  const NappeLink *link = &run->network->links[index];
  double held = nappe_state_held (run->running, run->network, index);

  if (run->pipe_end[index] == G_MAXUINT)
    return held;
  if (link->one_way && run->cut->check_valve_holds)
    return fmin (held, nappe_link_content_held (run->network, link, level));
  return fmin (held, nappe_link_content_below (run->network, link, level));
}

/* Pipes whose water runs back into a vessel above the sump give it before that vessel runs down. */
static void
empty_pipes_above (Run *run)
{
  for (guint i = 0; i < run->network->n_links; i++)
    {
      guint end = run->pipe_end[i];

      if (run->network->links[i].n_contents == 0 || end == G_MAXUINT || !run->above->above[end])
        continue;
      run->kept[i] = held_at_end (run, i, fmin (run->running->level[end], run->above->stop[end]));
      run->above->volume[end] += nappe_state_held (run->running, run->network, i) - run->kept[i];
    }
}

/* The chamber that a pump lifts from loses what still goes over a rim above [m3]. */
static double
lift_last (Run *run)
{
  const NappeNetwork *network = run->network;
  double rate = nappe_over_rim_upper_rate (network, run->running), lifted = 0;
  double wanted = NAPPE_SPINS_OVER_RIM * NAPPE_SPIN_TIME * rate;

  for (guint i = 0; i < network->n_links && wanted > 0; i++)
    {
      const NappeLink *pump = &network->links[i];
      const NappeNode *chamber = &network->nodes[pump->from];

      if (pump->kind != NAPPE_LINK_PUMP || !is_pooled (run, pump->from))
        continue;
      double has = nappe_node_volume (chamber, run->start[pump->from]);
      double gives = fmin (has, wanted * fmax (0, run->running->flow[i]) / run->running->pump_flow);
      run->start[pump->from] = nappe_node_level (chamber, has - gives);
      lifted += gives;
    }
  return lifted;
}

/* Takes out of the vessels what goes over rims that water runs over. */
static void
lose_over_rims (Run *run)
{
  const NappeNetwork *network = run->network;
  g_autofree double *level = g_new0 (double, network->n_nodes);

  if (nappe_over_rim_rate (network, run->running) <= 0)
    return;
  run->over = nappe_over_rim_loss (network, run->running, FALSE, level);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      double lost = nappe_node_volume (&network->nodes[i], run->running->level[i])
                    - nappe_node_volume (&network->nodes[i], level[i]);

      if (!run->above->above[i])
        run->start[i] = level[i];
      else if (lost > 0)
        {
          run->above->volume[i] -= lost;
          run->cut->run_back -= lost; /* it is in the ledger, but comes to no sump */
        }
    }
  run->over += lift_last (run);
  run->share = nappe_over_rim_sump_share (network, run->running);
}

/* Brings the vessels above the sump to rest. */
static void
run_down (Run *run)
{
  const NappeNetwork *network = run->network;
  g_autofree double *took = g_new0 (double, network->n_nodes);

  nappe_run_down_settle (run->above, took);
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      if (took[i] > 0)
        pour_into (run, run->source, i, took[i]);
      if (!run->above->above[i])
        continue;
      double before = nappe_node_volume (node, run->running->level[i]);
      /* A vessel that neither gave nor took keeps its level to the last bit. */
      if (run->above->volume[i] != before)
        run->start[i] = nappe_node_level (node, run->above->volume[i]);
      run->cut->state.level[i] = run->start[i];
    }
  guint way = run->above->stop_way[network->display];
  gboolean stopped = way != G_MAXUINT && run->above->stop[network->display] < run->running->level[network->display];
  run->cut->display_stops_at = stopped ? g_array_index (run->above->ways, NappeWay, way).link : G_MAXUINT;
}

/* A side vessel that shares the sump's levels siphons back through its full line until they stand at one. */
static void
join_siphons (Run *run)
{
  for (guint w = 0; w < run->above->ways->len; w++)
    {
      const NappeWay *way = &g_array_index (run->above->ways, NappeWay, w);

      if (way->siphon && !run->above->above[way->from])
        nappe_pools_join (run->pools, way->from, way->to, way->edge);
    }
}

static void
set_levels (Run *run)
{
  for (guint i = 0; i < run->network->n_nodes; i++)
    if (is_pooled (run, i))
      run->cut->state.level[i] = run->pools->level[run->pools->vessel_of[i]];
}

static void
pour_in_helpings (Run *run, guint helpings)
{
  nappe_pools_reset (run->pools, run->start);
  nappe_pools_settle (run->pools);
  for (guint i = 0; i < run->network->n_nodes; i++)
    if (is_pooled (run, i))
      run->pools->spilled += run->share * (run->source[i] + run->pipes[i]);
  for (guint helping = 0; helping < helpings; helping++)
    for (guint i = 0; i < run->network->n_nodes; i++)
      if (is_pooled (run, i))
        nappe_pools_pour (run->pools, run->pools->vessel_of[i],
                         (1 - run->share) * (run->source[i] + run->pipes[i]) / helpings);
}

/* Pours all sources and the pipes' water beyond what stays in them, from the levels at the start on. */
static void
pour_all (Run *run)
{
  const NappeNetwork *network = run->network;

  for (guint i = 0; i < network->n_nodes; i++)
    run->pipes[i] = 0;
  for (guint i = 0; i < network->n_links; i++)
    if (run->pipe_end[i] != G_MAXUINT && !run->above->above[run->pipe_end[i]])
      pour_into (run, run->pipes, run->pipe_end[i], nappe_state_held (run->running, network, i) - run->kept[i]);
  pour_in_helpings (run, 1);
  if (run->pools->spilled > 0)
    pour_in_helpings (run, HELPINGS);
  set_levels (run);
}

/* Takes for each pipe that ends in the pools what the levels leave in it. Returns the largest change [m3]. */
static double
keep_tails (Run *run, gboolean write)
{
  double moved = 0;

  for (guint i = 0; i < run->network->n_links; i++)
    {
      guint end = run->pipe_end[i];

      if (end != G_MAXUINT && run->above->above[end])
        continue;
      double tail = held_at_end (run, i, end == G_MAXUINT ? 0 : run->cut->state.level[end]);
      moved = fmax (moved, fabs (tail - run->kept[i]));
      if (write)
        run->kept[i] = tail;
    }
  return moved;
}

/* The pipes' ends keep water up to the final level, which depends on what they keep: found by repetition. */
static void
find_rest (Run *run)
{
  const NappeNetwork *network = run->network;

  for (guint round = 0; round < TAIL_ROUNDS; round++)
    {
      pour_all (run);
      /* What was poured and what was kept must belong together: the last round's stay. */
      if (keep_tails (run, FALSE) <= TAIL_TOLERANCE || round + 1 == TAIL_ROUNDS)
        break;
      keep_tails (run, TRUE);
    }
  for (guint i = 0; i < network->n_nodes; i++)
    if (run->above->above[i])
      add_vessel_line (run, i);
  run->cut->state.pipes = 0;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean drain = link->kind == NAPPE_LINK_DRAIN || link->drain >= 0;

      run->cut->state.pipes += run->kept[i];
      add_line (run, drain ? NAPPE_LEDGER_DRAIN_PIPES : NAPPE_LEDGER_RETURN_PIPES, link->line,
                nappe_state_held (run->running, network, i) - run->kept[i]);
    }
}

/* What the sump could take above its running levels, poured where most comes down [m3]. */
static double
free_space (Run *run)
{
  const NappeNetwork *network = run->network;
  guint into = network->return_chamber;

  for (guint i = 0; i < network->n_nodes; i++)
    if (is_pooled (run, i) && run->source[i] > run->source[into])
      into = i;
  nappe_pools_reset (run->pools, run->start);
  nappe_pools_settle (run->pools);
  nappe_pools_pour (run->pools, run->pools->vessel_of[into], MORE_THAN_FITS);
  return MORE_THAN_FITS - run->pools->spilled;
}

/* Adds up what came, what the sump took, and what it could have taken. */
static void
add_up (Run *run)
{
  NappePowerCut *cut = run->cut;
  const NappeNetwork *network = run->network;
  double highest = -INFINITY, rim = INFINITY;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind == NAPPE_NODE_VESSEL && !run->above->above[i])
      add_vessel_line (run, i);
  for (guint i = 0; i < run->ledger->len; i++)
    cut->run_back += g_array_index (run->ledger, NappeLedgerLine, i).volume;
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      if (node->kind == NAPPE_NODE_CHAMBER || node->kind == NAPPE_NODE_SOCK)
        add_vessel_line (run, i);
      if (node->kind != NAPPE_NODE_CHAMBER)
        continue;
      rim = fmin (rim, node->rim);
      if (i != network->reservoir)
        highest = fmax (highest, cut->state.level[i]);
    }
  cut->sump_margin = rim - highest;
  cut->state.spilled = run->pools->spilled + run->over;
  cut->state.vessels = nappe_network_volume (network, cut->state.level);
  cut->sump_free = free_space (run);
}

void
nappe_study_power_cut (NappePowerCut *self, const NappeNetwork *network, const NappeState *running, gboolean check_valve_holds,
                       gboolean siphon_break_open)
{
  guint n_links = MAX (network->n_links, 1);
  g_autoptr (NappeRunDown) above = nappe_run_down_new (network, running, check_valve_holds, siphon_break_open);
  g_autoptr (NappePools) pools = nappe_pools_new (network, running->level);
  g_autofree double *start = g_memdup2 (running->level, network->n_nodes * sizeof *running->level);
  g_autofree double *source = g_new0 (double, network->n_nodes);
  g_autofree double *pipes = g_new0 (double, network->n_nodes);
  g_autofree double *kept = g_new0 (double, n_links);
  g_autofree guint *pipe_end = g_new0 (guint, n_links);
  Run run = { network, running, self, above, pools, start, source, pipes, 0, 0, kept, pipe_end,
              g_array_new (FALSE, FALSE, sizeof (NappeLedgerLine)) };

  self->check_valve_holds = check_valve_holds;
  self->siphon_break_open = siphon_break_open;
  nappe_state_copy (&self->state, running, network);
  for (guint i = 0; i < network->n_links; i++)
    {
      self->state.flow[i] = 0;
      self->state.primed[i] = FALSE;
      pipe_end[i] = G_MAXUINT;
      if (network->links[i].n_contents > 0)
        pipe_end[i] = nappe_run_down_pipe_end (network, i, check_valve_holds);
    }
  self->state.pump_flow = self->state.display_flow = 0;
  lose_over_rims (&run);
  empty_pipes_above (&run);
  run_down (&run);
  join_siphons (&run);
  find_rest (&run);
  add_up (&run);
  self->known = TRUE;
  self->n_ledger = run.ledger->len;
  self->ledger = (NappeLedgerLine *) (void *) g_array_free (run.ledger, FALSE);
}

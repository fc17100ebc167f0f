/* SPDX-License-Identifier: GPL-3.0-or-later */
/* After a power cut, from geometry alone: where every level ends when all has run down.
 *
 * The display runs down to its weir, or further through the return line to an open siphon-break hole or the nozzle's
 * mouth when nothing holds the water; each box to its lowest open inlet; the pipes empty to the surface they end
 * in; the sump's chambers take it up pool by pool. What the pipes beyond the highest point of a return line hold is
 * counted as coming down too, which is the safe side for the sump.
 * When water spills, the end depends on the order in which it arrives: the sources therefore run down together in
 * small helpings. Water is neither made nor lost. */
#include "study/state.h"

#include "study/pools.h"

#include <math.h>

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
  double volume; /* that runs down [m3] */
  guint vessel;  /* index among the pools, where it arrives */
} Source;

typedef struct
{
  const NappeNetwork *network;
  const NappeState *running;
  NappePowerCut *cut;
  NappePools *pools;
  GArray *sources; /* Source */
  GArray *ledger;  /* NappeLedgerLine */
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

static void
add_source (Run *run, double volume, guint node)
{
  gint vessel = nappe_pools_find (run->pools, &run->network->nodes[node]);
  gint fallback = nappe_pools_find (run->pools, &run->network->nodes[run->network->return_chamber]);
  Source source = { volume, (guint) (vessel >= 0 ? vessel : fallback) };

  if (volume > 0)
    g_array_append_val (run->sources, source);
}

/* Whether water can leave a junction: an open pipe leads on to a vessel. Junctions of a line follow one another. */
static gboolean
leads_on (const NappeNetwork *network, guint node)
{
  if (network->nodes[node].kind != NAPPE_NODE_JUNCTION)
    return node != network->floor;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PIPE && link->from == node && !link->shut && leads_on (network, link->to))
        return TRUE;
    }
  return FALSE;
}

/* Whether a drain takes water out of its box at all. */
static gboolean
is_open_drain (const NappeNetwork *network, const NappeLink *link)
{
  return link->kind == NAPPE_LINK_DRAIN && !link->shut && link->open_share > 0 && leads_on (network, link->to);
}

static gboolean
has_open_drain (const Run *run, guint box)
{
  for (guint i = 0; i < run->network->n_links; i++)
    if (run->network->links[i].from == box && is_open_drain (run->network, &run->network->links[i]))
      return TRUE;
  return FALSE;
}

/* Whether a check valve that counts as holding stands in this pipe or in the trunk before it. */
static gboolean
is_held (const Run *run, guint index)
{
  const NappeLink *links = run->network->links;

  if (!run->cut->check_valve_holds || links[index].kind != NAPPE_LINK_PIPE || links[index].drain >= 0)
    return FALSE;
  if (links[index].one_way)
    return TRUE;
  /* Sections are compiled in the direction of the flow. */
  for (guint i = 0; i < index; i++)
    if (links[i].one_way && links[i].trunk && g_str_equal (links[i].line, links[index].line))
      return TRUE;
  return FALSE;
}

/* Level at which the display's run-down stops, and the link that stops it. */
static double
display_stop (const Run *run, guint *link_index)
{
  const NappeNetwork *network = run->network;
  double stop = run->running->level[network->display];

  *link_index = G_MAXUINT;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      double edge = INFINITY;

      if (link->kind == NAPPE_LINK_WEIR && link->from == network->display && has_open_drain (run, link->to))
        edge = link->sill;
      else if (link->kind == NAPPE_LINK_PIPE && link->to == network->display && !link->shut && !is_held (run, i))
        edge = run->cut->siphon_break_open ? link->siphon_break : link->sill;
      if (edge < stop)
        {
          stop = edge;
          *link_index = i;
        }
    }
  return fmax (stop, network->nodes[network->display].floor);
}

/* Water of a box goes where its drains lead, in the shares in which they run. */
static void
send_down_drains (Run *run, guint box, double volume)
{
  const NappeNetwork *network = run->network;
  double total = 0;
  guint any = G_MAXUINT;

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < network->n_links; i++)
      {
        const NappeLink *link = &network->links[i];
        gint drain = link->kind == NAPPE_LINK_DRAIN ? (gint) i : link->drain;
        double flow = fmax (0, run->running->flow[i]);

        if (drain < 0 || network->links[drain].from != box || network->nodes[link->to].kind != NAPPE_NODE_CHAMBER || link->shut)
          continue;
        any = link->to;
        if (pass == 0)
          total += flow;
        else if (total > 0)
          add_source (run, volume * flow / total, link->to);
      }
  /* Where no drain runs, or all lead into another box, the water must still arrive somewhere in the sump. */
  if (total <= 0)
    add_source (run, volume, any != G_MAXUINT ? any : network->return_chamber);
}

/* Lowest level that the drains of a box bring it to. */
static double
box_stop (const Run *run, guint box)
{
  const NappeNetwork *network = run->network;
  double stop = run->running->level[box];

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];

      if (link->from != box || !is_open_drain (network, link))
        continue;
      stop = fmin (stop, run->running->primed[i] ? fmin (link->inlet.brink, link->inlet.crest) : link->inlet.crest);
    }
  return fmax (stop, network->nodes[box].floor);
}

static void
empty_boxes (Run *run)
{
  const NappeNetwork *network = run->network;

  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      if (node->kind != NAPPE_NODE_BOX)
        continue;
      double stop = box_stop (run, i), volume = nappe_node_volume (node, run->running->level[i]) - nappe_node_volume (node, stop);
      run->cut->state.level[i] = stop;
      add_line (run, NAPPE_LEDGER_BOX, node->id, volume);
      send_down_drains (run, i, volume);
    }
}

/* The box that takes what comes over the weirs: the first with a way down. */
static guint
box_below_display (const Run *run)
{
  for (guint i = 0; i < run->network->n_nodes; i++)
    if (run->network->nodes[i].kind == NAPPE_NODE_BOX && has_open_drain (run, i))
      return i;
  return G_MAXUINT;
}

static void
lower_display (Run *run)
{
  const NappeNetwork *network = run->network;
  const NappeNode *node = &network->nodes[network->display];
  double level = run->running->level[network->display];
  double stop = display_stop (run, &run->cut->display_stops_at);
  double crest = level;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_WEIR && network->links[i].from == network->display
        && has_open_drain (run, network->links[i].to))
      crest = fmin (crest, network->links[i].sill);
  double over_weir = nappe_node_volume (node, level) - nappe_node_volume (node, fmax (crest, stop));
  double siphoned = nappe_node_volume (node, fmax (crest, stop)) - nappe_node_volume (node, stop);
  guint box = box_below_display (run);
  run->cut->state.level[network->display] = stop;
  add_line (run, NAPPE_LEDGER_DISPLAY, node->id, over_weir + siphoned);
  if (box != G_MAXUINT)
    send_down_drains (run, box, over_weir);
  add_source (run, siphoned, network->return_chamber);
}

/* What a link's pipes hold at the end: all behind a check valve that holds, else what stands under the surface. */
static double
held_at_end (const Run *run, guint index)
{
  const NappeNetwork *network = run->network;
  const NappeLink *link = &network->links[index];
  double level = network->nodes[link->to].kind == NAPPE_NODE_CHAMBER ? run->cut->state.level[link->to]
                                                                       : run->cut->state.level[network->return_chamber];

  if (is_held (run, index))
    return nappe_state_held (run->running, network, index);
  return fmin (nappe_state_held (run->running, network, index), nappe_link_content_below (network, link, level));
}

/* Chamber that a link's pipes run down into. */
static guint
pipe_chamber (const Run *run, guint index)
{
  const NappeLink *link = &run->network->links[index];

  return run->network->nodes[link->to].kind == NAPPE_NODE_CHAMBER ? link->to : run->network->return_chamber;
}

static void
set_levels (Run *run)
{
  const NappeNetwork *network = run->network;

  for (guint i = 0; i < network->n_nodes; i++)
    {
      gint vessel = nappe_pools_find (run->pools, &network->nodes[i]);

      if (vessel >= 0)
        run->cut->state.level[i] = run->pools->level[vessel];
    }
}

static void
pour_in_helpings (Run *run, guint helpings)
{
  g_clear_pointer (&run->pools, nappe_pools_free);
  run->pools = nappe_pools_new (run->network, run->running->level);
  nappe_pools_settle (run->pools);
  for (guint helping = 0; helping < helpings; helping++)
    for (guint i = 0; i < run->sources->len; i++)
      {
        const Source *source = &g_array_index (run->sources, Source, i);

        nappe_pools_pour (run->pools, source->vessel, source->volume / helpings);
      }
}

/* Pours all sources and the pipes' water beyond what stays in them, from the running levels on. */
static void
pour_all (Run *run, const double *kept)
{
  const NappeNetwork *network = run->network;
  guint n = run->sources->len;

  for (guint i = 0; i < network->n_links; i++)
    add_source (run, nappe_state_held (run->running, network, i) - kept[i], pipe_chamber (run, i));
  pour_in_helpings (run, 1);
  if (run->pools->spilled > 0)
    pour_in_helpings (run, HELPINGS);
  g_array_set_size (run->sources, n);
  set_levels (run);
}

/* The pipes' ends keep water up to the final level, which depends on what they keep: found by repetition. */
static void
find_rest (Run *run)
{
  const NappeNetwork *network = run->network;
  g_autofree double *kept = g_new0 (double, MAX (network->n_links, 1));
  double moved;

  for (guint round = 0; round < TAIL_ROUNDS; round++)
    {
      pour_all (run, kept);
      moved = 0;
      for (guint i = 0; i < network->n_links; i++)
        moved = fmax (moved, fabs (held_at_end (run, i) - kept[i]));
      /* What was poured and what was kept must belong together: the last round's stay. */
      if (moved <= TAIL_TOLERANCE || round + 1 == TAIL_ROUNDS)
        break;
      for (guint i = 0; i < network->n_links; i++)
        kept[i] = held_at_end (run, i);
    }
  run->cut->state.pipes = 0;
  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean drain = link->kind == NAPPE_LINK_DRAIN || link->drain >= 0;

      run->cut->state.pipes += kept[i];
      add_line (run, drain ? NAPPE_LEDGER_DRAIN_PIPES : NAPPE_LEDGER_RETURN_PIPES, link->line,
                nappe_state_held (run->running, network, i) - kept[i]);
    }
}

/* Adds up what came, what the sump took, and what it could have taken. */
static void
add_up (Run *run)
{
  NappePowerCut *cut = run->cut;
  const NappeNetwork *network = run->network;
  double highest = -INFINITY, rim = INFINITY;

  for (guint i = 0; i < run->ledger->len; i++)
    cut->run_back += g_array_index (run->ledger, NappeLedgerLine, i).volume;
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];

      if (node->kind != NAPPE_NODE_CHAMBER)
        continue;
      add_line (run, NAPPE_LEDGER_CHAMBER, node->id,
                nappe_node_volume (node, run->running->level[i]) - nappe_node_volume (node, cut->state.level[i]));
      rim = fmin (rim, node->rim);
      if (i != network->reservoir)
        highest = fmax (highest, cut->state.level[i]);
    }
  cut->sump_margin = rim - highest;
  cut->state.spilled = run->pools->spilled;
  cut->state.vessels = nappe_network_volume (network, cut->state.level);
  g_autoptr (NappePools) full = nappe_pools_new (network, run->running->level);
  nappe_pools_settle (full);
  gint vessel = nappe_pools_find (full, &network->nodes[network->return_chamber]);
  guint into = run->sources->len > 0 ? g_array_index (run->sources, Source, 0).vessel : (guint) vessel;
  nappe_pools_pour (full, into, MORE_THAN_FITS);
  cut->sump_free = MORE_THAN_FITS - full->spilled;
}

void
nappe_study_power_cut (NappePowerCut *self, const NappeNetwork *network, const NappeState *running, gboolean check_valve_holds,
                       gboolean siphon_break_open)
{
  Run run = { network, running, self, NULL, g_array_new (FALSE, FALSE, sizeof (Source)),
              g_array_new (FALSE, FALSE, sizeof (NappeLedgerLine)) };

  self->check_valve_holds = check_valve_holds;
  self->siphon_break_open = siphon_break_open;
  nappe_state_copy (&self->state, running, network);
  for (guint i = 0; i < network->n_links; i++)
    {
      self->state.flow[i] = 0;
      self->state.primed[i] = FALSE;
    }
  self->state.pump_flow = self->state.display_flow = 0;
  run.pools = nappe_pools_new (network, running->level);
  lower_display (&run);
  empty_boxes (&run);
  find_rest (&run);
  add_up (&run);
  self->known = TRUE;
  self->n_ledger = run.ledger->len;
  self->ledger = (NappeLedgerLine *) (void *) g_array_free (run.ledger, FALSE);
  nappe_pools_free (run.pools);
  g_array_free (run.sources, TRUE);
}

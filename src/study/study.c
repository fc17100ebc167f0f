/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/study.h"

#include "study/changed.h"
#include "study/state.h"

#include <math.h>

/* From this many drains on, pairs of them are looked at too. */
#define DRAINS_FOR_PAIRS 3
/* What is left of a weir's crest or slots in its standard case. */
#define WEIR_OPEN_SHARE 0.5
/* A reservoir's wall takes water back only where it ends so far below the rim; else the floor gets it as soon [m]. */
#define WALL_BELOW_RIM 0.005
/* How far over the rim the top of a closed wall is set [m]. */
#define CLOSED_WALL 1.0

/* Each drain alone, each pair, all of them. */
static void
list_blockages (NappeStudy *self)
{
  const NappeNetwork *network = self->network;
  g_autofree guint *drains = g_new0 (guint, MAX (network->n_links, 1));
  guint n = 0, pairs, count = 0;

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_DRAIN)
      drains[n++] = i;
  pairs = n >= DRAINS_FOR_PAIRS ? n * (n - 1) / 2 : 0;
  self->n_blockages = n + pairs + (n > 1 ? 1 : 0);
  self->blockages = g_new0 (NappeBlockage, MAX (self->n_blockages, 1));
  for (guint i = 0; i < n; i++)
    self->blockages[count++] = (NappeBlockage){ .n_blocked = 1, .blocked = { drains[i] }, .all_drains = n == 1 };
  for (guint i = 0; i < n && pairs > 0; i++)
    for (guint j = i + 1; j < n; j++)
      self->blockages[count++] = (NappeBlockage){ .n_blocked = 2, .blocked = { drains[i], drains[j] } };
  if (n > 1)
    self->blockages[count++] = (NappeBlockage){ .all_drains = TRUE };
  for (guint i = 0; i < self->n_blockages; i++)
    nappe_state_init (&self->blockages[i].state, network);
}

static void
list_weir_blockages (NappeStudy *self)
{
  self->weir_blocked = g_new0 (NappeBlockage, MAX (self->n_weirs, 1));
  for (guint i = 0; i < self->n_weirs; i++)
    {
      self->weir_blocked[i]
          = (NappeBlockage){ .n_blocked = 1, .blocked = { self->weirs[i].link }, .open_share = WEIR_OPEN_SHARE };
      nappe_state_init (&self->weir_blocked[i].state, self->network);
    }
}

/* Whether a link is a way down, beside drains and weirs of the display, that may close. */
static gboolean
is_passage (const NappeNetwork *network, const NappeLink *link)
{
  return (link->kind == NAPPE_LINK_JOINT && link->joint.siphon) || link->kind == NAPPE_LINK_SOCK
         || (link->kind == NAPPE_LINK_WEIR && network->nodes[link->from].kind == NAPPE_NODE_VESSEL);
}

static void
list_passages (NappeStudy *self)
{
  const NappeNetwork *network = self->network;

  self->passage_blocked = g_new0 (NappeBlockage, MAX (network->n_links, 1));
  for (guint i = 0; i < network->n_links; i++)
    if (is_passage (network, &network->links[i]))
      {
        NappeBlockage *passage = &self->passage_blocked[self->n_passages++];
        *passage = (NappeBlockage){ .n_blocked = 1, .blocked = { i } };
        nappe_state_init (&passage->state, network);
      }
}

static gboolean
is_cancelled (GCancellable *cancellable)
{
  return cancellable != NULL && g_cancellable_is_cancelled (cancellable);
}

static void
run_blockages (NappeStudy *self, NappeBalance *balance, GCancellable *cancellable)
{
  g_autoptr (NappeNetwork) scratch = nappe_network_copy (self->network);

  const struct
  {
    NappeBlockage *cases;
    guint n;
  } lists[] = { { self->blockages, self->n_blockages },
                { self->weir_blocked, self->n_weirs },
                { self->passage_blocked, self->n_passages } };

  for (gsize list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list].n && !is_cancelled (cancellable); i++)
      nappe_study_blockage_run_on (&lists[list].cases[i], balance, scratch, self->network, &self->running);
}

static gboolean
has_check_valve (const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].one_way)
      return TRUE;
  return FALSE;
}

/* Into a cut whose state is initialised. */
static void
copy_cut (NappePowerCut *into, const NappePowerCut *from, const NappeNetwork *network)
{
  NappeState state = into->state;

  *into = *from;
  into->state = state;
  nappe_state_copy (&into->state, &from->state, network);
  into->ledger = g_memdup2 (from->ledger, from->n_ledger * sizeof *from->ledger);
}

static void
run_power_cuts (NappeStudy *self)
{
  nappe_study_power_cut (&self->cut_check_failed, self->network, &self->running, FALSE, TRUE);
  if (has_check_valve (self->network))
    nappe_study_power_cut (&self->cut_check_holds, self->network, &self->running, TRUE, TRUE);
  else
    {
      /* Where there is none, none can fail: both cases are one. */
      copy_cut (&self->cut_check_holds, &self->cut_check_failed, self->network);
      self->cut_check_holds.check_valve_holds = TRUE;
    }
  nappe_study_power_cut (&self->cut_break_blocked, self->network, &self->running, FALSE, FALSE);
}

/* A wall as high as the rim gives the reservoir nothing back: it is taken as closed, and high above any water. */
static void
close_high_walls (NappeNetwork *network)
{
  double rim = network->nodes[network->reservoir].rim;

  for (guint i = 0; i < network->n_links; i++)
    {
      NappeLink *link = &network->links[i];

      if (link->kind != NAPPE_LINK_WEIR || (link->from != network->reservoir && link->to != network->reservoir)
          || !(link->sill > rim - WALL_BELOW_RIM))
        continue;
      nappe_network_block_weir (network, i, 0);
      link->sill = rim + CLOSED_WALL;
    }
}

/* The reservoir's water changes places: the total stays, and the return chamber's level follows from it. */
static void
run_top_off_stuck (NappeStudy *self, NappeBalance *balance)
{
  NappeTopOffStuck *stuck = &self->top_off_stuck;
  g_autoptr (NappeNetwork) changed = NULL;

  if (self->running.rest != NAPPE_REST_FOUND || self->network->reservoir == G_MAXUINT || !(self->network->reservoir_volume > 0))
    return;
  changed = nappe_network_copy (self->network);
  changed->total_volume = self->running.vessels + self->running.pipes;
  close_high_walls (changed);
  changed->reservoir_level = changed->nodes[changed->reservoir].floor;
  nappe_state_copy (&stuck->running, &self->running, changed);
  stuck->running.level[changed->reservoir] = changed->reservoir_level;
  nappe_study_run_warm (&stuck->running, balance, changed);
  stuck->known = stuck->running.rest == NAPPE_REST_FOUND;
  stuck->added = self->network->reservoir_volume;
  if (stuck->known)
    nappe_study_power_cut (&stuck->cut, changed, &stuck->running, FALSE, TRUE);
}

NappeStudy *
nappe_study_new (NappeNetwork *network, GCancellable *cancellable)
{
  NappeStudy *self = g_new0 (NappeStudy, 1);
  g_autoptr (NappeBalance) balance = nappe_balance_new (network->n_nodes, network->n_links);

  g_atomic_ref_count_init (&self->references);
  self->network = network;
  nappe_state_init (&self->running, network);
  nappe_state_init (&self->cut_check_failed.state, network);
  nappe_state_init (&self->cut_check_holds.state, network);
  nappe_state_init (&self->cut_break_blocked.state, network);
  nappe_state_init (&self->top_off_stuck.running, network);
  nappe_state_init (&self->top_off_stuck.cut.state, network);
  nappe_study_run (&self->running, balance, network);
  if (self->running.rest == NAPPE_REST_FOUND || self->running.rest == NAPPE_REST_CYCLES)
    {
      nappe_study_report (self, balance);
      run_power_cuts (self);
      list_blockages (self);
      list_weir_blockages (self);
      list_passages (self);
      run_blockages (self, balance, cancellable);
      run_top_off_stuck (self, balance);
    }
  if (is_cancelled (cancellable))
    {
      nappe_study_unref (self);
      return NULL;
    }
  return self;
}

NappeStudy *
nappe_study_build (NappeBuild *build, NappeCatalogue *catalogue)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (build, catalogue);

  return nappe_study_new (nappe_network_compile (build, layout, catalogue), NULL);
}

NappeStudy *
nappe_study_ref (NappeStudy *self)
{
  g_atomic_ref_count_inc (&self->references);
  return self;
}

void
nappe_study_unref (NappeStudy *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->references))
    return;
  NappePowerCut *cuts[]
      = { &self->cut_check_failed, &self->cut_check_holds, &self->cut_break_blocked, &self->top_off_stuck.cut };
  for (guint i = 0; i < G_N_ELEMENTS (cuts); i++)
    {
      nappe_state_clear (&cuts[i]->state);
      g_free (cuts[i]->ledger);
    }
  for (guint i = 0; i < self->n_blockages; i++)
    nappe_state_clear (&self->blockages[i].state);
  for (guint i = 0; i < self->n_weirs && self->weir_blocked != NULL; i++)
    nappe_state_clear (&self->weir_blocked[i].state);
  for (guint i = 0; i < self->n_passages; i++)
    nappe_state_clear (&self->passage_blocked[i].state);
  nappe_state_clear (&self->top_off_stuck.running);
  nappe_state_clear (&self->running);
  g_free (self->blockages);
  g_free (self->weir_blocked);
  g_free (self->passage_blocked);
  g_free (self->drains);
  g_free (self->pumps);
  g_free (self->weirs);
  g_free (self->level_runs);
  g_free (self->chambers);
  nappe_network_free (self->network);
  g_free (self);
}

const NappeDrainReport *
nappe_study_drain (const NappeStudy *self, const char *id)
{
  for (guint i = 0; i < self->n_drains; i++)
    if (g_str_equal (self->drains[i].id, id))
      return &self->drains[i];
  return NULL;
}

const NappePumpReport *
nappe_study_pump (const NappeStudy *self, const char *id)
{
  for (guint i = 0; i < self->n_pumps; i++)
    if (g_str_equal (self->pumps[i].id, id) || g_str_equal (self->pumps[i].line, id))
      return &self->pumps[i];
  return NULL;
}

const NappeWeirReport *
nappe_study_weir (const NappeStudy *self, const char *id)
{
  for (guint i = 0; i < self->n_weirs; i++)
    if (g_str_equal (self->weirs[i].id, id))
      return &self->weirs[i];
  return NULL;
}

const NappeChamberReport *
nappe_study_chamber (const NappeStudy *self, const char *id)
{
  for (guint i = 0; i < self->n_chambers; i++)
    if (g_str_equal (self->chambers[i].id, id))
      return &self->chambers[i];
  return NULL;
}

double
nappe_study_level (const NappeStudy *self, const NappeState *state, const char *id)
{
  gint node = nappe_network_find_node (self->network, id);

  return node < 0 || state->rest == NAPPE_REST_NOT_RUNNABLE ? NAN : state->level[node];
}

double
nappe_study_flow (const NappeStudy *self, const NappeState *state, const char *id)
{
  double sum = 0;
  gboolean known = FALSE;

  /* A link that bears the id; failing that, the link that ends in the outlet, or the pump of the line, of that id. */
  for (guint pass = 0; pass < 3 && !known && *id != '\0'; pass++)
    for (guint i = 0; i < self->network->n_links; i++)
      {
        const NappeLink *link = &self->network->links[i];
        const char *names[] = { link->id, link->outlet, link->kind == NAPPE_LINK_PUMP ? link->line : "" };

        if (link->kind == NAPPE_LINK_RIM || !g_str_equal (names[pass], id))
          continue;
        known = TRUE;
        sum += state->flow[i];
      }
  return known && state->rest != NAPPE_REST_NOT_RUNNABLE ? sum : NAN;
}

const NappeBlockage *
nappe_study_blockage (const NappeStudy *self, const char *drain_id)
{
  for (guint i = 0; i < self->n_blockages; i++)
    {
      const NappeBlockage *blockage = &self->blockages[i];

      if (drain_id == NULL ? blockage->all_drains
                           : blockage->n_blocked == 1
                                 && g_str_equal (self->network->links[blockage->blocked[0]].id, drain_id))
        return blockage;
    }
  return NULL;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/scenario.h"

#include "study/changed.h"
#include "study/drain-parts.h"
#include "study/state.h"

#include <glib/gi18n-lib.h>
#include <math.h>

G_DEFINE_QUARK (nappe-scenario-error-quark, nappe_scenario_error)

static const char *const nicks[] = {
  [NAPPE_CHANGE_BLOCK] = "block",     [NAPPE_CHANGE_BLOCK_JOINT] = "block-joint", [NAPPE_CHANGE_OPENING] = "opening",
  [NAPPE_CHANGE_SPEED] = "speed",     [NAPPE_CHANGE_WEAR] = "wear",               [NAPPE_CHANGE_LOAD] = "load",
};

const char *
nappe_change_nick (NappeChangeKind kind)
{
  return (guint) kind < G_N_ELEMENTS (nicks) ? nicks[kind] : NULL;
}

gboolean
nappe_change_from_nick (const char *nick, NappeChangeKind *kind)
{
  for (guint i = 0; i < G_N_ELEMENTS (nicks); i++)
    if (g_strcmp0 (nick, nicks[i]) == 0)
      {
        *kind = (NappeChangeKind) i;
        return TRUE;
      }
  return FALSE;
}

static gboolean
block (NappeNetwork *network, const char *part, double share)
{
  gint drain = nappe_network_find_link (network, NAPPE_LINK_DRAIN, part);
  gint weir = nappe_network_find_link (network, NAPPE_LINK_WEIR, part);

  if (drain >= 0)
    nappe_network_block (network, (guint) drain, 1 - share);
  else if (weir >= 0)
    nappe_network_block_weir (network, (guint) weir, 1 - share);
  return drain >= 0 || weir >= 0;
}

static gboolean
block_joint (NappeNetwork *network, const char *part, double share)
{
  gint index = nappe_network_find_link (network, NAPPE_LINK_JOINT, part);

  if (index >= 0)
    nappe_network_block_joint (network, (guint) index, 1 - share);
  return index >= 0;
}

/* The valve that is a piece of any line, or the first of a drain's trunk. */
static gboolean
set_opening (NappeNetwork *network, const char *part, double opening)
{
  gint drain = nappe_network_find_link (network, NAPPE_LINK_DRAIN, part);
  gint index = drain < 0 ? -1 : nappe_network_valve_link (network, (guint) drain);

  for (guint i = 0; i < network->n_links && index < 0; i++)
    if (network->links[i].valve.n_points > 0 && g_str_equal (network->links[i].valve.piece, part))
      index = (gint) i;
  if (index < 0)
    return FALSE;
  nappe_network_set_opening (network, (guint) index, opening);
  return TRUE;
}

/* A pump by its own id or its line's. One without a curve cannot run. */
static NappeLink *
find_pump (NappeNetwork *network, const char *part)
{
  for (guint i = 0; i < network->n_links; i++)
    {
      NappeLink *link = &network->links[i];

      if (link->kind == NAPPE_LINK_PUMP && link->curve.n >= 2 && (g_str_equal (link->id, part) || g_str_equal (link->line, part)))
        return link;
    }
  return NULL;
}

static gboolean
set_pump (NappeNetwork *network, const NappeScenarioChange *change)
{
  NappeLink *pump = find_pump (network, change->part);

  if (pump == NULL)
    return FALSE;
  if (change->kind == NAPPE_CHANGE_SPEED)
    pump->speed = change->value;
  else
    pump->head_left = change->value;
  /* A pump that gives no head stands. */
  if (pump->head_left <= 0)
    pump->speed = 0;
  return TRUE;
}

static gboolean
load_sock (NappeNetwork *network, const char *part, double load)
{
  gint index = nappe_network_find_link (network, NAPPE_LINK_SOCK, part);

  if (index < 0)
    return FALSE;
  network->links[index].sock.load = load;
  return TRUE;
}

static gboolean
apply (NappeNetwork *network, const NappeScenarioChange *change)
{
  if (*change->part == '\0')
    return FALSE;
  switch (change->kind)
    {
    case NAPPE_CHANGE_BLOCK:
      return block (network, change->part, change->value);
    case NAPPE_CHANGE_BLOCK_JOINT:
      return block_joint (network, change->part, change->value);
    case NAPPE_CHANGE_OPENING:
      return set_opening (network, change->part, change->value);
    case NAPPE_CHANGE_SPEED:
    case NAPPE_CHANGE_WEAR:
      return set_pump (network, change);
    case NAPPE_CHANGE_LOAD:
      return load_sock (network, change->part, change->value);
    default:
      g_return_val_if_reached (FALSE);
    }
}

/* Says that there is no part which the change could befall. */
static void
set_part_error (const NappeScenarioChange *change, GError **error)
{
#define REFUSE(text) g_set_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_PART, text, change->part)
  switch (change->kind)
    {
    case NAPPE_CHANGE_BLOCK:
      /* Translators: %s is the id of a part; so in the sentences below. */
      REFUSE (_ ("“%s” is no drain and no weir that could be blocked."));
      break;
    case NAPPE_CHANGE_BLOCK_JOINT:
      REFUSE (_ ("“%s” is no overflow with bulkheads or siphon tubes between two boxes."));
      break;
    case NAPPE_CHANGE_OPENING:
      REFUSE (_ ("“%s” is no valve that can be turned, and no drain with one."));
      break;
    case NAPPE_CHANGE_SPEED:
    case NAPPE_CHANGE_WEAR:
      REFUSE (_ ("“%s” is no pump with a known curve."));
      break;
    case NAPPE_CHANGE_LOAD:
    default:
      REFUSE (_ ("“%s” is no filter sock that water is led into."));
    }
#undef REFUSE
}

gboolean
nappe_scenario_change (NappeNetwork *network, const NappeScenarioChange *change, GError **error)
{
  if (!(change->value >= 0 && change->value <= 1))
    {
      g_set_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_RANGE,
                   /* Translators: %s is the id of a part. */
                   _ ("The share for “%s” must lie between 0 and 1."), change->part);
      return FALSE;
    }
  if (apply (network, change))
    return TRUE;
  set_part_error (change, error);
  return FALSE;
}

static void
settle (NappeScenario *self, const NappeStudy *study)
{
  const NappeNetwork *network = study->network;
  g_autoptr (NappeBalance) balance = nappe_balance_new (network->n_nodes, network->n_links);

  nappe_changed_settle (&self->outcome, balance, self->network, network, &study->running);
  self->n_drains = study->n_drains;
  self->drain_state = g_new0 (NappeDrainState, self->n_drains);
  for (guint i = 0; i < self->n_drains; i++)
    self->drain_state[i] = nappe_drain_state (self->network, &self->outcome.state, study->drains[i].link);
}

NappeScenario *
nappe_scenario_new (const NappeStudy *study, const NappeScenarioChange *changes, guint n_changes, GError **error)
{
  g_autoptr (NappeScenario) self = g_new0 (NappeScenario, 1);

  self->network = nappe_network_copy (study->network);
  nappe_state_init (&self->outcome.state, study->network);
  for (guint i = 0; i < n_changes; i++)
    if (!nappe_scenario_change (self->network, &changes[i], error))
      return NULL;
  if (study->running.rest == NAPPE_REST_FOUND || study->running.rest == NAPPE_REST_CYCLES)
    settle (self, study);
  else
    nappe_state_copy (&self->outcome.state, &study->running, study->network);
  return g_steal_pointer (&self);
}

void
nappe_scenario_free (NappeScenario *self)
{
  if (self == NULL)
    return;
  nappe_network_free (self->network);
  nappe_state_clear (&self->outcome.state);
  g_free (self->drain_state);
  g_free (self);
}

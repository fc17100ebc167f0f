/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/words.h"

static const char *const rests[] = {
  [NAPPE_REST_FOUND] = "found",
  [NAPPE_REST_CYCLES] = "cycles",
  [NAPPE_REST_NOT_FOUND] = "not-found",
  [NAPPE_REST_NOT_RUNNABLE] = "not-runnable",
};

static const char *const drain_states[] = {
  [NAPPE_DRAIN_DRY] = "dry",
  [NAPPE_DRAIN_QUIET] = "quiet",
  [NAPPE_DRAIN_ENTRAINING] = "entraining",
  [NAPPE_DRAIN_SWEEPING] = "sweeping",
  [NAPPE_DRAIN_FULL] = "full",
};

static const char *const ledgers[] = {
  [NAPPE_LEDGER_DISPLAY] = "display",
  [NAPPE_LEDGER_BOX] = "box",
  [NAPPE_LEDGER_DRAIN_PIPES] = "drain-pipes",
  [NAPPE_LEDGER_RETURN_PIPES] = "return-pipes",
  [NAPPE_LEDGER_CHAMBER] = "chamber",
  [NAPPE_LEDGER_VESSEL] = "vessel",
};

static const char *const nodes[] = {
  [NAPPE_NODE_DISPLAY] = "display",
  [NAPPE_NODE_BOX] = "box",
  [NAPPE_NODE_CHAMBER] = "chamber",
  [NAPPE_NODE_SOCK] = "sock",
  [NAPPE_NODE_VESSEL] = "vessel",
  [NAPPE_NODE_FLOOR] = "floor",
  [NAPPE_NODE_JUNCTION] = "junction",
};

static const char *const controls[] = {
  [NAPPE_INLET_DRY] = "dry",
  [NAPPE_INLET_CREST] = "crest",
  [NAPPE_INLET_ORIFICE] = "orifice",
  [NAPPE_INLET_FULL] = "full-pipe",
};

static const char *const losses[] = {
  [NAPPE_LOSS_ENTRANCE] = "entrance",
  [NAPPE_LOSS_PIPE] = "pipe",
  [NAPPE_LOSS_BEND] = "bend",
  [NAPPE_LOSS_FITTING] = "fitting",
  [NAPPE_LOSS_BRANCH] = "branch",
  [NAPPE_LOSS_VALVE] = "valve",
  [NAPPE_LOSS_BORE] = "bore",
  [NAPPE_LOSS_EXIT] = "exit",
};

static const char *const panels[] = {
  [NAPPE_PANEL_FRONT] = "front",
  [NAPPE_PANEL_SIDE] = "side",
  [NAPPE_PANEL_BOTTOM] = "bottom",
};

const char *
nappe_rest_nick (NappeRest rest)
{
  return rests[rest];
}

const char *
nappe_drain_state_nick (NappeDrainState state)
{
  return drain_states[state];
}

const char *
nappe_ledger_nick (NappeLedgerKind kind)
{
  return ledgers[kind];
}

const char *
nappe_node_nick (NappeNodeKind kind)
{
  return nodes[kind];
}

const char *
nappe_control_nick (NappeInletControl control)
{
  return controls[control];
}

const char *
nappe_loss_nick (NappeLossKind kind)
{
  return losses[kind];
}

const char *
nappe_panel_nick (int side)
{
  return panels[side];
}

const char *
nappe_choice_nick (NappePart *part, const char *name)
{
  const NappeField *field = part != NULL ? nappe_part_find_field (part, name) : NULL;
  g_auto (GValue) value = G_VALUE_INIT;

  if (field == NULL || field->type != NAPPE_FIELD_CHOICE)
    return NULL;
  nappe_part_read (part, field, &value);
  return field->choices[g_value_get_int (&value)].nick;
}

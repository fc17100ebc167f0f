/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds that carry water: pieces of pipe, outlets, drains, pumps, return lines. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "build/choices.h"
#include "build/field-rows.h"
#include "build/kinds.h"

static const NappeChoice toward_choices[] = {
  [NAPPE_TOWARD_DOWN] = { "down", N_ ("Down") },    [NAPPE_TOWARD_UP] = { "up", N_ ("Up") },
  [NAPPE_TOWARD_LEFT] = { "left", N_ ("Left") },    [NAPPE_TOWARD_RIGHT] = { "right", N_ ("Right") },
  [NAPPE_TOWARD_FRONT] = { "front", N_ ("Front") }, [NAPPE_TOWARD_BACK] = { "back", N_ ("Back") },
  { NULL, NULL },
};

static const NappeChoice material_choices[] = {
  [NAPPE_PIECE_AS_CATALOGUE] = { "as-catalogue", N_ ("As in the catalogue") },
  [NAPPE_PIECE_PVC] = { "pvc", N_ ("PVC") },
  [NAPPE_PIECE_ABS] = { "abs", N_ ("ABS") },
  [NAPPE_PIECE_PP] = { "pp", N_ ("Polypropylene") },
  [NAPPE_PIECE_PE] = { "pe", N_ ("Polyethylene") },
  [NAPPE_PIECE_BRASS] = { "brass", N_ ("Brass") },
  [NAPPE_PIECE_COPPER] = { "copper", N_ ("Copper") },
  [NAPPE_PIECE_ZINC] = { "zinc", N_ ("Zinc, or zinc-coated") },
  [NAPPE_PIECE_STEEL] = { "steel", N_ ("Plain steel") },
  [NAPPE_PIECE_STAINLESS] = { "stainless", N_ ("Stainless steel") },
  { NULL, NULL },
};

static const NappeChoice cement_choices[] = {
  [NAPPE_CEMENT_UNKNOWN] = { "unknown", N_ ("Not known") },
  [NAPPE_CEMENT_PVC] = { "pvc", N_ ("PVC cement") },
  [NAPPE_CEMENT_ABS] = { "abs", N_ ("ABS cement") },
  [NAPPE_CEMENT_TRANSITION] = { "transition", N_ ("Transition cement, ABS to PVC") },
  { NULL, NULL },
};

const char *
nappe_piece_material_word (int material)
{
  return material > NAPPE_PIECE_AS_CATALOGUE && material <= NAPPE_PIECE_STAINLESS ? material_choices[material].nick
                                                                                  : NULL;
}

/* Thickest growth [m]: half of it would close the smallest hose. */
#define GROWTH_MAX 0.02

static const NappeField piece_fields[] = {
  NAPPE_ITEM_ROW (NappePiece, item, N_ ("Catalogue item"), .required = TRUE),
  NAPPE_NUMBER_ROW (NappePiece, length, LENGTH, 0, NAPPE_LENGTH_MAX, 0, N_ ("Length")),
  NAPPE_CHOICE_ROW (NappePiece, toward, toward_choices, NAPPE_TOWARD_DOWN, N_ ("Direction")),
  NAPPE_NUMBER_ROW (NappePiece, fall, LENGTH, -NAPPE_HEIGHT_MAX, NAPPE_HEIGHT_MAX, 0, N_ ("Fall over its length")),
  NAPPE_NUMBER_ROW (NappePiece, opening, SHARE, 0, 1, 1, N_ ("Valve opening")),
  NAPPE_COUNT_ROW (NappePiece, count, 1, 1000, 1, N_ ("Number of pieces")),
  NAPPE_OPTIONAL_ROW (NappePiece, bend_radius, LENGTH, 0.001, NAPPE_LENGTH_MAX, N_ ("Radius of the bend to the next hose")),
  NAPPE_CHOICE_ROW (NappePiece, material, material_choices, NAPPE_PIECE_AS_CATALOGUE, N_ ("Material")),
  NAPPE_CHOICE_ROW (NappePiece, cement, cement_choices, NAPPE_CEMENT_UNKNOWN, N_ ("Cement in its joints")),
  NAPPE_CHOICE_ROW (NappePiece, clamped, nappe_stated_choices, NAPPE_STATED_UNKNOWN,
                    N_ ("Hose clamps on its ends")),
};
NAPPE_DEFINE_PART (NappePiece, nappe_piece, "piece", N_ ("Piece"), piece_fields, G_N_ELEMENTS (piece_fields), NULL, 0)

static const NappeField outlet_fields[] = {
  NAPPE_REFERENCE_ROW (NappeOutlet, tee, "piece", N_ ("Tee")),
  NAPPE_REFERENCE_ROW (NappeOutlet, into, "tank chamber overflow vessel equipment piece", N_ ("Ends in"), .required = TRUE),
  NAPPE_OPTIONAL_ROW (NappeOutlet, siphon_break_height, LENGTH, 0, NAPPE_HEIGHT_MAX,
                      N_ ("Siphon-break hole over the tank’s floor")),
  NAPPE_OPTIONAL_ROW (NappeOutlet, flow_min, FLOW, 0, 0.1, N_ ("Least flow wanted")),
  NAPPE_OPTIONAL_ROW (NappeOutlet, flow_max, FLOW, 0, 0.1, N_ ("Greatest flow wanted")),
};
static const NappeSlot outlet_slots[] = {
  NAPPE_LIST_ROW (NappeOutlet, run, nappe_piece_get_type, NAPPE_RUN_MAX),
};
NAPPE_DEFINE_PART (NappeOutlet, nappe_outlet, "outlet", N_ ("Outlet"), outlet_fields, G_N_ELEMENTS (outlet_fields),
                   outlet_slots, G_N_ELEMENTS (outlet_slots))

static const NappeChoice drain_role_choices[] = {
  [NAPPE_DRAIN_STANDPIPE] = { "standpipe", N_ ("Vented standpipe") },
  [NAPPE_DRAIN_SIPHON] = { "siphon", N_ ("Siphon") },
  [NAPPE_DRAIN_OPEN_CHANNEL] = { "open-channel", N_ ("Open channel") },
  [NAPPE_DRAIN_EMERGENCY] = { "emergency", N_ ("Emergency") },
  { NULL, NULL },
};

static const NappeChoice inlet_choices[] = {
  [NAPPE_INLET_OPEN_END] = { "open-end", N_ ("Open end of a pipe") },
  [NAPPE_INLET_DOWNTURNED_ELBOW] = { "downturned-elbow", N_ ("Elbow turned down") },
  [NAPPE_INLET_STRAINER] = { "strainer", N_ ("Strainer") },
  [NAPPE_INLET_FLUSH] = { "flush", N_ ("Flush with the floor or wall") },
  { NULL, NULL },
};

static const NappeField drain_fields[] = {
  NAPPE_REFERENCE_ROW (NappeDrain, overflow, "overflow", N_ ("Overflow box"), .required = TRUE),
  NAPPE_CHOICE_ROW (NappeDrain, role, drain_role_choices, NAPPE_DRAIN_STANDPIPE, N_ ("Role"), .required = TRUE),
  NAPPE_CHOICE_ROW (NappeDrain, inlet, inlet_choices, NAPPE_INLET_OPEN_END, N_ ("Inlet")),
  NAPPE_NUMBER_ROW (NappeDrain, crest_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.4, N_ ("Crest over the box’s floor"),
                    .required = TRUE),
  NAPPE_OPTIONAL_ROW (NappeDrain, mouth_height, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Mouth over the box’s floor")),
  NAPPE_OPTIONAL_ROW (NappeDrain, break_height, LENGTH, 0, NAPPE_HEIGHT_MAX, N_ ("Break level over the box’s floor")),
  NAPPE_FLAG_ROW (NappeDrain, vented, N_ ("Has an air line")),
  NAPPE_NUMBER_ROW (NappeDrain, growth, LENGTH, 0, GROWTH_MAX, 0, N_ ("Growth on the pipe’s wall")),
  NAPPE_NUMBER_ROW (NappeDrain, x, LENGTH, 0, NAPPE_LENGTH_MAX, 0.05, N_ ("Distance from the box’s left wall")),
};
static const NappeSlot drain_slots[] = {
  NAPPE_LIST_ROW (NappeDrain, run, nappe_piece_get_type, NAPPE_RUN_MAX),
  NAPPE_LIST_ROW (NappeDrain, outlets, nappe_outlet_get_type, NAPPE_OUTLETS_MAX),
};
NAPPE_DEFINE_PART (NappeDrain, nappe_drain, "drain", N_ ("Drain"), drain_fields, G_N_ELEMENTS (drain_fields),
                   drain_slots, G_N_ELEMENTS (drain_slots))

/* A share of zero head is a dead pump; below a twentieth nothing sensible is left to compute. */
static const NappeField pump_fields[] = {
  NAPPE_ITEM_ROW (NappePump, item, N_ ("Catalogue item")),
  NAPPE_CURVE_ROW (NappePump, curve, N_ ("Head–flow curve")),
  NAPPE_REFERENCE_ROW (NappePump, chamber, "chamber tank vessel", N_ ("Draws from"), .required = TRUE),
  NAPPE_COUNT_ROW (NappePump, count, 1, 8, 1, N_ ("Equal pumps side by side")),
  NAPPE_NUMBER_ROW (NappePump, x, LENGTH, 0, NAPPE_LENGTH_MAX, 0.1, N_ ("Distance from the chamber’s left side")),
  NAPPE_NUMBER_ROW (NappePump, inlet_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.05,
                    N_ ("Inlet over the floor of what it stands in")),
  NAPPE_NUMBER_ROW (NappePump, outlet_height, LENGTH, 0, NAPPE_HEIGHT_MAX, 0.1,
                    N_ ("Outlet over the floor of what it stands in")),
  NAPPE_OPTIONAL_ROW (NappePump, inlet_bore, LENGTH, 0.001, 0.5, N_ ("Inlet bore")),
  NAPPE_NUMBER_ROW (NappePump, speed, SHARE, 0, 1, 1, N_ ("Speed")),
  NAPPE_NUMBER_ROW (NappePump, head_left, SHARE, 0.05, 1, 1, N_ ("Head left after wear")),
  NAPPE_OPTIONAL_ROW (NappePump, power, POWER, 0, 20000, N_ ("Power")),
};
NAPPE_DEFINE_PART (NappePump, nappe_pump, "pump", N_ ("Pump"), pump_fields, G_N_ELEMENTS (pump_fields), NULL, 0)

static const NappeField return_line_fields[] = {
  NAPPE_NUMBER_ROW (NappeReturnLine, growth, LENGTH, 0, GROWTH_MAX, 0, N_ ("Growth on the pipe’s wall")),
};
static const NappeSlot return_line_slots[] = {
  NAPPE_SINGLE_ROW (NappeReturnLine, pump, nappe_pump_get_type),
  NAPPE_LIST_ROW (NappeReturnLine, run, nappe_piece_get_type, NAPPE_RUN_MAX),
  NAPPE_LIST_ROW (NappeReturnLine, outlets, nappe_outlet_get_type, NAPPE_OUTLETS_MAX),
};
NAPPE_DEFINE_PART (NappeReturnLine, nappe_return_line, "return", N_ ("Return line"), return_line_fields,
                   G_N_ELEMENTS (return_line_fields), return_line_slots, G_N_ELEMENTS (return_line_slots))

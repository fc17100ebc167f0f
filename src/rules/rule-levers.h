/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Levers that several rules offer; for the rules alone. */
#pragma once

#include "rules/rule-context.h"

G_BEGIN_DECLS

/* A return pump that moves more water, or less: its speed where it can be set, and other pumps of the catalogue that are
 * built alike, the nearest first. pump: its id; one that is none offers nothing. */
void nappe_rule_offer_pump (NappeRuleContext *context, NappeFinding *finding, const char *pump, gboolean more);
/* The same for the pumps of all return lines. */
void nappe_rule_offer_pumps (NappeRuleContext *context, NappeFinding *finding, gboolean more);
/* Pumps of the catalogue whose speed can be set, the two nearest in flow, for one whose speed cannot. */
void nappe_rule_offer_pump_that_turns (NappeRuleContext *context, NappeFinding *finding, const NappePump *pump);
/* Wider pipes or hoses of the same family for one piece, the nearest first. piece: its id. */
void nappe_rule_offer_wider_pipe (NappeRuleContext *context, NappeFinding *finding, const char *piece);
/* A drain's inlet between two heights over its box's floor [m], the pipe under it, the mouth and the break going along.
 * Nothing when the heights leave no way. */
void nappe_rule_offer_crest (NappeRuleContext *context, NappeFinding *finding, NappeDrain *drain, double least,
                             double most);
/* The opening of a drain's first valve between two shares; nothing without a valve, or when the shares leave no way. */
void nappe_rule_offer_valve (NappeFinding *finding, const NappeDrainReport *report, double least, double most);
/* An air line for a drain, so that its pipe cannot fill; or none, so that it can. */
void nappe_rule_offer_vent (NappeFinding *finding, const char *drain, gboolean vented);
/* The opening of the first valve in a run that can be turned, over all its travel; nothing without one. */
void nappe_rule_offer_valve_in_run (NappeRuleContext *context, NappeFinding *finding, GPtrArray *run);
/* The first piece of a run that is a valve which can be turned, or NULL. */
NappePiece *nappe_rule_valve_in_run (NappeRuleContext *context, GPtrArray *run);
/* Whether a pump's speed can be set: TRUE unless the catalogue says that it cannot. */
gboolean nappe_rule_pump_turns (NappeRuleContext *context, const NappePump *pump);

G_END_DECLS

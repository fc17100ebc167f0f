/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Levers that several rules about flooding offer. Each adds nothing where its value is not given or has no room to move. */
#pragma once

#include "rules/rule-context.h"

G_BEGIN_DECLS

/* Everything that lets less run down in a power cut or leaves more room for it. */
void nappe_levers_fit_power_cut (NappeRuleContext *context, NappeFinding *finding);
/* Everything that lets more down under the display's rim with a drain blocked, or leaves less to be lifted. */
void nappe_levers_more_room_above (NappeRuleContext *context, NappeFinding *finding);

/* The return chamber is kept higher, is longer, or its pumps reach deeper. */
void nappe_levers_more_return_water (NappeRuleContext *context, NappeFinding *finding);
/* The return chamber is kept lower, as far as its pumps stay covered. */
void nappe_levers_lower_kept_level (NappeRuleContext *context, NappeFinding *finding);
/* The sump is higher, or longer with the chamber at one of its ends; as far as the stand has room. */
void nappe_levers_grow_sump (NappeRuleContext *context, NappeFinding *finding);
/* All baffles that hold water back are lower by the same. */
void nappe_levers_lower_baffles (NappeRuleContext *context, NappeFinding *finding);
/* A chamber is longer with the sump, or takes from its longest neighbour in the list. */
void nappe_levers_lengthen_chamber (NappeRuleContext *context, NappeFinding *finding, const char *chamber);
/* A nozzle lets air in nearer the surface: by its siphon-break hole, or by its own end. */
void nappe_levers_raise_break (NappeRuleContext *context, NappeFinding *finding, const char *outlet);
void nappe_levers_shorten_nozzle (NappeRuleContext *context, NappeFinding *finding, const char *outlet);
/* The display's weir lies lower, or is longer. */
void nappe_levers_lower_weir (NappeRuleContext *context, NappeFinding *finding, const char *overflow);
void nappe_levers_lengthen_weir (NappeRuleContext *context, NappeFinding *finding, const char *overflow);
/* The tank's walls are higher. */
void nappe_levers_raise_tank (NappeRuleContext *context, NappeFinding *finding);
/* A number of a part between two values, cut to what its field accepts; nothing when that leaves no room to move. Returns
 * the lever that was offered, or NULL. */
NappeLever *nappe_levers_number (NappeRuleContext *context, NappeFinding *finding, const char *part, const char *field,
                                 double least, double most);

G_END_DECLS

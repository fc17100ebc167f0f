/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts a build together part by part: every function makes or takes away what belongs together, at places and in sizes
 * that suit the rest, as one undoable step of the build (or as part of the open transaction).
 *
 * They work from the dimensions of the build; where a siphon is tuned they ask the study. Heights and distances between
 * inlets are common practice. What they return is owned by the build. On an error, of NAPPE_ASSEMBLY_ERROR or
 * NAPPE_BUILD_ERROR, the open transaction is rolled back: nothing was changed. The catalogue is not kept. */
#pragma once

#include "build/build.h"
#include "catalogue/catalogue.h"

G_BEGIN_DECLS

#define NAPPE_ASSEMBLY_ERROR (nappe_assembly_error_quark ())
GQuark nappe_assembly_error_quark (void);
typedef enum
{
  NAPPE_ASSEMBLY_ERROR_ITEM,  /* the catalogue has no such item, or none that would be needed beside it */
  NAPPE_ASSEMBLY_ERROR_ROOM,  /* there is no room for it */
  NAPPE_ASSEMBLY_ERROR_UNFIT, /* it cannot stand there, or others need it */
} NappeAssemblyError;

/* A drain for an overflow box: inlet at a height for its role beside the others, bulkhead, pipe, elbows, union, valve for a
 * siphon, and its end in the sump. Inlets above it give way upwards, and the box's siphons are tuned anew.
 *  overflow  id of the box
 *  pipe      catalogue id of its pipe; NULL: as the box's other drains, else 1 1/2 inch; where that has no room in the box,
 *            a narrower one of its family
 *  into      id of the chamber, sock, ... that it ends in; NULL: as the box's other drains */
NappeDrain *nappe_assembly_add_drain (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow,
                                      NappeDrainRole role, const char *pipe, const char *into, GError **error);

/* Makes drains of these roles those of a box: takes away what is of another, adds what is missing, tunes the siphon.
 *  roles  NAPPE_DRAIN_ROLE_BIT of each, or'ed */
gboolean nappe_assembly_set_drains (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, guint roles,
                                    GError **error);
#define NAPPE_DRAIN_ROLE_BIT(role) (1u << (role))

/* Opens the valves of the box's siphons as far as the study says. Part of the step above. */
gboolean nappe_assembly_tune (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, GError **error);

/* A chamber beside another one, which gives it half of its length, or what it can spare, with the wall between them.
 * What stands in the other one keeps its place in the sump as far as that is possible; lines that led into it are led
 * into what is left of it. right  on its right side, else on its left */
NappeChamber *nappe_assembly_add_chamber (NappeBuild *build, NappeCatalogue *catalogue, NappePart *beside, gboolean right,
                                          NappeChamberRole role, GError **error);

/* A catalogue item of kind NAPPE_ITEM_EQUIPMENT, in a chamber, the tank or a side vessel: where it is free, at a height for
 * the water it works in.
 *  where  NULL: the first chamber of the sump that suits it */
NappeEquipment *nappe_assembly_add_equipment (NappeBuild *build, NappeCatalogue *catalogue, const char *item,
                                              NappePart *where, GError **error);

/* A refugium that hangs on the back of the tank, with a light and a small pump in the tank that feeds it by a hose. */
NappeSideVessel *nappe_assembly_add_side_vessel (NappeBuild *build, NappeCatalogue *catalogue, GError **error);

/* A return line with its pump in the sump's return chamber, over the back of the tank. item: of the pump. */
NappeReturnLine *nappe_assembly_add_return (NappeBuild *build, NappeCatalogue *catalogue, const char *item, GError **error);

/* A tee near the end of a return line's trunk, and from it another outlet into the same vessel. */
NappeOutlet *nappe_assembly_add_branch (NappeBuild *build, NappeCatalogue *catalogue, NappeReturnLine *line, GError **error);

/* Another pump in the place of one: its own curve, bore and power are forgotten. */
gboolean nappe_assembly_replace_pump (NappeBuild *build, NappeCatalogue *catalogue, NappePump *pump, const char *item,
                                      GError **error);

/* Another catalogue item for a part. Of a piece in a run: what stands beside it and would not join it any more gets a reducer, a
 * barb or whatever joins both. Of a pump: as above. */
gboolean nappe_assembly_swap_item (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, const char *item,
                                   GError **error);

/* Another pipe for a whole line or the branch of an outlet: every pipe, fitting, valve and bulkhead in the size of its first pipe
 * changes with it, as long as the catalogue has them; the valve of a siphon is tuned anew. pipe: id of a pipe or hose. */
gboolean nappe_assembly_resize_line (NappeBuild *build, NappeCatalogue *catalogue, NappePart *line, const char *pipe,
                                     GError **error);
/* The first pipe of a line or outlet; NULL: none is known. */
const NappeItem *nappe_assembly_line_pipe (NappeCatalogue *catalogue, NappePart *line);
/* The drain or return line that a part is or belongs to; NULL: none. part: nullable. */
NappePart *nappe_assembly_line_of (NappePart *part);

/* A piece into a run: at a pipe, in its middle, so that the run keeps its way; at a fitting, behind it. Of items that come
 * in sizes, the one that fits the pipe there.
 *  at  the piece there; or a line or outlet: at the end of its run */
NappePiece *nappe_assembly_add_piece (NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, const char *item,
                                      GError **error);
/* Whether a part is a piece, or has a run, so that pieces can be added there. */
gboolean nappe_assembly_has_run (NappePart *part);

/* Takes any part of a list away, with what makes no sense without it: a chamber goes with a wall and leaves its room,
 * its equipment and pipe ends to its neighbour; a wall goes with the chamber on its far side from the return; a box
 * with its drains; a tee with its branch; a side vessel with the line that feeds it and what stands in it. Two pipes
 * that meet become one. */
gboolean nappe_assembly_remove (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, GError **error);
/* "“Overflow box” is removed, and with it “Siphon”, “Emergency drain”", from the builds before and after. Transfer full. */
char *nappe_assembly_tell_removed (NappeBuild *before, NappeBuild *after, const char *part);
/* Whether it can be asked for: FALSE of what is always part of a build. */
gboolean nappe_assembly_can_remove (NappePart *part);

/* The text of a part and all below, for the clipboard. Transfer full; NULL: no copy can be made of it. */
char *nappe_assembly_copy (NappePart *part);
/* The part of such a text, with new ids, put where it fits best near `at` (nullable). References to parts that the build
 * does not have are led to others that it has. The text may come from anywhere. */
NappePart *nappe_assembly_paste (NappeBuild *build, NappeCatalogue *catalogue, const char *text, NappePart *at,
                                 GError **error);
/* A copy of a part beside it. */
NappePart *nappe_assembly_duplicate (NappeBuild *build, NappeCatalogue *catalogue, NappePart *part, GError **error);

G_END_DECLS

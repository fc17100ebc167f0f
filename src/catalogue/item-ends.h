/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "catalogue/catalogue.h"

/* How the ends of catalogue items join: method, size, material, and what they stand.
 *
 * A row may say it (end_in, end_out, end_branch, size_in ..., thread, material, pressure_rating); else it follows from
 * the item's kind, shape and family: pipe has plain ends, its fittings, valves and bulkheads have sockets for solvent
 * cement, a threaded adapter has a socket and a male thread, a barb takes hose on one end and does not say what it has
 * on the other. What neither says is not known, and nothing is concluded from it. */

G_BEGIN_DECLS

typedef enum
{
  NAPPE_END_UNKNOWN,
  NAPPE_END_SOCKET, /* for a pipe's plain end and solvent cement */
  NAPPE_END_SPIGOT, /* plain end of a pipe's outside diameter */
  NAPPE_END_MALE_THREAD,
  NAPPE_END_FEMALE_THREAD,
  NAPPE_END_BARB,   /* for hose */
  NAPPE_END_HOSE,
  NAPPE_END_PUSH,   /* for tube */
  NAPPE_END_TUBE,   /* hard enough for a push fitting */
  NAPPE_END_NOTHING /* nothing joins there: the closed end of a cap, the open side of a strainer */
} NappeEndMethod;

/* What its size is a size of. */
typedef enum
{
  NAPPE_STANDARD_NONE,
  NAPPE_STANDARD_INCH_PIPE,   /* outside diameters of ASTM D1785, of schedule 40 and 80 alike */
  NAPPE_STANDARD_METRIC_PIPE, /* outside diameters of ISO 161-1 */
  NAPPE_STANDARD_NPT,         /* threads of ASME B1.20.1 */
  NAPPE_STANDARD_BSP,         /* threads of ISO 7-1 and ISO 228 */
  NAPPE_STANDARD_BORE,        /* a hose's bore */
  NAPPE_STANDARD_OUTSIDE      /* a tube's outside diameter */
} NappeEndStandard;

typedef struct
{
  NappeEndMethod method;
  NappeEndStandard standard;
  double size;    /* [m] nominal, by its standard; 0: not known */
  double outside; /* [m] of pipe, hose and tube; 0: not known */
} NappeItemEnd;

/* Ends of an item: in, out, and a tee's branch. A piece may be turned round, but for check valves.
 * ends: takes them. Returns how many: 0 for pumps and equipment without, up to 3. */
#define NAPPE_ITEM_ENDS 3
guint nappe_item_ends (const NappeItem *item, NappeItemEnd ends[NAPPE_ITEM_ENDS]);

/* The outlet of a pump, as its row says it. */
NappeItemEnd nappe_item_outlet_end (const NappeItem *item);

typedef enum
{
  NAPPE_JOINT_FITS,
  NAPPE_JOINT_UNKNOWN, /* an end is not known */
  NAPPE_JOINT_NOTHING, /* one end is no end to join */
  NAPPE_JOINT_SYSTEM,  /* inch and metric pipe */
  NAPPE_JOINT_SIZE,    /* two sizes of one standard */
  NAPPE_JOINT_PIPES,   /* two plain ends */
  NAPPE_JOINT_THREADS, /* two forms of thread */
  NAPPE_JOINT_GENDER,  /* two male or two female threads */
  NAPPE_JOINT_BORE,    /* hose and barb, or two hoses, of different bore */
  NAPPE_JOINT_TUBE,    /* a push fitting and what is not its tube */
  NAPPE_JOINT_METHOD   /* two ways of joining */
} NappeJointFit;

/* By how much a hose's bore may differ from what it is pushed on, and a clamp still holds it: common practice [m]. */
#define NAPPE_HOSE_PLAY 0.001

/* Whether two ends join. Two sockets do, with a short piece of their pipe between them.
 * hose_play: by how much a hose's bore may differ from what it is pushed on [m]. */
NappeJointFit nappe_ends_join (const NappeItemEnd *one, const NappeItemEnd *other, double hose_play);

/* The straight item that joins both: a coupling, reducer, adapter or barb, of the family if there is one. NULL: none.
 * family: nullable. */
const NappeItem *nappe_catalogue_adapter (const NappeCatalogue *catalogue, const char *family, const NappeItemEnd *one,
                                          const NappeItemEnd *other, double hose_play);

/* "pvc", "brass" ...: the words of the catalogue's files. NULL: not known. */
const char *nappe_item_material (const NappeItem *item);

/* Pressure that a part of it carries for years at 23 °C [Pa]: its row's, else
 *  PVC pipe   physics/pipe-strength.h with a design stress of 2000 psi of PVC 1120 (ASTM D1785), and 10 MPa of metric
 *             pipe up to 90 mm (ISO 1452-2)
 *  fittings   six tenths of their pipe's: common practice; valves, unions and bulkheads at most 150 psi: common
 *             practice, from memory
 * NaN: not known, as of hoses, whose makers say it. catalogue: holds the pipe of a fitting; nullable. */
double nappe_item_pressure (const NappeItem *item, const NappeCatalogue *catalogue);

/* Least radius of a hose's axis before it kinks, as its row says it [m]; NaN: not known. */
double nappe_item_least_bend (const NappeItem *item);

G_END_DECLS

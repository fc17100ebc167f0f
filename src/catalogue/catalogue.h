/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>

#include "physics/valve.h"
#include "units/quantity.h"

/* The catalogue: generic pipes, hoses, fittings, valves, bulkheads, pumps and equipment.
 *
 * It is read once from JSON files and never changes afterwards, so any thread may read it.  Items
 * live as long as the catalogue does; hold a reference while you hold an item.
 *
 * All numbers are SI.  A number that an item does not have is 0, a text that it does not have is
 * NULL, unless said otherwise.  Every item names its source.
 *
 * Ids are stable and systematic: family and shape and size, as "pvc40-pipe-1.25",
 * "pvc40-elbow90-1.25", "pvc80-reducer-1.5x1", "pvcm-tee-40", "hose-vinyl-25", "barb-25",
 * "dc-pump-6000".  "pvc40" and "pvc80" are inch pipe of schedule 40 and 80, "pvcm" metric pipe of
 * PN16, "pvcm-pn10" metric pipe of PN10. */

G_BEGIN_DECLS

#define NAPPE_CATALOGUE_ERROR (nappe_catalogue_error_quark ())
GQuark nappe_catalogue_error_quark (void);

typedef enum
{
  NAPPE_CATALOGUE_ERROR_READ,         /* a file or folder cannot be read, or is above 4 MiB */
  NAPPE_CATALOGUE_ERROR_JSON,         /* a file is not strict JSON */
  NAPPE_CATALOGUE_ERROR_FORMAT,       /* a member is missing, unknown or of the wrong type */
  NAPPE_CATALOGUE_ERROR_RANGE,        /* a number that no such part can have */
  NAPPE_CATALOGUE_ERROR_DUPLICATE_ID, /* two rows of the same origin share an id */
  NAPPE_CATALOGUE_ERROR_WRITE         /* a file or folder of the user's cannot be written */
} NappeCatalogueError;

typedef enum
{
  NAPPE_ITEM_PIPE,
  NAPPE_ITEM_HOSE,
  NAPPE_ITEM_FITTING,
  NAPPE_ITEM_VALVE,
  NAPPE_ITEM_BULKHEAD,
  NAPPE_ITEM_PUMP,
  NAPPE_ITEM_EQUIPMENT
} NappeItemKind;
#define NAPPE_ITEM_KIND_COUNT 7

typedef struct
{
  const char *id;     /* never NULL */
  NappeItemKind kind;
  const char *name;   /* never NULL; English and without the size: "90° elbow"; for people use nappe_item_label() */
  const char *source; /* never NULL; book, standard, or "common practice" */

  /* "pvc-sch40", "pvc-sch80", "pvc-metric-pn16", "pvc-metric-pn10", "hose"; NULL for pumps and
   * equipment */
  const char *family;
  /* family of the fittings that join it: of PN10 pipe "pvc-metric-pn16", else equal to `family` */
  const char *fittings_family;
  const char *nominal;   /* as the trade writes it: "1-1/4 in", "40 mm"; of equipment "150 W" or NULL; NULL for pumps */
  /* [m] bore for the water: average inside diameter where one is published, else outside diameter
   * less two walls */
  double bore;
  double outside_diameter; /* [m] */
  double wall;             /* [m] the standard's minimum wall */
  double roughness;        /* [m] sand roughness of the wall */
  double nominal_inches;   /* nominal size in inches for the 3-K law, also of metric parts */
  double socket_depth;     /* [m] of solvent sockets: how far the pipe goes in */

  /* Fittings, bulkheads and valves: K = k1/Re + ki (1 + kd / nominal_inches^0.3), on the velocity
   * head in `bore` (Darby's 3-K law).  Where a source gives one constant K, ki is that K and
   * k1 = kd = 0. */
  double k1, ki, kd;                      /* straight through; of an elbow, round it */
  double branch_k1, branch_ki, branch_kd; /* tee: between the branch and either end of the run */
  /* "elbow-90", "sweep-90", "elbow-45", "tee", "coupling", "union", "reducer", "adapter",
   * "strainer", "barb", "cap" */
  const char *shape;
  /* [m] reducer: bore of the smaller end (`bore` is the larger), whose K follows from the two
   * bores and is not in k1, ki, kd; of others equal to `bore` */
  double bore_out;
  /* [m] along the axis between the ends of the two pipes in its sockets, approximate; of a barb
   * its own length */
  double length;

  /* How its ends join, where the row says it; else see item-ends.h. Methods: "socket", "spigot", "male-thread",
   * "female-thread", "barb", "hose", "push", "tube", "none"; sizes as the trade writes them, where other than `nominal` */
  const char *end_in, *end_out, *end_branch; /* a pump has end_out alone */
  const char *size_in, *size_out, *size_branch;
  const char *thread;       /* "npt" or "bsp"; NULL: NPT of inch parts, BSP of metric ones */
  /* "pvc", "abs", "pp", "pe", "nylon", "vinyl", "silicone", "brass", "copper", "zinc", "steel", "stainless"; NULL: see
   * item-ends.h */
  const char *material;
  double pressure_rating;   /* [Pa] at 23 °C, for years; 0: see item-ends.h */
  gboolean union_ends;      /* of valves, bulkheads and pumps: opens by hand at an end, as a union does */

  /* Hoses */
  double bend_radius_min;   /* [m] of the axis, below which it kinks */
  gboolean reinforced;      /* by cloth or a spiral: no suction of an aquarium flattens it */

  /* Valves. With points, the interpolated K replaces ki (1 + kd / nominal_inches^0.3); k1/Re stays. */
  const char *valve_kind;        /* "gate", "ball", "globe", "diaphragm", "check" */
  const NappeValvePoint *points; /* rising opening, falling K; NULL for check valves */
  gsize n_points;
  double turns;                  /* of the stem or handle from shut to open; a quarter turn is 0.25 */

  /* Bulkheads. No standard fixes the hole: the fitting's own sheet overrides it. */
  double hole_diameter;     /* [m] */
  double flange_diameter;   /* [m] across the wider of flange and nut */
  double edge_distance_min; /* [m] from the rim of the hole to the edge of the pane */
  double wall_max;          /* [m] thickest pane that its nut clamps */

  /* Pumps at full speed. */
  gsize n_curve;                     /* 2..16 */
  const double *curve_flow;          /* [m3/s] strictly rising from >= 0 */
  const double *curve_head;          /* [m of water] strictly falling to >= 0 */
  double power;                      /* [W] drawn; also of equipment */
  double inlet_bore, outlet_bore;    /* [m] */
  gboolean variable_speed;
  double length_overall, width, height; /* [m] outside measures; also of equipment */
  double min_depth;                  /* [m] of water over the floor it stands on, below which it draws air */

  /* Equipment */
  /* "skimmer", "heater", "reactor", "uv", "chiller", "light", "top-off", "dosing", "probe",
   * "media", "sock", "other" */
  const char *equipment_kind;
  double flow;                /* [m3/s] water it passes or moves */
  double depth_min, depth_max; /* [m] water depth it works in */

  gboolean own; /* from the user's own directory */
} NappeItem;

typedef struct _NappeCatalogue NappeCatalogue;

#define NAPPE_TYPE_CATALOGUE (nappe_catalogue_get_type ())
GType nappe_catalogue_get_type (void); /* boxed */

/* Reads the catalogue.
 *  data_dir  the folder that holds pipes.json, fittings.json and the others
 *  user_dir  nullable: folder of the user's own additions, every *.json in it, in order of name;
 *            it need not exist.  A row with the id of a shipped item takes its place.
 *  warnings  nullable, out, transfer full: char* with a g_free element function, one for each row
 *            or file of the user's that was left out, naming file, line and reason.  Never NULL
 *            after success.
 * Returns NULL with an error in NAPPE_CATALOGUE_ERROR if the shipped data is bad; what is in
 * user_dir never causes an error. */
NappeCatalogue *nappe_catalogue_load (const char *data_dir, const char *user_dir,
                                      GPtrArray **warnings, GError **error);

/* Loads from the default and the user's folder; arguments as above. */
NappeCatalogue *nappe_catalogue_load_default (GPtrArray **warnings, GError **error);

/* Where the shipped catalogue is: $NAPPE_DATA_DIR/catalogue if that variable is set, else where the
 * program was installed.  Transfer full. */
char *nappe_catalogue_default_dir (void);

/* Where the user's own additions are. Transfer full; the folder need not exist. */
char *nappe_catalogue_user_dir (void);

NappeCatalogue *nappe_catalogue_ref (NappeCatalogue *catalogue);
void nappe_catalogue_unref (NappeCatalogue *catalogue);

/* The item with this id, or NULL; `id` is nullable. Constant time. Owned by the catalogue. */
const NappeItem *nappe_catalogue_find (const NappeCatalogue *catalogue, const char *id);

/* All items in a stable order: shipped ones in order of kind and file, then the user's new ones. */
guint nappe_catalogue_count (const NappeCatalogue *catalogue);
const NappeItem *nappe_catalogue_nth (const NappeCatalogue *catalogue, guint index);

/* The items of one kind in the same order. Transfer container; elements are const NappeItem*. */
GPtrArray *nappe_catalogue_of_kind (const NappeCatalogue *catalogue, NappeItemKind kind);

/* A row of the user's own files, or a file of which nothing can be read. */
typedef struct
{
  char *path;            /* of the file; NULL: the folder cannot be read */
  guint index;           /* of the row in the file; NAPPE_OWN_PART_FILE: this is about the whole file */
  guint line;            /* where it begins; 0: nowhere in particular */
  char *id;              /* "": it gives none */
  const NappeItem *item; /* owned by the catalogue; NULL: left out */
  char *problem;         /* why it was left out, naming file, line and reason; NULL: nothing is wrong */
} NappeOwnPart;
#define NAPPE_OWN_PART_FILE G_MAXUINT

/* All of them, of NappeOwnPart, by name of the file and in its order. Owned by the catalogue. */
const GPtrArray *nappe_catalogue_own_parts (const NappeCatalogue *catalogue);

/* The item of `kind` that has this family, shape (fittings) or valve kind (valves), and nominal
 * size: what joins a given pipe.  `detail` is NULL for other kinds.  NULL if there is none. */
const NappeItem *nappe_catalogue_match (const NappeCatalogue *catalogue, NappeItemKind kind,
                                        const char *family, const char *detail, const char *nominal);

/* Name, translated, and size, for people: "90° elbow, 1-1/4 in", "Fixed-speed pump, 3 000 L/h".
 * `system`: the units for sizes that are not trade names. Transfer full. */
char *nappe_item_label (const NappeItem *item, NappeUnitSystem system);
/* The system of pipe that it belongs to, translated: "PVC, schedule 40"; "" where its name says all. */
const char *nappe_item_family_word (const NappeItem *item);
/* Both, for lists where items of several systems stand together. Transfer full. */
char *nappe_item_full_label (const NappeItem *item, NappeUnitSystem system);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (NappeCatalogue, nappe_catalogue_unref)

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue.h"

#include <math.h>
#include <string.h>

#include "catalogue/catalogue-private.h"
#include "physics/fitting.h"
#include "physics/pump-curve.h"
#include "physics/valve.h"

/* The shipped catalogue, against published-values.csv and against itself. */

static NappeCatalogue *
load_shipped (void)
{
  g_autofree char *folder = nappe_catalogue_default_dir ();
  g_autoptr (GPtrArray) warnings = NULL;
  g_autoptr (GError) error = NULL;
  NappeCatalogue *catalogue = nappe_catalogue_load (folder, NULL, &warnings, &error);

  g_assert_no_error (error);
  g_assert_nonnull (catalogue);
  g_assert_cmpuint (warnings->len, ==, 0);
  return catalogue;
}

static const NappeItem *
item_of (NappeCatalogue *catalogue, const char *id)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, id);

  if (item == NULL)
    g_error ("the catalogue has no %s", id);
  return item;
}

/* ---- published rows ---- */

/* Loss coefficients of published-values.csv: which item carries them, and at which opening
 * (0: not a table by opening). A ball valve's third is a third of the handle's 90 degrees. */
static const struct
{
  const char *row, *item;
  double opening;
} losses[] = {
  { "K-MU-07", "pvc40-union-1", 0 },
  { "K-MU-10", "pvc40-gate-valve-1.5", 1 },
  { "K-MU-11", "pvc40-gate-valve-1.5", 0.75 },
  { "K-MU-12", "pvc80-gate-valve-2", 0.5 },
  { "K-MU-13", "pvcm-gate-valve-40", 0.25 },
  { "K-MU-15", "pvc40-ball-valve-1", 1 },
  { "K-MU-16", "pvc40-ball-valve-1", 2.0 / 3 },
  { "K-MU-17", "pvcm-ball-valve-50", 1.0 / 3 },
  { "K-PE-06", "pvc80-coupling-1.25", 0 },
  { "K-PE-10", "pvc40-diaphragm-valve-1", 1 },
  { "K-PE-11", "pvc40-diaphragm-valve-1", 0.5 },
  { "K-PE-12", "pvc40-diaphragm-valve-1", 0.25 },
  { "K-WB-COCK-15", "pvc40-ball-valve-2", 1 - 15.0 / 90 },
  { "K-WB-COCK-25", "pvc40-ball-valve-2", 1 - 25.0 / 90 },
  { "K-WB-COCK-30", "pvc40-ball-valve-2", 1 - 30.0 / 90 },
  { "K-WB-COCK-35", "pvc40-ball-valve-2", 1 - 35.0 / 90 },
  { "K-WB-COCK-45", "pvc40-ball-valve-2", 1 - 45.0 / 90 },
  { "K-WB-COCK-50", "pvc40-ball-valve-2", 1 - 50.0 / 90 },
  { "K-WB-COCK-55", "pvc40-ball-valve-2", 1 - 55.0 / 90 },
  { "K-WB-COCK-65", "pvc40-ball-valve-2", 1 - 65.0 / 90 },
  { "K-WB-GATE-2/8", "pvc40-gate-valve-1", 0.75 },
  { "K-WB-GATE-3/8", "pvc40-gate-valve-1", 0.625 },
  { "K-WB-GATE-5/8", "pvc40-gate-valve-1", 0.375 },
  { "K-WB-GATE-6/8", "pvc40-gate-valve-1", 0.25 },
  { "K-WB-GATE-7/8", "pvc40-gate-valve-1", 0.125 },
};

static double
loss_of (NappeCatalogue *catalogue, const char *row)
{
  for (guint i = 0; i < G_N_ELEMENTS (losses); i++)
    if (g_str_equal (losses[i].row, row))
      {
        const NappeItem *item = item_of (catalogue, losses[i].item);

        return losses[i].opening > 0 ? nappe_valve_k (item->points, item->n_points, losses[i].opening) : item->ki;
      }
  if (g_str_equal (row, "K-DARB-2"))
    {
      const NappeItem *elbow = item_of (catalogue, "pvc40-elbow90-1");

      return nappe_k_darby (elbow->k1, elbow->ki, elbow->kd, elbow->nominal_inches, 2e4);
    }
  g_error ("nothing in the test stands for %s", row);
}

/* "1-1/4" of a row as "1.25" of an id. */
static char *
decimal_size (const char *size)
{
  static const char *const names[][2]
      = { { "1/2", "0.5" }, { "3/4", "0.75" }, { "1-1/4", "1.25" }, { "1-1/2", "1.5" }, { "2-1/2", "2.5" } };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (size, names[i][0]))
      return g_strdup (names[i][1]);
  return g_strdup (size);
}

typedef enum
{
  FIELD_OUTSIDE,
  FIELD_WALL,
  FIELD_BORE,
  FIELD_LARGEST_BORE, /* outside less two walls */
  FIELD_SOCKET
} Field;

static double
field_mm (const NappeItem *item, Field field)
{
  switch (field)
    {
    case FIELD_OUTSIDE:
      return item->outside_diameter * 1000;
    case FIELD_WALL:
      return item->wall * 1000;
    case FIELD_BORE:
      return item->bore * 1000;
    case FIELD_LARGEST_BORE:
      return (item->outside_diameter - 2 * item->wall) * 1000;
    case FIELD_SOCKET:
      return item->socket_depth * 1000;
    }
  g_return_val_if_reached (NAN);
}

/* Which items and which measure a row is about; longer prefixes first. */
static const struct
{
  const char *prefix, *item;
  Field field;
} measures[] = {
  { "PIPE-ID40MAX-", "pvc40-pipe-", FIELD_LARGEST_BORE },
  { "PIPE-OD-", "pvc40-pipe-", FIELD_OUTSIDE },
  { "PIPE-OD-", "pvc80-pipe-", FIELD_OUTSIDE },
  { "PIPE-W40-", "pvc40-pipe-", FIELD_WALL },
  { "PIPE-W80-", "pvc80-pipe-", FIELD_WALL },
  { "PIPE-ID40-", "pvc40-pipe-", FIELD_BORE },
  { "PIPE-ID40-", "pvc40-elbow90-", FIELD_BORE },
  { "PIPE-ID80-", "pvc80-pipe-", FIELD_BORE },
  { "PIPE-ID80-", "pvc80-union-", FIELD_BORE },
  { "PIPE-DIN10-", "pvcm-pn10-pipe-", FIELD_WALL },
  { "PIPE-DIN16-", "pvcm-pipe-", FIELD_WALL },
  { "SOCK40-", "pvc40-pipe-", FIELD_SOCKET },
  { "SOCK40-", "pvc40-tee-", FIELD_SOCKET },
  { "SOCK80-", "pvc80-pipe-", FIELD_SOCKET },
  { "SOCK80-", "pvc80-gate-valve-", FIELD_SOCKET },
};

static void
assert_near (const char *row, double value, double expected, const char *tolerance)
{
  double allowed = g_ascii_strtod (tolerance + 4, NULL);

  if (g_str_has_prefix (tolerance, "rel:"))
    allowed *= fabs (expected);
  if (!(fabs (value - expected) <= allowed))
    g_error ("%s: %.9g, published %.9g, tolerance %s", row, value, expected, tolerance);
}

static void
check_row (NappeCatalogue *catalogue, char **cells)
{
  double expected = g_ascii_strtod (cells[3], NULL);
  gboolean checked = FALSE;

  if (g_str_has_prefix (cells[0], "K-"))
    {
      assert_near (cells[0], loss_of (catalogue, cells[0]), expected, cells[5]);
      return;
    }
  for (guint i = 0; i < G_N_ELEMENTS (measures); i++)
    if (g_str_has_prefix (cells[0], measures[i].prefix))
      {
        g_autofree char *size = decimal_size (cells[0] + strlen (measures[i].prefix));
        g_autofree char *id = g_strconcat (measures[i].item, size, NULL);

        assert_near (cells[0], field_mm (item_of (catalogue, id), measures[i].field), expected, cells[5]);
        checked = TRUE;
      }
  if (!checked)
    g_error ("nothing in the test stands for %s", cells[0]);
}

static void
test_published (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "catalogue", "published-values.csv", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  guint count = 0;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 1; lines[i] != NULL; i++)
    if (*lines[i] != '\0')
      {
        g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1);

        g_assert_cmpuint (g_strv_length (cells), ==, 8);
        check_row (catalogue, cells);
        count++;
      }
  g_assert_cmpuint (count, ==, 96);
}

/* ---- every item ---- */

static void
test_every_item (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  guint counts[NAPPE_ITEM_KIND_COUNT] = { 0 };

  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (catalogue, i);
      g_autofree char *label = nappe_item_label (item, NAPPE_UNITS_METRIC);

      counts[item->kind]++;
      g_assert_true (nappe_catalogue_find (catalogue, item->id) == item);
      g_assert_cmpuint (strlen (item->source), >, 20);
      g_assert_false (item->own);
      g_assert_true (nappe_item_name_is_translatable (item->name));
      g_assert_true (g_str_has_prefix (label, item->name));
      g_assert_true (item->kind == NAPPE_ITEM_PUMP || item->kind == NAPPE_ITEM_EQUIPMENT || item->bore > 0);
    }
  for (guint kind = 0; kind < NAPPE_ITEM_KIND_COUNT; kind++)
    {
      g_autoptr (GPtrArray) chosen = nappe_catalogue_of_kind (catalogue, (NappeItemKind) kind);

      g_assert_cmpuint (chosen->len, ==, counts[kind]);
      g_assert_cmpuint (chosen->len, >=, 10);
    }
}

/* The ids that people and builds rely on: every family has every shape in every size. */
static void
test_systematic_ids (gconstpointer data)
{
  static const char *const inch[] = { "0.5", "0.75", "1", "1.25", "1.5", "2", "2.5", "3", NULL };
  static const char *const metric[] = { "20", "25", "32", "40", "50", "63", "75", NULL };
  static const char *const parts[]
      = { "pipe", "elbow90", "sweep90", "elbow45", "tee", "coupling", "union", "adapter", "strainer", "cap",
          "gate-valve", "ball-valve", "globe-valve", "diaphragm-valve", "check-valve" };
  static const struct
  {
    const char *prefix;
    const char *const *sizes;
  } families[] = { { "pvc40", inch }, { "pvc80", inch }, { "pvcm", metric } };
  static const char *const others[]
      = { "pvc40-reducer-1.5x1", "pvcm-reducer-40x32", "pvc40-bulkhead-1.5", "pvcm-pn10-pipe-40", "hose-vinyl-25",
          "hose-silicone-6", "barb-25", "barb-0.75in", "dc-pump-6000", "ac-pump-3000", "skimmer-small", "heater-300",
          "filter-sock-7in" };
  NappeCatalogue *catalogue = (NappeCatalogue *) data;

  for (guint family = 0; family < G_N_ELEMENTS (families); family++)
    for (guint part = 0; part < G_N_ELEMENTS (parts); part++)
      for (guint size = 0; families[family].sizes[size] != NULL; size++)
        {
          g_autofree char *id
              = g_strjoin ("-", families[family].prefix, parts[part], families[family].sizes[size], NULL);

          item_of (catalogue, id);
        }
  for (guint i = 0; i < G_N_ELEMENTS (others); i++)
    item_of (catalogue, others[i]);
  g_assert_null (nappe_catalogue_find (catalogue, "pvc40-pipe-7"));
  g_assert_null (nappe_catalogue_find (catalogue, NULL));
}

static void
test_fittings_fit (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  g_autoptr (GPtrArray) pipes = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_PIPE);

  for (guint i = 0; i < pipes->len; i++)
    {
      const NappeItem *pipe = g_ptr_array_index (pipes, i);
      const NappeItem *elbow = nappe_catalogue_match (catalogue, NAPPE_ITEM_FITTING, pipe->fittings_family, "elbow-90",
                                                      pipe->nominal);
      const NappeItem *valve
          = nappe_catalogue_match (catalogue, NAPPE_ITEM_VALVE, pipe->fittings_family, "gate", pipe->nominal);

      g_assert_nonnull (elbow);
      g_assert_nonnull (valve);
      g_assert_cmpfloat (elbow->nominal_inches, ==, pipe->nominal_inches);
      g_assert_cmpfloat (elbow->socket_depth, ==, pipe->socket_depth);
    }
  g_assert_null (nappe_catalogue_match (catalogue, NAPPE_ITEM_FITTING, "pvc-sch40", "tee", "7 in"));
}

/* Losses follow the order that every table of them shows. */
static void
test_losses_in_order (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  static const char *const rising[]
      = { "pvc40-coupling-1.5", "pvc40-elbow45-1.5", "pvc40-sweep90-1.5", "pvc40-elbow90-1.5" };
  double last = 0;

  for (guint i = 0; i < G_N_ELEMENTS (rising); i++)
    {
      const NappeItem *item = item_of (catalogue, rising[i]);
      double k = nappe_k_darby (item->k1, item->ki, item->kd, item->nominal_inches, 5e4);

      g_assert_cmpfloat (k, >, last);
      last = k;
    }
  {
    const NappeItem *tee = item_of (catalogue, "pvc40-tee-1.5");

    g_assert_cmpfloat (nappe_k_darby (tee->branch_k1, tee->branch_ki, tee->branch_kd, 1.5, 5e4), >,
                       2 * nappe_k_darby (tee->k1, tee->ki, tee->kd, 1.5, 5e4));
  }
}

static void
test_pumps (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  g_autoptr (GPtrArray) pumps = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_PUMP);

  g_assert_cmpuint (pumps->len, ==, 11);
  for (guint i = 0; i < pumps->len; i++)
    {
      const NappeItem *pump = g_ptr_array_index (pumps, i);
      NappePumpCurve curve;
      double best = 0;

      g_assert_cmpuint (pump->n_curve, >=, 6);
      g_assert_true (nappe_pump_curve_init (&curve, pump->curve_flow, pump->curve_head, pump->n_curve));
      for (gsize point = 0; point < pump->n_curve; point++)
        best = MAX (best, 1023 * 9.80665 * pump->curve_flow[point] * pump->curve_head[point]);
      /* The water's power [W] is less than the drawn, and not absurdly so. */
      g_assert_cmpfloat (best, <, 0.6 * pump->power);
      g_assert_cmpfloat (best, >, 0.1 * pump->power);
      g_assert_true (pump->variable_speed == g_str_has_prefix (pump->id, "dc-"));
      /* The id names the greatest flow in litres per hour. */
      g_assert_cmpfloat_with_epsilon (pump->curve_flow[pump->n_curve - 1] * 3.6e6,
                                      g_ascii_strtod (strrchr (pump->id, '-') + 1, NULL), 1e-6);
    }
}

static void
test_bulkheads (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  g_autoptr (GPtrArray) bulkheads = nappe_catalogue_of_kind (catalogue, NAPPE_ITEM_BULKHEAD);

  for (guint i = 0; i < bulkheads->len; i++)
    {
      const NappeItem *bulkhead = g_ptr_array_index (bulkheads, i);
      const NappeItem *pipe = nappe_catalogue_match (catalogue, NAPPE_ITEM_PIPE, bulkhead->family, NULL, bulkhead->nominal);

      g_assert_nonnull (pipe);
      /* The pipe and the fitting's own wall pass through the hole. */
      g_assert_cmpfloat (bulkhead->hole_diameter, >, pipe->outside_diameter);
      g_assert_cmpfloat (bulkhead->hole_diameter, <, 2 * pipe->outside_diameter);
      g_assert_cmpfloat (bulkhead->edge_distance_min, >=, bulkhead->hole_diameter);
    }
}

static void
test_labels (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  g_autofree char *elbow = nappe_item_label (item_of (catalogue, "pvc40-elbow90-1.25"), NAPPE_UNITS_US);
  g_autofree char *skimmer = nappe_item_label (item_of (catalogue, "skimmer-small"), NAPPE_UNITS_METRIC);
  g_autofree char *pump = nappe_item_label (item_of (catalogue, "dc-pump-6000"), NAPPE_UNITS_METRIC);
  g_autofree char *pump_us = nappe_item_label (item_of (catalogue, "dc-pump-6000"), NAPPE_UNITS_US);

  g_assert_cmpstr (elbow, ==, "90° elbow, 1-1/4 in");
  g_assert_cmpstr (skimmer, ==, "Small protein skimmer");
  g_assert_true (g_str_has_prefix (pump, "Variable-speed pump, 6"));
  g_assert_true (g_str_has_suffix (pump, "L/h"));
  g_assert_true (g_str_has_suffix (pump_us, "gal/h"));
}

static gpointer
read_all (gpointer data)
{
  NappeCatalogue *catalogue = data;
  guint found = 0;

  for (guint round = 0; round < 20; round++)
    for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
      found += nappe_catalogue_find (catalogue, nappe_catalogue_nth (catalogue, i)->id) != NULL;
  nappe_catalogue_unref (catalogue);
  return GUINT_TO_POINTER (found);
}

static void
test_threads (gconstpointer data)
{
  NappeCatalogue *catalogue = (NappeCatalogue *) data;
  guint count = nappe_catalogue_count (catalogue);
  GThread *threads[4];

  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("reader", read_all, nappe_catalogue_ref (catalogue));
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_assert_cmpuint (GPOINTER_TO_UINT (g_thread_join (threads[i])), ==, 20 * count);
}

static void
test_boxed (gconstpointer data)
{
  NappeCatalogue *catalogue = load_shipped ();
  GValue value = G_VALUE_INIT;

  g_value_init (&value, NAPPE_TYPE_CATALOGUE);
  g_value_set_boxed (&value, catalogue);
  g_assert_true (g_value_get_boxed (&value) == catalogue);
  nappe_catalogue_unref (catalogue);
  g_assert_nonnull (nappe_catalogue_find (g_value_get_boxed (&value), "pvc40-pipe-1"));
  g_value_unset (&value);
}

int
main (int argc, char **argv)
{
  g_autoptr (NappeCatalogue) catalogue = NULL;

  g_test_init (&argc, &argv, NULL);
  /* Loaded once: it never changes, and loading is slow under a sanitizer. */
  catalogue = load_shipped ();
  g_test_add_data_func ("/catalogue/published", catalogue, test_published);
  g_test_add_data_func ("/catalogue/every-item", catalogue, test_every_item);
  g_test_add_data_func ("/catalogue/systematic-ids", catalogue, test_systematic_ids);
  g_test_add_data_func ("/catalogue/fittings-fit", catalogue, test_fittings_fit);
  g_test_add_data_func ("/catalogue/losses-in-order", catalogue, test_losses_in_order);
  g_test_add_data_func ("/catalogue/pumps", catalogue, test_pumps);
  g_test_add_data_func ("/catalogue/bulkheads", catalogue, test_bulkheads);
  g_test_add_data_func ("/catalogue/labels", catalogue, test_labels);
  g_test_add_data_func ("/catalogue/threads", catalogue, test_threads);
  g_test_add_data_func ("/catalogue/boxed", catalogue, test_boxed);
  return g_test_run ();
}

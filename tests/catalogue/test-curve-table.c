/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pump curves out of tables that somebody else wrote, good ones and hostile ones. */
#include "catalogue/curve-table.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

#define NAME "curve.csv"
#define LITRE_HOUR (1e-3 / 3600)

static NappeCurveTable *
read_text (const char *text, gssize length, GError **error)
{
  return nappe_curve_table_read (text, length < 0 ? strlen (text) : (gsize) length, NAME, error);
}

/* ---- what is read ---- */

typedef struct
{
  const char *name, *text;
  const char *flow_unit, *head_unit; /* NULL: not told */
  gboolean told;
  double flow, head; /* of the row of greatest flow, as written */
  guint n;
} Good;

static const Good good[] = {
  { "commas", "flow l/h, head m\n0, 4.0\n1500, 3.5\n3000, 0.5\n", "L/h", "m", TRUE, 3000, 0.5, 3 },
  { "semicolons", "gal/h; ft\n0;13\n800;1.5\n", "gal/h", "ft", TRUE, 800, 1.5, 2 },
  { "tabs", "Q [m3/h]\tH (m)\n0\t4\n3\t1\n", "m³/h", "m", TRUE, 3, 1, 2 },
  { "lpm", "lpm,ft\n0,12\n50,2\n", "L/min", "ft", TRUE, 50, 2, 2 },
  { "gph", "Head (feet),Flow (GPH)\n12,0\n0,1200\n", "gal/h", "ft", TRUE, 1200, 0, 2 },
  { "per", "flow in litres per hour;head in metres\n0;4\n2000;1\n", "L/h", "m", TRUE, 2000, 1, 2 },
  { "keys", "flow_l/h;head_mm\n0;4000\n2000;1000\n", "L/h", "mm", TRUE, 2000, 1000, 2 },
  { "own unit", "ft3/s;in\n0;100\n0.02;10\n", "ft3/s", "in", TRUE, 0.02, 10, 2 },
  { "water column", "Flow l/min;Head m H2O\n0;4\n20;1\n", "L/min", "m", TRUE, 20, 1, 2 },
  { "decimal commas", "Fluss l/h;Höhe m\n0;4,25\n1500,5;1,75\n", "L/h", "m", TRUE, 1500.5, 1.75, 2 },
  { "grouped thousands", "l/h;m\n0;4,25\n1.500;1,75\n", "L/h", "m", TRUE, 1500, 1.75, 2 },
  { "grouped by commas", "l/h;m\n0;4.25\n1,500;1.75\n", "L/h", "m", TRUE, 1500, 1.75, 2 },
  { "grouped by spaces", "l/h;m\n0;4\n1\302\240500;1\n", "L/h", "m", TRUE, 1500, 1, 2 },
  { "byte-order mark", "\357\273\277flow l/h;head m\n0;4\n100;1\n", "L/h", "m", TRUE, 100, 1, 2 },
  { "line ends", "flow l/h,head m\r\n0,4\r\n100,1\r\n", "L/h", "m", TRUE, 100, 1, 2 },
  { "old line ends", "flow l/h,head m\r0,4\r100,1", "L/h", "m", TRUE, 100, 1, 2 },
  { "quotes", "\"flow, greatest\",\"head \"\"m\"\"\"\n\"0\",\"4\"\n\"1,500\",\"1.5\"\n", NULL, NULL, TRUE, 1500, 1.5,
    2 },
  { "quoted units", "\"flow (l/h)\",\"head (m)\"\n\"0\",\"4\"\n\"100\",\"1.5\"\n", "L/h", "m", TRUE, 100, 1.5, 2 },
  { "units below words", "flow;head\nl/h;m\n0;4\n100;1\n", "L/h", "m", TRUE, 100, 1, 2 },
  { "title above", "Pump of 3000 l/h\n\nhead m;flow gal/h\n4;0\n1;100\n", "gal/h", "m", TRUE, 100, 1, 2 },
  { "comments", "# measured in a bucket; three times, each\nflow l/h;head m\n0;4\n# the end\n100;1\n;\n", "L/h", "m",
    TRUE, 100, 1, 2 },
  { "further columns", "no.;speed %;flow l/h;power W;head m\n1;100;0;60;4\n2;100;100;65;1\n", "L/h", "m", TRUE, 100, 1,
    2 },
  { "one named", "flow gal/min;?\n0;4\n10;1\n", "gal/min", NULL, TRUE, 10, 1, 2 },
  { "not named", "0;4\n100;1\n", NULL, NULL, FALSE, 100, 1, 2 },
  { "any order", "flow l/h;head m\n300;1\n0;4\n100;3\n", "L/h", "m", TRUE, 300, 1, 3 },
  { "exponents", "flow m3/s;head m\n0;4\n1.5e-4;1\n", "m³/s", "m", TRUE, 1.5e-4, 1, 2 },
  { "Latin letters", "F\366rderstrom l/h;F\366rderh\366he m\n0;4\n100;1\n", "L/h", "m", TRUE, 100, 1, 2 },
};

static void
test_good (gconstpointer data)
{
  const Good *row = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCurveTable) table = read_text (row->text, -1, &error);

  g_assert_no_error (error);
  g_assert_nonnull (table);
  g_assert_cmpuint (table->n, ==, row->n);
  g_assert_cmpint (table->told, ==, row->told);
  if (!g_str_equal (row->name, "exponents"))
    g_assert_cmpstr (table->flow_unit, ==, row->flow_unit);
  g_assert_cmpstr (table->head_unit, ==, row->head_unit);
  g_assert_cmpfloat (table->rows[table->n - 1].flow, ==, row->flow);
  g_assert_cmpfloat (table->rows[table->n - 1].head, ==, row->head);
  for (guint i = 1; i < table->n; i++)
    g_assert_cmpfloat (table->rows[i].flow, >, table->rows[i - 1].flow);
}

/* Where no heading tells the columns apart a person may have them the other way round. */
static void
test_swap (void)
{
  g_autoptr (NappeCurveTable) bare = read_text ("4;0\n1;100\n", -1, NULL);
  NappeCurveFit fit;

  g_assert_true (bare != NULL && !bare->told);
  nappe_curve_table_swap (bare);
  g_assert_cmpfloat (bare->rows[0].head, ==, 4);
  g_assert_cmpfloat (bare->rows[1].flow, ==, 100);
  g_assert_cmpuint (bare->rows[1].line, ==, 2);
  g_assert_true (nappe_curve_table_fit (bare, "L/h", "m", &fit, NULL));
}

/* ---- what is refused ---- */

typedef struct
{
  const char *name, *text;
  const char *says; /* in the message, behind the name of the file */
} Bad;

static const Bad bad[] = {
  { "empty", "", "no numbers" },
  { "blank", " \n\n;;\n", "no numbers" },
  { "heading alone", "flow l/h;head m\n", "no numbers" },
  { "words", "once upon\na time\n", "no numbers" },
  { "one point", "l/h;m\n0;4\n", "line 2: one point" },
  { "one column", "flow l/h\n0\n100\n", "line 2: there is one column" },
  { "three columns", "0;4;1\n100;1;2\n", "line 1: there are 3 columns" },
  { "missing head", "l/h;m\n0;4\n100\n", "line 3: a flow and a head" },
  { "empty head", "l/h;m\n0;4\n100;\n", "line 3: a flow and a head" },
  { "empty flow", "l/h;m\n0;4\n;1\n", "line 3: “”: not a number" },
  { "letters", "l/h;m\n0;4\n1o0;1\n", "line 3: “1o0”: not a number" },
  { "not a number", "l/h;m\n0;4\nNaN;1\n", "line 3: “NaN”: not a number" },
  { "infinite", "l/h;m\n0;4\ninf;1\n", "line 3: “inf”: not a number" },
  { "too large", "l/h;m\n0;4\n1e999;1\n", "line 3: “1e999”: too large" },
  { "hexadecimal", "l/h;m\n0;4\n0x10;1\n", "line 3: “0x10”: not a number" },
  { "unit in a cell", "l/h;m\n0;4\n100 l/h;1\n", "line 3: “100 l/h”: not a number" },
  { "bare exponent", "l/h;m\n0;4\n1e;1\n", "line 3: “1e”: not a number" },
  { "two points", "l/h;m\n0;4.5\n1.2.3;1\n", "can be read in two ways" },
  { "two ways", "l/h;m\n500;4\n1.250;1\n", "line 3: “1.250” can be read in two ways" },
  { "two ways at once", "l/h;m\n1.250;4\n2,500;1\n", "can be read in two ways" },
  { "both part decimals", "l/h;m\n0.5;4\n12,75;1\n", "can be read in two ways" },
  { "decimal commas between commas", "flow l/h,head m\n0,4,5\n100,1,5\n", "line 2: there are more values than columns" },
  { "pressure", "flow l/h;psi\n0;4\n100;1\n", "line 2: “psi” is a pressure" },
  { "open quotation", "l/h;m\n0;\"4\n100;1\n", "line 2: a quotation" },
};

static void
test_bad (gconstpointer data)
{
  const Bad *row = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCurveTable) table = read_text (row->text, -1, &error);

  g_assert_null (table);
  g_assert_true (error != NULL && error->domain == NAPPE_CATALOGUE_ERROR);
  g_assert_true (g_str_has_prefix (error->message, NAME));
  if (strstr (error->message, row->says) == NULL)
    g_test_message ("says: %s", error->message);
  g_assert_nonnull (strstr (error->message, row->says));
}

/* ---- what is fitted ---- */

static const struct
{
  const char *text, *flow_unit, *head_unit, *says;
} unfit[] = {
  { "-1;4\n100;1\n", "L/h", "m", "line 1: the flow is below 0" },
  { "0;4\n100;-1\n", "L/h", "m", "line 2: the head is below 0" },
  { "0;4\n100;4\n", "L/h", "m", "line 2: the flow is greater than in line 1, and the head is not less" },
  { "0;4\n100;3\n50;2\n", "L/h", "m", "line 2: the flow is greater than in line 3, and the head is not less" },
  { "0;4\n100;3\n100;2\n", "L/h", "m", "line 3: the same flow as in line 2" },
  { "0;4\n500;1\n", "m³/h", "m", "line 2: 500" },
  { "0;400\n500;1\n", "L/h", "m", "line 1: 400" },
  { "0;4\n500;1\n", "bushels", "m", "bushels" },
  { "0;4\n500;1\n", "L/h", "psi", "psi" },
};

static void
test_unfit (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (unfit); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (NappeCurveTable) table = read_text (unfit[i].text, -1, NULL);
      NappeCurveFit fit;

      g_assert_nonnull (table);
      g_assert_false (nappe_curve_table_fit (table, unfit[i].flow_unit, unfit[i].head_unit, &fit, &error));
      g_assert_true (error != NULL && error->domain == NAPPE_CATALOGUE_ERROR);
      if (strstr (error->message, unfit[i].says) == NULL)
        g_test_message ("says: %s", error->message);
      g_assert_nonnull (strstr (error->message, unfit[i].says));
    }
}

/* One flow in several units is the same pump, to the last bit where the units are exact. */
static void
test_units (void)
{
  static const struct
  {
    const char *text, *flow_unit, *head_unit;
  } same[] = {
    { "0;4\n3000;1\n", "L/h", "m" }, { "0;400\n50;100\n", "L/min", "cm" }, { "0;4000\n3;1000\n", "m³/h", "mm" },
  };
  NappeCurveFit fit;

  for (guint i = 0; i < G_N_ELEMENTS (same); i++)
    {
      g_autoptr (NappeCurveTable) table = read_text (same[i].text, -1, NULL);

      g_assert_true (nappe_curve_table_fit (table, same[i].flow_unit, same[i].head_unit, &fit, NULL));
      g_assert_cmpuint (fit.curve.n, ==, 2);
      g_assert_cmpfloat (fit.curve.flow[1], ==, nappe_quantity_from_file (NAPPE_QUANTITY_FLOW, 3000));
      g_assert_cmpfloat (fit.curve.head[0], ==, 4);
      g_assert_cmpfloat (fit.curve.head[1], ==, 1);
      g_assert_cmpuint (fit.left_out, ==, 0);
      g_assert_cmpfloat (fit.departure, ==, 0);
    }
  /* A US gallon is 231 cubic inches of 25.4 mm each, a foot 0.3048 m (NIST SP 811). */
  g_autoptr (NappeCurveTable) table = read_text ("0;10\n1000;5\n", -1, NULL);
  g_assert_true (nappe_curve_table_fit (table, "gal/h", "ft", &fit, NULL));
  g_assert_cmpfloat_with_epsilon (fit.curve.flow[1], 3785.411784 * LITRE_HOUR, 1e-12);
  g_assert_cmpfloat_with_epsilon (fit.curve.head[0], 3.048, 1e-12);
}

/* Of a table with many rows 16 are taken, and the curve through them is close to all. */
static void
test_many_rows (void)
{
  g_autoptr (GString) text = g_string_new ("flow l/h;head m\n");
  g_autoptr (NappeCurveTable) table = NULL;
  NappeCurveFit fit;

  for (guint i = 0; i <= 500; i++)
    g_string_append_printf (text, "%u;%.6f\n", 10 * i, 4 * (1 - pow (i / 500.0, 1.8)));
  table = read_text (text->str, -1, NULL);
  g_assert_true (nappe_curve_table_fit (table, "L/h", "m", &fit, NULL));
  g_assert_cmpuint (fit.curve.n, ==, NAPPE_PUMP_CURVE_MAX);
  g_assert_cmpuint (fit.left_out, ==, 501 - NAPPE_PUMP_CURVE_MAX);
  g_assert_cmpfloat (fit.curve.head[0], ==, 4);
  g_assert_cmpfloat (fit.curve.head[NAPPE_PUMP_CURVE_MAX - 1], ==, 0);
  g_assert_cmpfloat (fit.departure, <, 0.01);
  g_assert_cmpfloat (fit.departure, >, 0);
}

static void
test_points_all_kept (void)
{
  g_autoptr (GString) text = g_string_new ("flow l/h;head m\n");
  g_autoptr (NappeCurveTable) table = NULL;
  NappeCurveFit fit;

  /* A straight line: the first two points say all, and still every row stays. */
  for (guint i = 0; i < NAPPE_PUMP_CURVE_MAX; i++)
    g_string_append_printf (text, "%u;%u\n", 100 * i, 20 - i);
  table = read_text (text->str, -1, NULL);
  g_assert_true (nappe_curve_table_fit (table, "L/h", "m", &fit, NULL));
  g_assert_cmpuint (fit.curve.n, ==, NAPPE_PUMP_CURVE_MAX);
  g_assert_cmpuint (fit.left_out, ==, 0);
  g_assert_cmpfloat (fit.departure, ==, 0);
}

/* ---- hostile texts ---- */

static void
refuse (const char *text, gsize length, const char *says)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (read_text (text, (gssize) length, &error));
  g_assert_true (error != NULL && error->domain == NAPPE_CATALOGUE_ERROR);
  if (strstr (error->message, says) == NULL)
    g_test_message ("says: %s", error->message);
  g_assert_nonnull (strstr (error->message, says));
}

static void
test_hostile (void)
{
  g_autoptr (GString) text = g_string_new (NULL);

  refuse ("0;4\n10\0;1\n", 10, "no table of values");
  refuse ("\377\376f\0l\0", 6, "no table of values");
  refuse ("\177ELF;1\n2;3\n", 12, "no table of values");
  for (guint i = 0; i < NAPPE_CURVE_TABLE_SIZE_MAX / 4; i++)
    g_string_append (text, "1;2\n");
  refuse (text->str, text->len, "line 1001: there are more than 1000 rows");
  g_string_append_c (text, '1');
  refuse (text->str, text->len, "larger than 256 KiB");
  g_string_assign (text, "l/h");
  for (guint i = 0; i < 100; i++)
    g_string_append (text, ";m");
  refuse (text->str, text->len, "line 1: too many columns");
  g_string_set_size (text, 100000);
  memset (text->str, '7', text->len);
  refuse (text->str, text->len, "line 1: the line is too long");
  g_string_truncate (text, 1000);
  g_string_append (text, ";1\n8;2\n");
  refuse (text->str, text->len, "line 1: “777");
  memset (text->str, '"', text->len);
  refuse (text->str, text->len, text->len % 2 == 1 ? "line 1: a quotation" : "no numbers");
  memset (text->str, '\n', text->len);
  refuse (text->str, text->len, "no numbers");
}

/* Whatever comes, there is a curve that falls or an error that names the file. */
static void
test_random (void)
{
  static const char alphabet[] = "0123456789.,;\t\n\r\"'-+eE lhm/gal ft#\303\266";
  g_autoptr (GRand) random = g_rand_new_with_seed (8);
  guint fitted = 0;

  for (guint round = 0; round < 20000; round++)
    {
      char text[160] = "flow l/h;head m\n0;4.5\n500;4.25\n1000;3.5\n2000;0.5\n";
      gboolean hurt = round % 4 == 1; /* a sound table with some letters changed */
      gsize length = hurt ? strlen (text) : (gsize) g_rand_int_range (random, 0, sizeof text);
      g_autoptr (GError) error = NULL;
      g_autoptr (NappeCurveTable) table = NULL;
      NappeCurveFit fit;

      for (gsize i = 0; i < length; i++)
        if (!hurt || g_rand_int_range (random, 0, 30) == 0)
          text[i] = round % 4 == 0 ? (char) g_rand_int (random) : alphabet[g_rand_int_range (random, 0, sizeof alphabet - 1)];
      table = nappe_curve_table_read (text, length, NAME, &error);
      g_assert_true ((table == NULL) == (error != NULL));
      if (table == NULL)
        {
          g_assert_true (g_str_has_prefix (error->message, NAME) && g_utf8_validate (error->message, -1, NULL));
          continue;
        }
      if (!nappe_curve_table_fit (table, "L/h", "m", &fit, &error))
        {
          g_assert_true (error != NULL && g_str_has_prefix (error->message, NAME));
          continue;
        }
      fitted++;
      for (gsize i = 1; i < fit.curve.n; i++)
        g_assert_true (fit.curve.flow[i] > fit.curve.flow[i - 1] && fit.curve.head[i] < fit.curve.head[i - 1]);
    }
  /* Of the tables with some letters changed there are such as still hold a curve. */
  g_assert_cmpuint (fitted, >, 0);
}

static void
test_files (void)
{
  g_autofree char *folder = g_dir_make_tmp ("nappe-curve-XXXXXX", NULL);
  g_autofree char *pipe = g_build_filename (folder, "pipe.csv", NULL), *file = g_build_filename (folder, "a.csv", NULL);
  g_autoptr (NappeCurveTable) table = NULL;
  const char *const wrong[] = { folder, pipe, file };

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (nappe_curve_table_load (wrong[i], &error));
      g_assert_error (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_READ);
    }
  g_assert_true (g_file_set_contents (file, "l/h;m\n0;4\n100;1\n", -1, NULL));
  table = nappe_curve_table_load (file, NULL);
  g_assert_nonnull (table);
  g_assert_cmpstr (table->name, ==, "a.csv");
  g_remove (file);
  g_remove (pipe);
  g_rmdir (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autofree char *path = g_strconcat ("/catalogue/curve-table/good/", good[i].name, NULL);

      g_test_add_data_func (path, &good[i], test_good);
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autofree char *path = g_strconcat ("/catalogue/curve-table/bad/", bad[i].name, NULL);

      g_test_add_data_func (path, &bad[i], test_bad);
    }
  g_test_add_func ("/catalogue/curve-table/swap", test_swap);
  g_test_add_func ("/catalogue/curve-table/unfit", test_unfit);
  g_test_add_func ("/catalogue/curve-table/units", test_units);
  g_test_add_func ("/catalogue/curve-table/many-rows", test_many_rows);
  g_test_add_func ("/catalogue/curve-table/points-all-kept", test_points_all_kept);
  g_test_add_func ("/catalogue/curve-table/hostile", test_hostile);
  g_test_add_func ("/catalogue/curve-table/random", test_random);
  g_test_add_func ("/catalogue/curve-table/files", test_files);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Checks the laws against the published values of published-values.csv, each row with its own source and tolerance. */

#include "published-laws.h"

static const PublishedLaw *
law_for (const PublishedRow *row)
{
  const PublishedLaw *tables[] = { published_pipe_laws, published_open_laws, published_water_laws, published_pump_laws,
                                    published_surface_laws };

  for (gsize table = 0; table < G_N_ELEMENTS (tables); table++)
    for (const PublishedLaw *law = tables[table]; law->prefix != NULL; law++)
      if (g_str_has_prefix (row->id, law->prefix))
        return law;
  return NULL;
}

static void
test_row (gconstpointer data)
{
  const PublishedRow *row = data;

  const PublishedLaw *law = law_for (row);
  double found;

  if (!law)
    {
      g_test_message ("no law for this row");
      g_test_fail ();
      return;
    }
  found = law->law (row);
  if (!published_row_agrees (row, found))
    {
      g_test_message ("found %.9g, published %.9g within %s by %s", found, row->expected, row->tolerance, row->source);
      g_test_fail ();
    }
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GPtrArray) rows = NULL;

  g_test_init (&argc, &argv, NULL);
  rows = published_rows_read ();
  g_assert_cmpuint (rows->len, >=, 120);
  for (guint i = 0; i < rows->len; i++)
    {
      PublishedRow *row = rows->pdata[i];
      g_autofree char *name = g_strdup (row->id);
      g_autofree char *path = NULL;

      /* A slash would make a group of its own. */
      g_strdelimit (name, "/", ':');
      path = g_strconcat ("/physics/published/", name, NULL);
      g_test_add_data_func (path, row, test_row);
    }
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps put into the user's own catalogue and rows taken out of it: what is not theirs stays, whatever goes wrong. */
#include "catalogue/own-pump.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "catalogue/catalogue-private.h"

#define HEAD "{\"format\":\"nappe-catalogue\",\"version\":1,\n\"items\":["
#define PUMP(id) "{\"id\":\"" id "\",\"kind\":\"pump\",\"name\":\"A ]} \\\" pump\",\"source\":\"measured\",\"power_watts\":30," \
                 "\"curve_flow_litres_per_hour\":[0,1000,2000],\"curve_head_metres\":[2,1.50,0]}"

typedef struct
{
  char *folder, *path; /* of the user's files; of the one with pumps */
  NappeCatalogue *catalogue;
  NappeOwnPump pump;
} Fixture;

static void
load (Fixture *self)
{
  g_autofree char *shipped = nappe_catalogue_default_dir ();

  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  self->catalogue = nappe_catalogue_load (shipped, self->folder, NULL, NULL);
  g_assert_nonnull (self->catalogue);
}

static void
set_up (Fixture *self, gconstpointer data)
{
  const double flow[] = { 0, 0.0005, 0.001 }, head[] = { 4, 2.5, 0.25 };

  self->folder = g_dir_make_tmp ("nappe-own-pump-XXXXXX", NULL);
  self->path = g_build_filename (self->folder, NAPPE_OWN_PUMPS_FILE, NULL);
  self->pump = (NappeOwnPump){
    .name = "Riff-Pumpe „Süd“ \\ 4000", .source = "Points of “a.csv”", .power = 42.5, .variable_speed = TRUE
  };
  g_assert_true (nappe_pump_curve_init (&self->pump.curve, flow, head, 3));
  load (self);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (self->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      g_remove (path);
    }
  g_rmdir (self->folder);
  g_free (self->folder);
  g_free (self->path);
  nappe_catalogue_unref (self->catalogue);
}

static void
write_text (Fixture *self, const char *text)
{
  g_assert_true (g_file_set_contents (self->path, text, -1, NULL));
}

static char *
read_text (Fixture *self)
{
  char *text = NULL;

  g_assert_true (g_file_get_contents (self->path, &text, NULL, NULL));
  return text;
}

/* Adds the pump, and loads. NULL: it was refused. */
static char *
add (Fixture *self, GError **error)
{
  char *id = nappe_own_pump_add (self->folder, self->catalogue, &self->pump, error);

  load (self);
  return id;
}

static const NappeOwnPart *
nth (Fixture *self, guint index)
{
  return g_ptr_array_index (nappe_catalogue_own_parts (self->catalogue), index);
}

static void
test_add (Fixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *id = add (self, &error);
  const NappeItem *item = nappe_catalogue_find (self->catalogue, id);

  g_assert_no_error (error);
  g_assert_cmpstr (id, ==, "own-riff-pumpe-sud-4000");
  g_assert_true (item != NULL && item->own && item->kind == NAPPE_ITEM_PUMP && item->variable_speed);
  g_assert_cmpstr (item->name, ==, self->pump.name);
  g_assert_cmpstr (item->source, ==, self->pump.source);
  g_assert_cmpfloat (item->power, ==, 42.5);
  g_assert_cmpuint (item->n_curve, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat (item->curve_flow[i], ==, self->pump.curve.flow[i]);
      g_assert_cmpfloat (item->curve_head[i], ==, self->pump.curve.head[i]);
    }
  g_assert_cmpuint (nappe_catalogue_own_parts (self->catalogue)->len, ==, 1);
  g_assert_true (nth (self, 0)->item == item && nth (self, 0)->problem == NULL);
}

/* Another of the same name gets another id, and the rows before stay byte for byte. */
static void
test_add_to_others (Fixture *self, gconstpointer data)
{
  g_autofree char *first = NULL, *second = NULL, *text = NULL;

  write_text (self, HEAD "\n" PUMP ("mine") "  ,\n\n{\"id\":\"broken\",\"kind\":\"pump\"}\n]\n, \"note\": \"items\"}\n");
  load (self);
  g_assert_cmpuint (nappe_catalogue_own_parts (self->catalogue)->len, ==, 2);
  g_assert_nonnull (nth (self, 1)->problem);
  first = add (self, NULL);
  second = add (self, NULL);
  g_assert_cmpstr (second, ==, "own-riff-pumpe-sud-4000-2");
  g_assert_nonnull (nappe_catalogue_find (self->catalogue, "mine"));
  g_assert_nonnull (nappe_catalogue_find (self->catalogue, first));
  g_assert_nonnull (nappe_catalogue_find (self->catalogue, second));
  text = read_text (self);
  g_assert_true (g_str_has_prefix (text, HEAD "\n" PUMP ("mine") "  ,\n\n{\"id\":\"broken\",\"kind\":\"pump\"},\n"));
  g_assert_true (g_str_has_suffix (text, "}\n]\n, \"note\": \"items\"}\n"));
}

static void
test_add_to_empty_list (Fixture *self, gconstpointer data)
{
  g_autofree char *id = NULL;

  write_text (self, "{\"note\":{\"items\":[1]},\"items\":[],\"format\":\"nappe-catalogue\",\"version\":1}");
  /* A note is any text for people, but here the file is not one that is read. */
  id = add (self, NULL);
  g_assert_nonnull (id);
  g_assert_cmpuint (nappe_catalogue_own_parts (self->catalogue)->len, ==, 1);
}

static void
test_broken_file (Fixture *self, gconstpointer data)
{
  const char *const broken[] = {
    "", "{", "[]", HEAD, HEAD "]} {}", "{\"format\":\"other\",\"version\":1,\"items\":[]}",
    "{\"format\":\"nappe-catalogue\",\"version\":2,\"items\":[]}",
    "{\"format\":\"nappe-catalogue\",\"version\":1,\"item\\u0073\":[]}",
  };

  for (guint i = 0; i < G_N_ELEMENTS (broken); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL;

      write_text (self, broken[i]);
      g_assert_null (add (self, &error));
      g_assert_true (error != NULL && error->domain == NAPPE_CATALOGUE_ERROR);
      g_assert_true (g_str_has_prefix (error->message, NAPPE_OWN_PUMPS_FILE));
      text = read_text (self);
      g_assert_cmpstr (text, ==, broken[i]);
    }
}

static void
test_wrong_pumps (Fixture *self, gconstpointer data)
{
  NappeOwnPump good = self->pump;
  g_autofree char *long_name = g_strnfill (NAPPE_OWN_PUMP_TEXT_MAX + 1, 'a');
  const NappeOwnPump wrong[] = {
    { "", "s", good.curve, 1 },         { "two\nlines", "s", good.curve, 1 }, { "\xff", "s", good.curve, 1 },
    { long_name, "s", good.curve, 1 },  { "n", "", good.curve, 1 },           { "n", "s", good.curve, 0 },
    { "n", "s", good.curve, -1 },       { "n", "s", good.curve, 0.0 / 0.0 },  { "n", "s", good.curve, 1e9 },
    { "n", "s", good.curve, 1, 7.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      self->pump = wrong[i];
      g_assert_null (add (self, &error));
      g_assert_true (error != NULL && error->domain == NAPPE_CATALOGUE_ERROR);
      g_assert_cmpint (g_access (self->path, F_OK), !=, 0);
    }
}

static void
test_places (Fixture *self, gconstpointer data)
{
  g_autofree char *below = g_build_filename (self->path, "catalogue", NULL);
  g_autofree char *target = g_build_filename (self->folder, "elsewhere", NULL);
  g_autofree char *id = NULL;
  g_autoptr (GError) error = NULL;
  struct stat status;

  /* Where a file stands there can be no folder. */
  write_text (self, "x");
  g_assert_null (nappe_own_pump_add (below, self->catalogue, &self->pump, &error));
  g_assert_error (error, NAPPE_CATALOGUE_ERROR, NAPPE_CATALOGUE_ERROR_WRITE);
  g_clear_error (&error);
  g_remove (self->path);
  /* A folder or a pipe of the file's name is no file. */
  g_assert_cmpint (mkfifo (self->path, 0600), ==, 0);
  g_assert_null (add (self, &error));
  g_assert_nonnull (error);
  g_remove (self->path);
  /* A link stays one, and the rights of a file stay what they were. */
  g_assert_true (g_file_set_contents (target, HEAD "]}", -1, NULL));
  g_assert_cmpint (g_chmod (target, 0640), ==, 0);
  g_assert_cmpint (symlink ("elsewhere", self->path), ==, 0);
  id = add (self, NULL);
  g_assert_nonnull (id);
  g_assert_true (g_file_test (self->path, G_FILE_TEST_IS_SYMLINK));
  g_assert_cmpint (stat (target, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0640);
}

static void
test_remove (Fixture *self, gconstpointer data)
{
  /* Each of three rows, and then the two that are left. */
  const char *const left[3][3] = { { "b", "c", "a" }, { "a", "c", "b" }, { "a", "b", "c" } };

  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (GError) error = NULL;

      write_text (self, HEAD " " PUMP ("a") ",\n" PUMP ("b") " , " PUMP ("c") "\n]}\n");
      load (self);
      g_assert_true (nappe_own_part_remove (nth (self, i), &error));
      g_assert_no_error (error);
      load (self);
      g_assert_cmpuint (nappe_catalogue_own_parts (self->catalogue)->len, ==, 2);
      g_assert_nonnull (nappe_catalogue_find (self->catalogue, left[i][0]));
      g_assert_nonnull (nappe_catalogue_find (self->catalogue, left[i][1]));
      g_assert_null (nappe_catalogue_find (self->catalogue, left[i][2]));
      g_assert_true (nappe_own_part_remove (nth (self, 1), NULL));
      load (self);
      g_assert_true (nappe_own_part_remove (nth (self, 0), NULL));
      load (self);
      g_assert_cmpuint (nappe_catalogue_own_parts (self->catalogue)->len, ==, 0);
    }
}

/* A file that was changed since it was looked at keeps what it has. */
static void
test_remove_from_changed (Fixture *self, gconstpointer data)
{
  const char *const changed[] = { HEAD "]}", HEAD PUMP ("b") "," PUMP ("a") "]}", HEAD "\n\n" PUMP ("a") "]}", "{" };

  for (guint i = 0; i < G_N_ELEMENTS (changed); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *text = NULL;

      write_text (self, HEAD PUMP ("a") "]}");
      load (self);
      write_text (self, changed[i]);
      g_assert_false (nappe_own_part_remove (nth (self, 0), &error));
      g_assert_nonnull (error);
      text = read_text (self);
      g_assert_cmpstr (text, ==, changed[i]);
    }
}

/* Every row of what is shipped stands where its text says. */
static void
test_spans (Fixture *self, gconstpointer data)
{
  static const char *const files[] = { "pipes.json", "fittings.json", "valves.json", "pumps.json", "equipment.json" };
  g_autofree char *shipped = nappe_catalogue_default_dir ();

  for (guint f = 0; f < G_N_ELEMENTS (files); f++)
    {
      g_autofree char *path = g_build_filename (shipped, files[f], NULL), *text = NULL;
      g_autoptr (GStringChunk) strings = g_string_chunk_new (1024);
      g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (nappe_file_row_free);
      g_autoptr (GArray) spans = NULL;
      NappeTextSpan list;
      gsize length;

      g_assert_true (nappe_catalogue_file_load (path, &text, &length, NULL));
      g_assert_true (nappe_catalogue_text_read (text, length, files[f], strings, rows, NULL));
      spans = nappe_row_spans (text, length, &list);
      g_assert_cmpuint (spans->len, ==, rows->len);
      g_assert_cmpint (text[list.start - 1], ==, '[');
      g_assert_cmpint (text[list.end], ==, ']');
      for (guint i = 0; i < spans->len; i++)
        {
          const NappeTextSpan *span = &g_array_index (spans, NappeTextSpan, i);
          g_autofree char *id = g_strdup_printf ("\"id\": \"%s\"", ((NappeFileRow *) rows->pdata[i])->id);
          g_autofree char *part = g_strndup (text + span->start, span->end - span->start);

          g_assert_true (*part == '{' && g_str_has_suffix (part, "}") && strstr (part, id) != NULL);
        }
    }
}

int
main (int argc, char **argv)
{
#define ADD(name, test) g_test_add ("/catalogue/own-pump/" name, Fixture, NULL, set_up, test, tear_down)
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  ADD ("add", test_add);
  ADD ("add-to-others", test_add_to_others);
  ADD ("add-to-empty-list", test_add_to_empty_list);
  ADD ("broken-file", test_broken_file);
  ADD ("wrong-pumps", test_wrong_pumps);
  ADD ("places", test_places);
  ADD ("remove", test_remove);
  ADD ("remove-from-changed", test_remove_from_changed);
  ADD ("spans", test_spans);
  return g_test_run ();
}

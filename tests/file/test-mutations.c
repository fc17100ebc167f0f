/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damaged files at random: never a crash, always a build or an error with a place; what is accepted
 * can be written and reads back equal. The seed is printed; --seed repeats a run. */
#include "config.h"

#include <string.h>

#include "file/file.h"

static const char *const demos[] = { "three-drain", "two-drain", "single-drain" };

/* Mutations of each demo. With a sanitizer every step is many times slower. */
#ifdef __SANITIZE_ADDRESS__
#define ROUNDS 300
#else
#define ROUNDS 7000
#endif

/* Bytes and words at which readers tend to stumble. */
static const char *const shards[] = {
  "{", "}", "[", "]", ",", ":", "\"", "\\", "\\u0000", "\\ud800", "null", "true", "-", "-1", "0", "1e999", "1e-999",
  "99999999999999999999", "0.1", "{}", "[]", "\"\"", "\n", "\xff", "\xc3", "\"id\": \"tank\"", "\"run\": [", "e", ".",
};

static void
flip_byte (GString *text)
{
  const gint32 place = g_test_rand_int_range (0, (gint32) text->len);

  text->str[place] = (char) (text->str[place] ^ (1 << g_test_rand_int_range (0, 8)));
}

static void
change_byte (GString *text)
{
  text->str[g_test_rand_int_range (0, (gint32) text->len)] = (char) g_test_rand_int_range (32, 127);
}

static void
change_digit (GString *text)
{
  for (gint32 i = g_test_rand_int_range (0, (gint32) text->len); i < (gint32) text->len; i++)
    if (g_ascii_isdigit (text->str[i]))
      {
        text->str[i] = (char) g_test_rand_int_range ('0', '9' + 1);
        return;
      }
}

static void
delete_stretch (GString *text)
{
  const gint32 start = g_test_rand_int_range (0, (gint32) text->len);
  const gint32 most = MIN ((gint32) text->len - start, 40);

  g_string_erase (text, start, g_test_rand_int_range (0, most + 1));
}

static void
cut_end (GString *text)
{
  g_string_truncate (text, (gsize) g_test_rand_int_range (0, (gint32) text->len));
}

static void
insert_shard (GString *text)
{
  g_string_insert (text, g_test_rand_int_range (0, (gint32) text->len),
                   shards[g_test_rand_int_range (0, G_N_ELEMENTS (shards))]);
}

/* Puts a copy of one stretch elsewhere. */
static void
splice (GString *text)
{
  const gint32 start = g_test_rand_int_range (0, (gint32) text->len);
  const gint32 length = g_test_rand_int_range (0, MIN ((gint32) text->len - start, 200) + 1);
  g_autofree char *stretch = g_strndup (text->str + start, (gsize) length);

  g_string_insert_len (text, g_test_rand_int_range (0, (gint32) text->len), stretch, length);
}

/* Deletes a whole line, or writes it twice. */
static void
change_line (GString *text)
{
  char *start = text->str + g_test_rand_int_range (0, (gint32) text->len);
  char *end;

  while (start > text->str && start[-1] != '\n')
    start--;
  end = strchr (start, '\n');
  if (end == NULL)
    return;
  if (g_test_rand_bit ())
    g_string_erase (text, start - text->str, end + 1 - start);
  else
    {
      g_autofree char *line = g_strndup (start, (gsize) (end + 1 - start));
      g_string_insert (text, start - text->str, line);
    }
}

static void
mutate (GString *text)
{
  static void (*const mutations[]) (GString *) = { flip_byte, change_byte,  change_digit, delete_stretch,
                                                   cut_end,   insert_shard, splice,       change_line };
  const gint32 times = g_test_rand_int_range (1, 4);

  for (gint32 i = 0; i < times && text->len > 0; i++)
    mutations[g_test_rand_int_range (0, G_N_ELEMENTS (mutations))](text);
}

static void
assert_survives (NappeBuild *build)
{
  g_autoptr (GError) error = NULL;
  gsize length;
  g_autofree char *text = nappe_file_write_text (build, &length);
  g_autoptr (NappeBuild) back = nappe_file_read_text (text, length, "again", &error);
  g_autofree char *again = NULL;

  g_assert_no_error (error);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (back)));
  again = nappe_file_write_text (back, NULL);
  g_assert_cmpstr (again, ==, text);
}

static void
test_mutations (gconstpointer demo)
{
  g_autofree char *base = g_strconcat (demo, ".nappe", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", base, NULL);
  g_autofree char *sound = NULL;
  guint accepted = 0;

  g_assert_true (g_file_get_contents (path, &sound, NULL, NULL));
  for (int round = 0; round < ROUNDS; round++)
    {
      GString *text = g_string_new (sound);
      g_autoptr (NappeBuild) build = NULL;
      g_autoptr (GError) error = NULL;

      mutate (text);
      build = nappe_file_read_text (text->str, text->len, "text", &error);
      g_assert_true ((build != NULL) == (error == NULL));
      if (build != NULL)
        {
          assert_survives (build);
          accepted++;
        }
      else
        {
          g_assert_cmpuint (error->domain, ==, NAPPE_FILE_ERROR);
          g_assert_true (g_str_has_prefix (error->message, "text:"));
          g_assert_true (g_utf8_validate (error->message, -1, NULL));
        }
      g_string_free (text, TRUE);
    }
  g_test_message ("%u of %d damaged texts were still builds", accepted, ROUNDS);
  g_assert_cmpuint (accepted, >, ROUNDS / 100);
  g_assert_cmpuint (accepted, <, ROUNDS);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autofree char *path = g_strconcat ("/mutations/", demos[i], NULL);
      g_test_add_data_func (path, demos[i], test_mutations);
    }
  return g_test_run ();
}

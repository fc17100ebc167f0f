/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The undo stack as a table: a row of commands, and the state after each. The document is a text to
 * which every change adds one letter. */
#include "config.h"

#include <string.h>

#include "build/history.h"

typedef struct
{
  NappeChange base;
  char letter;
} LetterChange;

static void
add_letter (NappeChange *change, gpointer document)
{
  g_string_append_c (document, ((LetterChange *) change)->letter);
}

static void
take_letter (NappeChange *change, gpointer document)
{
  GString *text = document;

  g_assert_cmpint (text->str[text->len - 1], ==, ((LetterChange *) change)->letter);
  g_string_truncate (text, text->len - 1);
}

static void
free_letter (NappeChange *change)
{
  g_free (change);
}

static NappeChange *
letter_change (char letter)
{
  LetterChange *change = g_new0 (LetterChange, 1);

  change->base = (NappeChange){ add_letter, take_letter, free_letter };
  change->letter = letter;
  return &change->base;
}

/* Commands: ( begin, ) commit, X roll back, U undo, R redo, S mark saved, a–z a change.
 * The step's label is the count of begins so far. */
typedef struct
{
  const char *name;
  const char *commands;
  const char *text;       /* of the document afterwards */
  int commits;            /* that changed something */
  const char *undo, *redo; /* labels afterwards, or NULL */
  gboolean modified;
} Row;

static const Row rows[] = {
  { "nothing", "", "", 0, NULL, NULL, FALSE },
  { "one-step", "(a)", "a", 1, "1", NULL, TRUE },
  { "two-changes-one-step", "(ab)", "ab", 1, "1", NULL, TRUE },
  { "empty-step", "()", "", 0, NULL, NULL, FALSE },
  { "empty-nested", "(())", "", 0, NULL, NULL, FALSE },
  { "undo", "(a)(b)U", "a", 2, "1", "2", TRUE },
  { "undo-all", "(a)(b)UU", "", 2, NULL, "1", FALSE },
  { "undo-beyond", "(a)UU", "", 1, NULL, "1", FALSE },
  { "redo", "(a)(b)UUR", "a", 2, "1", "2", TRUE },
  { "redo-all", "(ab)(c)UURR", "abc", 2, "2", NULL, TRUE },
  { "redo-beyond", "(a)URR", "a", 1, "1", NULL, TRUE },
  { "new-step-drops-redo", "(a)(b)U(c)", "ac", 3, "3", NULL, TRUE },
  { "new-step-then-undo", "(a)(b)U(c)UU", "", 3, NULL, "1", FALSE },
  { "nested-is-one", "(a(b)c)", "abc", 1, "1", NULL, TRUE },
  { "nested-undo", "(a(b)c)U", "", 1, NULL, "1", FALSE },
  { "nested-deep", "(((a)))", "a", 1, "1", NULL, TRUE },
  { "no-undo-while-open", "(a)(bU)", "ab", 2, "2", NULL, TRUE },
  { "no-redo-while-open", "(a)U(R", "", 1, NULL, "1", FALSE },
  { "roll-back", "(aX", "", 0, NULL, NULL, FALSE },
  { "roll-back-keeps-earlier", "(a)(bcX", "a", 1, "1", NULL, TRUE },
  { "roll-back-keeps-redo", "(a)U(bX", "", 1, NULL, "1", FALSE },
  { "roll-back-inner", "(a(bX)", "", 0, NULL, NULL, FALSE },
  { "roll-back-inner-then-more", "(a(bXc)", "", 0, NULL, NULL, FALSE },
  { "roll-back-inner-and-outer", "(a(bXcX", "", 0, NULL, NULL, FALSE },
  { "roll-back-then-new", "(a(bX)(c)", "c", 1, "3", NULL, TRUE },
  { "empty-step-keeps-redo", "(a)U()", "", 1, NULL, "1", FALSE },
  { "saved", "(a)S", "a", 1, "1", NULL, FALSE },
  { "saved-then-undo", "(a)SU", "", 1, NULL, "1", TRUE },
  { "saved-undo-redo", "(a)SUR", "a", 1, "1", NULL, FALSE },
  { "saved-state-lost", "(a)SU(a)", "a", 2, "2", NULL, TRUE },
  { "saved-at-start", "S(a)U", "", 1, NULL, "1", FALSE },
  { "saved-middle", "(a)(b)S(c)UU", "a", 3, "1", "2", TRUE },
  { "saved-middle-back", "(a)(b)S(c)UUR", "ab", 3, "2", "3", FALSE },
};

static int
run_command (NappeHistory *history, char command, guint *begins)
{
  g_autofree char *label = NULL;

  switch (command)
    {
    case '(':
      label = g_strdup_printf ("%u", ++*begins);
      nappe_history_begin (history, label);
      return 0;
    case ')': return nappe_history_commit (history) ? 1 : 0;
    case 'X': nappe_history_roll_back (history); return 0;
    case 'U': nappe_history_undo (history); return 0;
    case 'R': nappe_history_redo (history); return 0;
    case 'S': nappe_history_mark_saved (history); return 0;
    default: nappe_history_do (history, letter_change (command)); return 0;
    }
}

static void
test_row (gconstpointer data)
{
  const Row *row = data;
  GString *text = g_string_new (NULL);
  NappeHistory *history = nappe_history_new (text);
  guint begins = 0;
  int commits = 0;

  for (const char *command = row->commands; *command != '\0'; command++)
    commits += run_command (history, *command, &begins);
  g_assert_cmpstr (text->str, ==, row->text);
  g_assert_cmpint (commits, ==, row->commits);
  g_assert_cmpstr (nappe_history_undo_label (history), ==, row->undo);
  g_assert_cmpstr (nappe_history_redo_label (history), ==, row->redo);
  g_assert_cmpint (nappe_history_is_modified (history), ==, row->modified);
  nappe_history_free (history);
  g_string_free (text, TRUE);
}

/* The oldest steps are forgotten, and what was saved before them is no state to come back to. */
static void
test_limit (void)
{
  GString *text = g_string_new (NULL);
  NappeHistory *history = nappe_history_new (text);
  guint undone = 0;

  for (int i = 0; i < NAPPE_HISTORY_STEPS_MAX + 3; i++)
    {
      nappe_history_begin (history, "step");
      nappe_history_do (history, letter_change ('a'));
      g_assert_true (nappe_history_commit (history));
    }
  while (nappe_history_undo (history))
    undone++;
  g_assert_cmpuint (undone, ==, NAPPE_HISTORY_STEPS_MAX);
  g_assert_cmpuint (text->len, ==, 3);
  g_assert_true (nappe_history_is_modified (history));
  nappe_history_mark_saved (history);
  g_assert_false (nappe_history_is_modified (history));
  nappe_history_free (history);
  g_string_free (text, TRUE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *path = g_strconcat ("/history/", rows[i].name, NULL);
      g_test_add_data_func (path, &rows[i], test_row);
    }
  g_test_add_func ("/history/limit", test_limit);
  return g_test_run ();
}

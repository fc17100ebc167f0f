/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe check` */
#include <glib/gi18n-lib.h>

#include "command/part-working.h"
#include "command/report.h"

#define WORKING "--working"

/* The part whose working is wanted: "--working=PART", or the word that follows "--working" when it is not the file.
 * --working alone is a flag, so that `nappe check --working FILE` means what it says. */
typedef struct
{
  char *joined;   /* behind the sign of equality; NULL: none */
  char *follower; /* the argument after the option; NULL: none */
} WorkingPart;

static void
working_part_clear (WorkingPart *self)
{
  g_free (self->joined);
  g_free (self->follower);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WorkingPart, working_part_clear)

/* Leaves the plain flag in the arguments, for the parser. */
static void
take_working_part (char **arguments, WorkingPart *part)
{
  for (char **argument = arguments; *argument != NULL && !g_str_equal (*argument, "--"); argument++)
    {
      if (g_str_has_prefix (*argument, WORKING "="))
        {
          g_free (part->joined);
          part->joined = g_strdup (*argument + sizeof WORKING);
          (*argument)[sizeof WORKING - 1] = '\0';
        }
      else if (g_str_equal (*argument, WORKING) || g_str_equal (*argument, "-w"))
        {
          g_free (part->follower);
          part->follower = g_strdup (argument[1]);
        }
    }
}

/* Sorts the words left into part (NULL: none) and file. FALSE after a complaint. */
static gboolean
read_words (char **words, const WorkingPart *given, const char **part, const char **file)
{
  guint n = g_strv_length (words);

  *part = given->joined;
  *file = n == 1 ? words[0] : NULL;
  if (n == 2 && given->joined == NULL && given->follower != NULL)
    for (guint i = 0; i < 2 && *file == NULL; i++)
      if (g_str_equal (words[i], given->follower))
        {
          *part = words[i];
          *file = words[1 - i];
        }
  if (*file == NULL)
    nappe_complain (_("“nappe check” wants one build file, or “-” for standard input"));
  return *file != NULL;
}

static char *
part_text (NappeCase *opened, const char *word, gboolean json)
{
  const char *part = nappe_part_working_id (opened, word);

  if (part == NULL)
    {
      /* Translators: the word “build” is typed as it stands. */
      nappe_complain (_("%s has no part “%s”; “build” stands for the whole of it"), opened->name, word);
      return NULL;
    }
  return json ? nappe_part_working_json (opened, part) : nappe_part_working_text (opened, part);
}

NappeExit
nappe_command_check (char **arguments)
{
  gboolean json = FALSE, quick = FALSE;
  g_autofree char *units_text = NULL;
  NappeReportOptions options = { FALSE, FALSE };
  const GOptionEntry entries[] = {
    { "json", 'j', 0, G_OPTION_ARG_NONE, &json, N_("Print JSON for other programs"), NULL },
    { "all", 'a', 0, G_OPTION_ARG_NONE, &options.all, N_("Also list what was checked and is fine"), NULL },
    { "working", 'w', 0, G_OPTION_ARG_NONE, &options.working,
      N_("Show how each number was worked out; with =PART all numbers of a part alone"), NULL },
    { "quick", 'q', 0, G_OPTION_ARG_NONE, &quick, N_("Leave out what must be played in time"), NULL },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &units_text, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };
  g_auto (GStrv) own = g_strdupv (arguments), words = NULL;
  g_auto (WorkingPart) working = { NULL, NULL };
  const char *part, *file;
  NappeUnitsOption units;
  g_autoptr (NappeCase) opened = NULL;
  g_autofree char *text = NULL;

  take_working_part (own, &working);
  if (!nappe_options_read ("check", _("[PART] FILE"), _("Says what is wrong with a build, why, and what would cure it."),
                           entries, own, &words)
      || !nappe_units_option_read (&units, units_text) || !read_words (words, &working, &part, &file))
    return NAPPE_EXIT_USAGE;
  opened = nappe_case_open (file, &units);
  if (opened == NULL)
    return NAPPE_EXIT_FILE;
  nappe_case_add_results (opened);
  if (!quick && part == NULL)
    nappe_case_play (opened);
  if (part != NULL)
    text = part_text (opened, part, json);
  else
    text = json ? nappe_report_json (opened, &options) : nappe_report_text (opened, &options);
  if (text == NULL)
    return NAPPE_EXIT_USAGE;
  return nappe_write_out (text) ? nappe_case_exit (opened) : NAPPE_EXIT_FILE;
}

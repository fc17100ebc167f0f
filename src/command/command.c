/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/command.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

void
nappe_complain (const char *format, ...)
{
  va_list arguments;
  g_autofree char *text = NULL;

  va_start (arguments, format);
  text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_strdelimit (g_strchomp (text), "\r\n", ' ');
  fprintf (stderr, "nappe: %s\n", text);
}

gboolean
nappe_write_out (const char *text)
{
  gsize length = strlen (text);

  if (fwrite (text, 1, length, stdout) == length && fflush (stdout) == 0)
    return TRUE;
  nappe_complain (_("cannot write to standard output: %s"), g_strerror (errno));
  return FALSE;
}

gboolean
nappe_units_option_read (NappeUnitsOption *option, const char *text)
{
  option->given = text != NULL;
  option->system = NAPPE_UNITS_METRIC;
  if (text == NULL || strcmp (text, "metric") == 0)
    return TRUE;
  option->system = NAPPE_UNITS_US;
  if (strcmp (text, "us") == 0)
    return TRUE;
  /* Translators: do not translate “metric” and “us”: they are typed as they stand. */
  nappe_complain (_("“%s” are no units known here; there are “metric” and “us”"), text);
  return FALSE;
}

gboolean
nappe_options_read (const char *name, const char *parameters, const char *summary,
                    const GOptionEntry *entries, char **arguments, char ***words)
{
  g_autoptr (GOptionContext) context = g_option_context_new (parameters);
  g_autofree char *program = g_strdup_printf ("nappe %s", name);
  g_auto (GStrv) rest = g_strdupv (arguments);
  g_autoptr (GError) error = NULL;

  /* The usage line begins with the program's name. */
  g_set_prgname (program);
  g_option_context_set_summary (context, summary);
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  if (!g_option_context_parse_strv (context, &rest, &error))
    {
      nappe_complain (_("%s; “nappe help %s” lists the options"), error->message, name);
      return FALSE;
    }
  /* The parser leaves the "--" standing before words that look like options. */
  *words = g_strdupv (g_strcmp0 (rest[1], "--") == 0 ? rest + 2 : rest + 1);
  return TRUE;
}

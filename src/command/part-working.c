/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/part-working.h"

#include <glib/gi18n-lib.h>

#include "command/result-json.h"
#include "command/text-table.h"
#include "config.h"

#define INDENT 6u
#define WIDTH 96u
#define WORKING_VERSION 1u

const char *
nappe_part_working_id (const NappeCase *self, const char *word)
{
  if (*word != '\0'
      && (nappe_build_find (self->build, word) != NULL || nappe_network_find_node (self->study->network, word) >= 0))
    return word;
  return g_str_equal (word, NAPPE_WHOLE_BUILD) ? "" : NULL;
}

char *
nappe_part_working_text (const NappeCase *self, const char *part)
{
  g_autoptr (GPtrArray) results = nappe_case_results (self, part);
  g_autofree char *name = nappe_case_name (self, part);
  GString *text = g_string_new (NULL);
  guint n = 0;

  g_string_append_printf (text, "%s\n", name);
  for (guint i = 0; i < results->len; i++)
    {
      const NappeResult *result = g_ptr_array_index (results, i);
      g_autofree char *value = nappe_result_text (result, self->units);
      g_autofree char *working = nappe_result_working_text (result, self->units);

      if (!nappe_result_is_known (result))
        continue;
      n++;
      g_string_append_c (text, '\n');
      /* Translators: a number of a part: what it is, then its value: “Flow: 2 990 L/h (2 700–3 250)”. */
      g_string_append_printf (text, _("  %s: %s\n"), result->label, value);
      nappe_text_wrap (working, INDENT, WIDTH, text);
    }
  if (n == 0)
    g_string_append_printf (text, "\n  %s\n", _("Nothing is computed about this part."));
  return g_string_free (text, FALSE);
}

char *
nappe_part_working_json (const NappeCase *self, const char *part)
{
  g_autoptr (GPtrArray) results = nappe_case_results (self, part);
  g_autofree char *name = nappe_case_name (self, part);
  NappeJsonWriter json;

  nappe_json_writer_init (&json);
  nappe_json_open (&json, NULL, '{');
  nappe_json_text (&json, "format", "nappe-working");
  nappe_json_count (&json, "version", WORKING_VERSION);
  nappe_json_text (&json, "program", NAPPE_VERSION);
  nappe_json_text (&json, "file", self->name);
  nappe_json_text (&json, "part", part);
  nappe_json_text (&json, "name", name);
  nappe_json_worked_results (&json, "results", results);
  nappe_json_close (&json, '}');
  return nappe_json_writer_end (&json);
}

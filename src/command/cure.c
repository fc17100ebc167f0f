/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe cure` */
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "command/case.h"
#include "command/json-writer.h"
#include "command/text-table.h"
#include "cures/cure.h"
#include "file/file.h"
#include "results/part-words.h"

#define INDENT 3u
#define DEEPER 8u
#define WIDTH 96u
/* Cures applied one after another at the most: each clears a finding for good, so that more would be a mistake. */
#define MOST_ROUNDS 100

/* The command line as typed. */
typedef struct
{
  gboolean json, quick, every;
  int finding; /* 0: all */
  char *units, *apply, *output;
} Typed;

static void
typed_clear (Typed *self)
{
  g_free (self->units);
  g_free (self->apply);
  g_free (self->output);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Typed, typed_clear)

/* "2.1": the first cure of the second finding. */
typedef struct
{
  guint finding, cure; /* from 1; 0: none asked for */
} Choice;

static gboolean
read_choice (const Typed *typed, Choice *choice)
{
  char end;

  choice->finding = choice->cure = 0;
  if (typed->apply != NULL
      && (sscanf (typed->apply, "%6u.%6u%c", &choice->finding, &choice->cure, &end) != 2 || choice->finding == 0
          || choice->cure == 0))
    nappe_complain (_("--apply: “%s” is no cure such as 1.1"), typed->apply);
  else if (typed->apply != NULL && typed->every)
    nappe_complain (_("--apply and --every exclude each other"));
  else if ((typed->apply != NULL || typed->every) != (typed->output != NULL))
    nappe_complain (_("--output goes with --apply or --every, and each of them wants it"));
  else if (typed->output != NULL && typed->json)
    nappe_complain (_("--json lists cures; it does not go with --output"));
  else if (typed->finding < 0)
    nappe_complain (_("--finding: findings are numbered from 1"));
  else
    return TRUE;
  return FALSE;
}

static NappeCureSearch *
search_new (const NappeCase *opened, gboolean quick)
{
  double evaporation = opened->heat != NULL ? opened->heat->evaporation : 0;
  return nappe_cure_search_new (opened->build, opened->catalogue, opened->verdict, opened->units, !quick, evaporation);
}

static void
append_heading (const NappeCase *opened, GString *text, NappeFinding *finding)
{
  const char *part = nappe_finding_get_part (finding);

  g_string_append_printf (text, "%4u  %s: %s", nappe_finding_get_number (finding),
                          nappe_severity_label (nappe_finding_get_severity (finding)),
                          nappe_finding_get_title (finding));
  if (*part != '\0')
    {
      g_autofree char *caption = nappe_part_caption (opened->build, part);
      g_string_append_printf (text, " (%s)", caption);
    }
  g_string_append_c (text, '\n');
}

static void
append_cures (GString *text, NappeFinding *finding, const GPtrArray *cures)
{
  for (guint i = 0; i < cures->len; i++)
    {
      const NappeCure *cure = cures->pdata[i];
      g_autofree char *line = g_strdup_printf ("%u.%u  %s", nappe_finding_get_number (finding), i + 1, cure->label);
      nappe_text_wrap (line, INDENT, WIDTH, text);
      nappe_text_wrap (cure->effect, DEEPER, WIDTH, text);
    }
  if (cures->len > 0)
    return;
  nappe_text_wrap (_("No change of one or two values was found that clears it and raises nothing else."), DEEPER,
                   WIDTH, text);
  nappe_text_wrap (nappe_finding_get_remedy (finding), DEEPER, WIDTH, text);
}

/* A value before or after; the key takes the unit of a number. */
static void
add_value (NappeJsonWriter *json, const char *key, const NappeField *field, const GValue *value)
{
  g_auto (GValue) text = G_VALUE_INIT;

  if (field->type == NAPPE_FIELD_NUMBER)
    nappe_json_quantity (json, key, field->quantity, g_value_get_double (value));
  else if (field->type == NAPPE_FIELD_CHOICE)
    nappe_json_text (json, key, field->choices[g_value_get_int (value)].nick);
  else
    {
      g_value_init (&text, G_TYPE_STRING);
      nappe_json_text (json, key, g_value_transform (value, &text) ? g_value_get_string (&text) : NULL);
    }
}

static void
add_cure (NappeJsonWriter *json, const NappeCure *cure)
{
  nappe_json_open (json, NULL, '{');
  nappe_json_text (json, "label", cure->label);
  nappe_json_text (json, "effect", cure->effect);
  nappe_json_open (json, "changes", '[');
  for (guint i = 0; i < cure->changes->len; i++)
    {
      const NappeCureChange *change = &g_array_index (cure->changes, NappeCureChange, i);
      const NappeField *field = nappe_part_find_field (nappe_build_find (cure->build, change->part), change->field);
      nappe_json_open (json, NULL, '{');
      nappe_json_text (json, "part", change->part);
      nappe_json_text (json, "field", change->field);
      add_value (json, "before", field, &change->before);
      add_value (json, "after", field, &change->after);
      nappe_json_close (json, '}');
    }
  nappe_json_close (json, ']');
  nappe_json_close (json, '}');
}

static void
add_finding (NappeJsonWriter *json, NappeFinding *finding, const GPtrArray *cures)
{
  nappe_json_open (json, NULL, '{');
  nappe_json_count (json, "number", nappe_finding_get_number (finding));
  nappe_json_text (json, "rule", nappe_finding_get_rule (finding));
  nappe_json_text (json, "severity", nappe_severity_nick (nappe_finding_get_severity (finding)));
  nappe_json_text (json, "part", nappe_finding_get_part (finding));
  nappe_json_text (json, "title", nappe_finding_get_title (finding));
  nappe_json_open (json, "cures", '[');
  for (guint i = 0; i < cures->len; i++)
    add_cure (json, cures->pdata[i]);
  nappe_json_close (json, ']');
  nappe_json_close (json, '}');
}

/* Lists the cures of one finding (0: of all), as text or JSON. */
static NappeExit
list_cures (const NappeCase *opened, const Typed *typed)
{
  const GPtrArray *findings = opened->verdict->findings;
  g_autoptr (NappeCureSearch) search = search_new (opened, typed->quick);
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *all = NULL;
  NappeJsonWriter json;

  nappe_json_writer_init (&json);
  nappe_json_open (&json, NULL, '[');
  for (guint i = 0; i < findings->len; i++)
    {
      NappeFinding *finding = findings->pdata[i];
      if (typed->finding != 0 && nappe_finding_get_number (finding) != (guint)typed->finding)
        continue;
      g_autoptr (GPtrArray) cures = nappe_cure_search_run (search, finding, NULL);
      append_heading (opened, text, finding);
      append_cures (text, finding, cures);
      add_finding (&json, finding, cures);
    }
  nappe_json_close (&json, ']');
  all = nappe_json_writer_end (&json);
  if (findings->len == 0)
    g_string_append_printf (text, "%s\n", _("Nothing to say against this build"));
  return nappe_write_out (typed->json ? all : text->str) ? nappe_case_exit (opened) : NAPPE_EXIT_FILE;
}

/* Puts a cure into the build and says so. */
static gboolean
apply (NappeCase *opened, const NappeCure *cure, GString *told)
{
  g_autoptr (GError) error = NULL;

  if (!nappe_cure_apply (cure, opened->build, &error))
    {
      nappe_complain ("%s", error->message);
      return FALSE;
    }
  nappe_text_wrap (cure->label, INDENT, WIDTH, told);
  nappe_text_wrap (cure->effect, DEEPER, WIDTH, told);
  return TRUE;
}

static gboolean
apply_chosen (NappeCase *opened, const Typed *typed, const Choice *choice, GString *told)
{
  g_autoptr (NappeCureSearch) search = search_new (opened, typed->quick);
  g_autoptr (GPtrArray) cures = NULL;

  if (choice->finding <= opened->verdict->findings->len)
    cures = nappe_cure_search_run (search, opened->verdict->findings->pdata[choice->finding - 1], NULL);
  if (cures != NULL && choice->cure <= cures->len)
    return apply (opened, cures->pdata[choice->cure - 1], told);
  nappe_complain (_("--apply: there is no cure %s; “nappe cure” lists them"), typed->apply);
  return FALSE;
}

/* The first cure of the first finding that has any, worst first. NULL: there is none. */
static NappeCure *
next_cure (const NappeCase *opened, const Typed *typed)
{
  const GPtrArray *findings = opened->verdict->findings;
  g_autoptr (NappeCureSearch) search = search_new (opened, typed->quick);

  for (guint i = 0; i < findings->len; i++)
    {
      g_autoptr (GPtrArray) cures = nappe_cure_search_run (search, findings->pdata[i], NULL);
      if (cures->len > 0)
        return nappe_cure_ref (cures->pdata[0]);
    }
  return NULL;
}

static gboolean
apply_every (NappeCase *opened, const Typed *typed, GString *told)
{
  for (guint round = 0; round < MOST_ROUNDS; round++)
    {
      g_autoptr (NappeCure) cure = next_cure (opened, typed);
      if (cure == NULL)
        return TRUE;
      if (!apply (opened, cure, told))
        return FALSE;
      nappe_case_judge_again (opened, !typed->quick);
    }
  return TRUE;
}

static NappeExit
write_cured (NappeCase *opened, const Typed *typed, const Choice *choice)
{
  g_autoptr (GString) told = g_string_new (NULL);
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (typed->output);
  g_autoptr (GError) error = NULL;

  if (!(typed->every ? apply_every (opened, typed, told) : apply_chosen (opened, typed, choice, told)))
    return NAPPE_EXIT_USAGE;
  if (!typed->every)
    nappe_case_judge_again (opened, !typed->quick);
  if (!nappe_file_write (opened->build, file, NULL, &error))
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_FILE;
    }
  g_autofree char *shown = g_filename_display_name (typed->output);
  g_string_append_printf (told, _("Wrote %s\n"), shown);
  return nappe_write_out (told->str) ? nappe_case_exit (opened) : NAPPE_EXIT_FILE;
}

NappeExit
nappe_command_cure (char **arguments)
{
  g_auto (Typed) typed = { 0 };
  const GOptionEntry entries[] = {
    { "finding", 'f', 0, G_OPTION_ARG_INT, &typed.finding, N_("Only the finding of this number"), N_("NUMBER") },
    { "apply", 0, 0, G_OPTION_ARG_STRING, &typed.apply, N_("Put in one cure, such as 1.1; wants --output"), N_("CURE") },
    { "every", 0, 0, G_OPTION_ARG_NONE, &typed.every,
      N_("Put in the first cure of one finding after another until none is left; wants --output"), NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &typed.output, N_("Build file to write the cured build to"), N_("FILE") },
    { "quick", 'q', 0, G_OPTION_ARG_NONE, &typed.quick, N_("Leave out what must be played in time"), NULL },
    { "json", 'j', 0, G_OPTION_ARG_NONE, &typed.json, N_("Print JSON for other programs"), NULL },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &typed.units, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };
  g_auto (GStrv) words = NULL;
  g_autoptr (NappeCase) opened = NULL;
  NappeUnitsOption units;
  Choice choice;

  if (!nappe_options_read ("cure", _("FILE"),
                           _("Finds the smallest changes that clear a build’s findings, and puts them in."), entries,
                           arguments, &words)
      || !nappe_units_option_read (&units, typed.units) || !read_choice (&typed, &choice))
    return NAPPE_EXIT_USAGE;
  if (g_strv_length (words) != 1)
    {
      nappe_complain (_("“nappe cure” wants one build file, or “-” for standard input"));
      return NAPPE_EXIT_USAGE;
    }
  opened = nappe_case_open (words[0], &units);
  if (opened == NULL)
    return NAPPE_EXIT_FILE;
  if (!typed.quick)
    nappe_case_play (opened);
  return typed.output != NULL ? write_cured (opened, &typed, &choice) : list_cures (opened, &typed);
}

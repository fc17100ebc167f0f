/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe what-if` */
#include "command/what-if.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The options, by NappeChangeKind. */
#define N_KINDS (NAPPE_CHANGE_LOAD + 1)

typedef struct
{
  char **given[N_KINDS]; /* "ID=SHARE" each; NULL: none */
} ChangeOptions;

static void
change_options_clear (ChangeOptions *self)
{
  for (gsize i = 0; i < N_KINDS; i++)
    g_strfreev (self->given[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (ChangeOptions, change_options_clear)

/* Wear is asked for as what it has taken and counted as what it has left. */
double
nappe_what_if_share (const NappeScenarioChange *change)
{
  return change->kind == NAPPE_CHANGE_WEAR ? 1.0 - change->value : change->value;
}

/* A share with its unit. A bare number could mean a share or per cent, a hundred times less: it is refused. */
static gboolean
read_share (const char *text, double *share)
{
  g_autoptr (GError) error = NULL;

  if (strpbrk (text, "0123456789") != NULL && strchr (text, '%') == NULL && strstr (text, "percent") == NULL)
    {
      /* Translators: what was typed could be 0.5 or 0.5 %. */
      nappe_complain (_("“%s” can be read in two ways; write it in per cent, such as 50%%"), text);
      return FALSE;
    }
  if (nappe_quantity_parse (NAPPE_QUANTITY_SHARE, text, NAPPE_UNITS_METRIC, share, &error))
    return TRUE;
  nappe_complain ("%s", error->message);
  return FALSE;
}

/* Reads "siphon=50%". FALSE after a complaint. */
static gboolean
read_change (const char *text, NappeChangeKind kind, NappeScenarioChange *change)
{
  const char *equals = strchr (text, '=');
  double share;

  if (equals == NULL || equals == text || (gsize) (equals - text) > NAPPE_PART_ID_MAX)
    {
      nappe_complain (_("--%s wants the id of a part and a share, such as siphon=50%%, not “%s”"),
                      nappe_change_nick (kind), text);
      return FALSE;
    }
  if (!read_share (equals + 1, &share))
    return FALSE;
  if (!(share >= 0.0 && share <= 1.0))
    {
      nappe_complain (_("“%s” does not lie between 0%% and 100%%"), text);
      return FALSE;
    }
  *change = (NappeScenarioChange) { .kind = kind, .value = share };
  memcpy (change->part, text, (gsize) (equals - text));
  change->value = nappe_what_if_share (change);
  return TRUE;
}

/* NULL after a complaint. */
static GArray *
read_changes (const ChangeOptions *options)
{
  g_autoptr (GArray) changes = g_array_new (FALSE, FALSE, sizeof (NappeScenarioChange));

  for (int kind = 0; kind < N_KINDS; kind++)
    for (char **text = options->given[kind]; text != NULL && *text != NULL; text++)
      {
        NappeScenarioChange change;

        if (!read_change (*text, (NappeChangeKind) kind, &change))
          return NULL;
        g_array_append_val (changes, change);
      }
  if (changes->len > 0)
    return g_steal_pointer (&changes);
  nappe_complain (_("say what is changed; “nappe help what-if” lists the options"));
  return NULL;
}

static NappeExit
exit_of (const NappeScenario *scenario)
{
  if (scenario->outcome.floods)
    return NAPPE_EXIT_DANGER;
  return scenario->outcome.state.rest == NAPPE_REST_FOUND ? NAPPE_EXIT_FINE : NAPPE_EXIT_PROBLEM;
}

static NappeExit
answer (const char *path, const NappeUnitsOption *units, const GArray *changes, gboolean json)
{
  g_autoptr (NappeCase) opened = nappe_case_open (path, units);
  g_autoptr (NappeScenario) scenario = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (opened == NULL)
    return NAPPE_EXIT_FILE;
  scenario = nappe_scenario_new (opened->study, (const NappeScenarioChange *) (const void *) changes->data, changes->len,
                                 &error);
  if (scenario == NULL)
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_USAGE;
    }
  text = json ? nappe_what_if_json (opened, scenario, changes) : nappe_what_if_text (opened, scenario, changes);
  return nappe_write_out (text) ? exit_of (scenario) : NAPPE_EXIT_FILE;
}

NappeExit
nappe_command_what_if (char **arguments)
{
  gboolean json = FALSE;
  g_autofree char *units_text = NULL;
  g_auto (ChangeOptions) options = { { NULL } };
  const char *value = N_("ID=SHARE");
  const GOptionEntry entries[] = {
    { "block", 'b', 0, G_OPTION_ARG_STRING_ARRAY, &options.given[NAPPE_CHANGE_BLOCK],
      N_("Block a share of a drain's inlet or of a weir"), value },
    { "block-joint", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.given[NAPPE_CHANGE_BLOCK_JOINT],
      N_("Block a share of what joins the boxes of an overflow"), value },
    { "opening", 'o', 0, G_OPTION_ARG_STRING_ARRAY, &options.given[NAPPE_CHANGE_OPENING],
      N_("Open a valve, or the first of a drain, to a share"), value },
    { "speed", 's', 0, G_OPTION_ARG_STRING_ARRAY, &options.given[NAPPE_CHANGE_SPEED],
      N_("Run a pump at a share of its full speed; 0% stops it"), value },
    { "wear", 0, 0, G_OPTION_ARG_STRING_ARRAY, &options.given[NAPPE_CHANGE_WEAR],
      N_("Let wear take a share of a pump's head"), value },
    { "load", 'l', 0, G_OPTION_ARG_STRING_ARRAY, &options.given[NAPPE_CHANGE_LOAD],
      N_("Close a share of a filter sock's cloth"), value },
    { "json", 'j', 0, G_OPTION_ARG_NONE, &json, N_("Print JSON for other programs"), NULL },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &units_text, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };
  g_auto (GStrv) words = NULL;
  g_autoptr (GArray) changes = NULL;
  NappeUnitsOption units;

  if (!nappe_options_read ("what-if", _("FILE"),
                           _("Says where the water goes when something is blocked, turned, slowed or worn while it runs."),
                           entries, arguments, &words)
      || !nappe_units_option_read (&units, units_text))
    return NAPPE_EXIT_USAGE;
  if (g_strv_length (words) != 1)
    {
      nappe_complain (_("“nappe what-if” wants one build file, or “-” for standard input"));
      return NAPPE_EXIT_USAGE;
    }
  changes = read_changes (&options);
  return changes != NULL ? answer (words[0], &units, changes, json) : NAPPE_EXIT_USAGE;
}

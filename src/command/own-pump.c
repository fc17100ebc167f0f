/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe own-pump` */
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "catalogue/curve-table.h"
#include "catalogue/own-pump.h"
#include "command/command.h"
#include "command/text-table.h"

#define INDENT 2u

typedef struct
{
  char *name, *source, *power, *outlet, *flow_unit, *head_unit, *units_text;
  gboolean head_first, variable, dry_run;
  NappeUnitsOption units;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->name);
  g_free (self->source);
  g_free (self->power);
  g_free (self->outlet);
  g_free (self->flow_unit);
  g_free (self->head_unit);
  g_free (self->units_text);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
read_options (Options *self, char **arguments, char ***words)
{
  const GOptionEntry entries[] = {
    { "power", 'p', 0, G_OPTION_ARG_STRING, &self->power, N_("Greatest power that it draws, such as 60 W"), N_("POWER") },
    { "name", 'n', 0, G_OPTION_ARG_STRING, &self->name, N_("Name of the pump; else that of the file"), N_("NAME") },
    { "source", 0, 0, G_OPTION_ARG_STRING, &self->source, N_("Where the curve is from; else the name of the file"), N_("TEXT") },
    { "flow-unit", 0, 0, G_OPTION_ARG_STRING, &self->flow_unit, N_("Unit of the flows, such as L/h or gal/min"), N_("UNIT") },
    { "head-unit", 0, 0, G_OPTION_ARG_STRING, &self->head_unit, N_("Unit of the heads, such as m or ft"), N_("UNIT") },
    { "head-first", 0, 0, G_OPTION_ARG_NONE, &self->head_first, N_("Without headings, the first column is the head"), NULL },
    { "variable-speed", 0, 0, G_OPTION_ARG_NONE, &self->variable, N_("Its speed can be set"), NULL },
    { "outlet", 0, 0, G_OPTION_ARG_STRING, &self->outlet, N_("Bore of its outlet, such as 25 mm"), N_("LENGTH") },
    { "dry-run", 0, 0, G_OPTION_ARG_NONE, &self->dry_run, N_("Say what was understood, and put nothing in"), NULL },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &self->units_text, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };

  if (!nappe_options_read (
          "own-pump", _("FILE"),
          _("Puts a pump into your own catalogue, with its curve from a table of flows and heads (CSV)."), entries,
          arguments, words)
      || !nappe_units_option_read (&self->units, self->units_text))
    return FALSE;
  if (g_strv_length (*words) == 1)
    return TRUE;
  nappe_complain (_("“nappe own-pump” takes one file; “nappe help own-pump” tells more"));
  return FALSE;
}

static NappeCurveTable *
read_table (const char *path, GError **error)
{
  g_autofree char *text = NULL;
  gsize length;

  if (strcmp (path, "-") != 0)
    return nappe_curve_table_load (path, error);
  text = g_malloc (NAPPE_CURVE_TABLE_SIZE_MAX + 1);
  length = fread (text, 1, NAPPE_CURVE_TABLE_SIZE_MAX + 1, stdin);
  return nappe_curve_table_read (text, length, _("standard input"), error);
}

/* A unit that nobody told is not guessed: gallons for litres are a pump four times too strong. */
static gboolean
choose_unit (char **option, const char *told, const char *name)
{
  if (*option == NULL)
    *option = g_strdup (told);
  if (*option != NULL)
    return TRUE;
  nappe_complain (_("the table does not say the unit of this column; say --%s"), name);
  return FALSE;
}

static gboolean
read_quantity (NappeQuantity quantity, const char *text, double *value)
{
  g_autoptr (GError) error = NULL;

  if (text == NULL || nappe_quantity_parse (quantity, text, NAPPE_UNITS_METRIC, value, &error))
    return TRUE;
  nappe_complain ("%s", error->message);
  return FALSE;
}

/* "curve.csv" is the curve of “curve”. Transfer full. */
static char *
name_of_file (const char *path)
{
  char *name = g_filename_display_basename (path), *dot = strrchr (name, '.');

  if (dot != NULL && dot != name)
    *dot = '\0';
  return name;
}

static gboolean
describe_pump (Options *options, const char *path, const NappeCurveTable *table, const NappeCurveFit *fit, NappeOwnPump *pump)
{
  const char *wrong;

  *pump = (NappeOwnPump){ .curve = fit->curve, .variable_speed = options->variable };
  if (!read_quantity (NAPPE_QUANTITY_POWER, options->power, &pump->power)
      || !read_quantity (NAPPE_QUANTITY_LENGTH, options->outlet, &pump->outlet_bore))
    return FALSE;
  if (options->name == NULL)
    options->name = name_of_file (path);
  if (options->source == NULL)
    /* Translators: %s is the name of a file with a pump's curve. */
    options->source = g_strdup_printf (_("Points of “%s”"), table->name);
  pump->name = options->name;
  pump->source = options->source;
  wrong = nappe_own_pump_check (pump);
  if (wrong != NULL)
    nappe_complain ("%s", wrong);
  return wrong == NULL;
}

/* The points that a study will use, and what was left out of them. */
static char *
describe_curve (const Options *options, const NappeCurveFit *fit)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  for (gsize i = 0; i < fit->curve.n; i++)
    {
      g_autofree char *flow = nappe_quantity_format (NAPPE_QUANTITY_FLOW, fit->curve.flow[i], options->units.system, 4);
      g_autofree char *head = nappe_quantity_format (NAPPE_QUANTITY_HEAD, fit->curve.head[i], options->units.system, 4);

      nappe_text_table_add (table, flow);
      nappe_text_table_add (table, head);
    }
  nappe_text_table_print (table, INDENT, text);
  if (fit->left_out > 0)
    {
      g_autofree char *departure = nappe_quantity_format (NAPPE_QUANTITY_HEAD, fit->departure, options->units.system, 2);

      g_string_append_printf (text,
                              g_dngettext (GETTEXT_PACKAGE,
                                           "%u row is no point of the curve and at most %s away from it.\n",
                                           "%u rows are no points of the curve and at most %s away from it.\n",
                                           fit->left_out),
                              fit->left_out, departure);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static NappeExit
put_in (const NappeOwnPump *pump, const char *curve)
{
  g_autofree char *folder = nappe_catalogue_user_dir (), *id = NULL, *text = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);

  id = catalogue != NULL ? nappe_own_pump_add (folder, catalogue, pump, &error) : NULL;
  if (id == NULL)
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_FILE;
    }
  /* Translators: name of a pump, its id in the catalogue */
  text = g_strdup_printf (_("“%s” is in your catalogue as %s:\n"), pump->name, id);
  g_autofree char *all = g_strconcat (text, curve, NULL);
  return nappe_write_out (all) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

NappeExit
nappe_command_own_pump (char **arguments)
{
  g_auto (Options) options = { 0 };
  g_auto (GStrv) words = NULL;
  g_autoptr (NappeCurveTable) table = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *curve = NULL;
  NappeCurveFit fit;
  NappeOwnPump pump;

  if (!read_options (&options, arguments, &words))
    return NAPPE_EXIT_USAGE;
  table = read_table (words[0], &error);
  if (table == NULL)
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_FILE;
    }
  if (options.head_first && !table->told)
    nappe_curve_table_swap (table);
  if (!choose_unit (&options.flow_unit, table->flow_unit, "flow-unit")
      || !choose_unit (&options.head_unit, table->head_unit, "head-unit"))
    return NAPPE_EXIT_USAGE;
  if (!nappe_curve_table_fit (table, options.flow_unit, options.head_unit, &fit, &error))
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_FILE;
    }
  curve = describe_curve (&options, &fit);
  if (options.dry_run)
    return nappe_write_out (curve) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
  return describe_pump (&options, words[0], table, &fit, &pump) ? put_in (&pump, curve) : NAPPE_EXIT_USAGE;
}

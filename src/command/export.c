/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe export` */
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "command/case.h"
#include "file/file.h"
#include "picture/charts/chart.h"
#include "sheet/sheet.h"

#define DEFAULT_WIDTH 1400.0
#define DEFAULT_HEIGHT 900.0
/* Smallest and largest picture [px]: below, no label fits; above, no image can be held. */
#define SIZE_MIN 240
#define SIZE_MAX 16000

/* The command line as typed. */
typedef struct
{
  gboolean elevation, flow, plan, panels, sheet, dark, print;
  char *output, *state, *size, *paper, *units, *date, *chart, *part;
} Typed;

typedef struct
{
  gboolean sheet, is_chart;
  NappePictureOptions picture;
  NappeChartKind chart;
  const char *part; /* of the chart; NULL: the first that has one */
  NappePaper paper;
  NappeUnitsOption units;
  char *output; /* NULL: from the input's name */
  const char *date;
} Wish;

static void
typed_clear (Typed *self)
{
  g_free (self->output);
  g_free (self->state);
  g_free (self->size);
  g_free (self->paper);
  g_free (self->units);
  g_free (self->date);
  g_free (self->chart);
  g_free (self->part);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Typed, typed_clear)

/* One of two words; NULL is the first. */
static gboolean
read_word (const char *option, const char *typed, const char *first, const char *second, gboolean *is_second)
{
  *is_second = g_strcmp0 (typed, second) == 0;
  if (typed == NULL || *is_second || strcmp (typed, first) == 0)
    return TRUE;
  /* Translators: the option's name, what was typed, and the two words that may be. */
  nappe_complain (_("%s: “%s” is neither “%s” nor “%s”"), option, typed, first, second);
  return FALSE;
}

static gboolean
read_size (const char *typed, NappePictureOptions *picture)
{
  guint width, height;
  char end;

  picture->width = DEFAULT_WIDTH;
  picture->height = DEFAULT_HEIGHT;
  if (typed == NULL)
    return TRUE;
  if (strspn (typed, "0123456789x") != strlen (typed) || sscanf (typed, "%5ux%5u%c", &width, &height, &end) != 2
      || width < SIZE_MIN || width > SIZE_MAX || height < SIZE_MIN || height > SIZE_MAX)
    {
      nappe_complain (_("--size: “%s” is no size such as 1400x900, each from %d to %d"), typed, SIZE_MIN, SIZE_MAX);
      return FALSE;
    }
  picture->width = width;
  picture->height = height;
  return TRUE;
}

static gboolean
check_date (const char *typed)
{
  guint year, month, day;
  char end;

  if (typed == NULL)
    return TRUE;
  if (strlen (typed) == 10 && sscanf (typed, "%4u-%2u-%2u%c", &year, &month, &day, &end) == 3
      && g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return TRUE;
  nappe_complain (_("--date: “%s” is no day such as 2026-03-31"), typed);
  return FALSE;
}

static gboolean
read_chart (const Typed *typed, Wish *wish)
{
  wish->is_chart = typed->chart != NULL;
  wish->part = typed->part;
  if (typed->part != NULL && typed->chart == NULL)
    nappe_complain (_("--part belongs to --chart"));
  else if (typed->chart != NULL && typed->state != NULL)
    nappe_complain (_("--state: a chart shows no state"));
  else if (typed->chart != NULL && !nappe_chart_from_nick (typed->chart, &wish->chart))
    nappe_complain (_("--chart: “%s” is none of pump, head, power-cut and tuning"), typed->chart);
  else
    return TRUE;
  return FALSE;
}

static gboolean
read_wish (const Typed *typed, Wish *wish)
{
  gboolean cut, letter;

  if (typed->elevation + typed->flow + typed->plan + typed->panels + typed->sheet + (typed->chart != NULL) != 1)
    nappe_complain (_("say one of --elevation, --flow, --plan, --panels, --chart and --sheet"));
  else if (typed->dark && typed->print)
    nappe_complain (_("--dark and --print exclude each other"));
  else if (read_word ("--state", typed->state, "running", "power-cut", &cut)
           && read_word ("--paper", typed->paper, "a4", "letter", &letter)
           && nappe_units_option_read (&wish->units, typed->units) && read_size (typed->size, &wish->picture)
           && check_date (typed->date) && read_chart (typed, wish))
    {
      wish->sheet = typed->sheet;
      wish->paper = letter ? NAPPE_PAPER_LETTER : NAPPE_PAPER_A4;
      wish->date = typed->date;
      wish->output = typed->output;
      wish->picture.kind = typed->flow     ? NAPPE_PICTURE_FLOW
                           : typed->plan   ? NAPPE_PICTURE_PLAN
                           : typed->panels ? NAPPE_PICTURE_PANELS
                                           : NAPPE_PICTURE_ELEVATION;
      wish->picture.palette = typed->dark ? NAPPE_PALETTE_DARK
                              : typed->print ? NAPPE_PALETTE_PRINT : NAPPE_PALETTE_LIGHT;
      wish->picture.shown = cut ? NAPPE_SHOW_POWER_CUT : NAPPE_SHOW_RUNNING;
      wish->picture.text_scale = 1.0;
      wish->picture.title = TRUE;
      return TRUE;
    }
  return FALSE;
}

/* "reef.nappe" gives "reef-elevation.svg" in the current folder. */
static char *
default_output (const Wish *wish, const char *input)
{
  static const char *const kinds[] = {
    [NAPPE_PICTURE_ELEVATION] = "-elevation",
    [NAPPE_PICTURE_FLOW] = "-flow",
    [NAPPE_PICTURE_PLAN] = "-plan",
    [NAPPE_PICTURE_PANELS] = "-panels",
  };
  g_autofree char *base = strcmp (input, "-") == 0 ? g_strdup ("build") : g_path_get_basename (input);

  if (g_str_has_suffix (base, ".nappe"))
    base[strlen (base) - strlen (".nappe")] = '\0';
  if (wish->sheet)
    return g_strconcat (base, "-sheet.pdf", NULL);
  if (wish->is_chart)
    return g_strconcat (base, "-", nappe_chart_nick (wish->chart), ".svg", NULL);
  return g_strconcat (base, kinds[wish->picture.kind],
                      wish->picture.shown == NAPPE_SHOW_POWER_CUT ? "-power-cut" : "", ".svg", NULL);
}

/* Whether the ending of the name fits what is to be written. */
static gboolean
check_output (const Wish *wish, const char *output)
{
  if (strcmp (output, "-") == 0)
    nappe_complain (_("--output: the format follows from the ending of a name, so “-” cannot be written to"));
  else if (g_str_has_suffix (output, ".pdf")
           || (!wish->sheet && (g_str_has_suffix (output, ".svg") || g_str_has_suffix (output, ".png"))))
    return TRUE;
  else if (wish->sheet)
    nappe_complain (_("--output: a sheet's name ends in .pdf, not “%s”"), output);
  else
    nappe_complain (_("--output: a picture's name ends in .svg, .png or .pdf, not “%s”"), output);
  return FALSE;
}

static gboolean
write_sheet (const Wish *wish, const NappeCase *opened, const char *output, GError **error)
{
  g_autofree char *hash = nappe_file_hash (opened->build);
  const NappeSheetOptions options = {
    .paper = wish->paper, .units = opened->units, .file_name = opened->name, .file_hash = hash, .date = wish->date,
  };

  return nappe_sheet_write (&options, opened->build, opened->layout, opened->study, opened->verdict, output, error);
}

static gboolean
write_picture (const Wish *wish, const NappeCase *opened, const char *output, GError **error)
{
  NappePictureOptions options = wish->picture;
  g_autoptr (NappePicture) picture = NULL;

  options.units = opened->units;
  picture = nappe_picture_new (&options, opened->build, opened->layout, opened->study, opened->verdict);
  return nappe_picture_export (picture, output, 1.0, error);
}

/* The part that a chart is of. NULL after a complaint: the build has no such chart. */
static char *
find_chart_part (const Wish *wish, const NappeCase *opened)
{
  g_autoptr (GPtrArray) choices = nappe_chart_choices (opened->build, opened->study);
  gint index = nappe_chart_choice_find (choices, wish->chart, wish->part);

  if (index >= 0)
    return g_strdup (((const NappeChartChoice *) g_ptr_array_index (choices, index))->part);
  if (wish->part != NULL)
    nappe_complain (_("--part: there is no chart “%s” of “%s”"), nappe_chart_nick (wish->chart), wish->part);
  else
    nappe_complain (_("--chart: nothing in this build has a chart “%s”"), nappe_chart_nick (wish->chart));
  return NULL;
}

static gboolean
write_chart (const Wish *wish, const NappeCase *opened, const char *part, const char *output, GError **error)
{
  const NappeChartOptions options = {
    .kind = wish->chart, .part = part, .palette = wish->picture.palette, .units = opened->units, .width = wish->picture.width,
    .height = wish->picture.height, .text_scale = 1.0, .title = TRUE, .verdict = opened->verdict,
    .spread = opened->spread,
  };
  g_autoptr (NappePicture) picture = nappe_chart_new (&options, opened->build, opened->study);

  return nappe_picture_export (picture, output, 1.0, error);
}

/* FALSE without an error: a complaint was made. */
static gboolean
write_any (const Wish *wish, NappeCase *opened, const char *output, GError **error)
{
  g_autofree char *part = NULL;

  /* Findings have the same numbers in every picture. */
  nappe_case_play (opened);
  if (!wish->is_chart)
    return (wish->sheet ? write_sheet : write_picture) (wish, opened, output, error);
  part = find_chart_part (wish, opened);
  if (part == NULL)
    return FALSE;
  nappe_case_add_results (opened);
  return write_chart (wish, opened, part, output, error);
}

static NappeExit
export_file (const Wish *wish, const char *input)
{
  g_autofree char *output = wish->output != NULL ? g_strdup (wish->output) : default_output (wish, input);
  g_autofree char *shown = g_filename_display_name (output);
  g_autofree char *line = NULL;
  g_autoptr (NappeCase) opened = NULL;
  g_autoptr (GError) error = NULL;

  if (!check_output (wish, output))
    return NAPPE_EXIT_USAGE;
  opened = nappe_case_open (input, &wish->units);
  if (opened == NULL)
    return NAPPE_EXIT_FILE;
  if (!write_any (wish, opened, output, &error))
    {
      if (error == NULL)
        return NAPPE_EXIT_USAGE;
      nappe_complain (_("%s was not written: %s"), shown, error->message);
      return NAPPE_EXIT_FILE;
    }
  line = g_strdup_printf (_("Wrote %s\n"), shown);
  return nappe_write_out (line) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

NappeExit
nappe_command_export (char **arguments)
{
  g_auto (Typed) typed = { 0 };
  const GOptionEntry entries[] = {
    { "elevation", 'e', 0, G_OPTION_ARG_NONE, &typed.elevation, N_("Draw the side elevation to scale"), NULL },
    { "flow", 'f', 0, G_OPTION_ARG_NONE, &typed.flow, N_("Draw the flow diagram"), NULL },
    { "plan", 'p', 0, G_OPTION_ARG_NONE, &typed.plan, N_("Draw the sump from above to scale"), NULL },
    { "panels", 0, 0, G_OPTION_ARG_NONE, &typed.panels, N_("Draw the drilled panes from outside to scale"), NULL },
    { "chart", 'c', 0, G_OPTION_ARG_STRING, &typed.chart, N_("Draw a chart: pump, head, power-cut or tuning"), N_("KIND") },
    { "part", 0, 0, G_OPTION_ARG_STRING, &typed.part,
      N_("Pump, line or siphon that the chart is of, by its id; usually the first"), N_("ID") },
    { "sheet", 's', 0, G_OPTION_ARG_NONE, &typed.sheet, N_("Write the specification sheet"), NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &typed.output,
      N_("File to write; its ending chooses .svg, .png or .pdf"), N_("NAME") },
    { "state", 0, 0, G_OPTION_ARG_STRING, &typed.state, N_("Water drawn: running or power-cut"), N_("STATE") },
    { "dark", 0, 0, G_OPTION_ARG_NONE, &typed.dark, N_("Use the colours of a dark screen"), NULL },
    { "print", 0, 0, G_OPTION_ARG_NONE, &typed.print, N_("Use the colours of print on white paper"), NULL },
    { "size", 0, 0, G_OPTION_ARG_STRING, &typed.size, N_("Size of a picture in pixels; usually 1400x900"), N_("WxH") },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &typed.paper, N_("Paper of the sheet: a4 or letter"), N_("PAPER") },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &typed.units, N_("Units of the text: metric or us"), N_("UNITS") },
    { "date", 0, 0, G_OPTION_ARG_STRING, &typed.date, N_("Day printed on the sheet; usually the build's own"),
      N_("YYYY-MM-DD") },
    { NULL }
  };
  g_auto (GStrv) words = NULL;
  Wish wish = { 0 };

  if (!nappe_options_read ("export", _("FILE"), _("Writes a picture or the specification sheet of a build."), entries,
                           arguments, &words)
      || !read_wish (&typed, &wish))
    return NAPPE_EXIT_USAGE;
  if (g_strv_length (words) != 1)
    {
      nappe_complain (_("“nappe export” wants one build file, or “-” for standard input"));
      return NAPPE_EXIT_USAGE;
    }
  return export_file (&wish, words[0]);
}

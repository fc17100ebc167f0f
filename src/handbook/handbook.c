/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "handbook/handbook.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

/* Size of a figure [px]. */
#define FIGURE_WIDTH 1000.0
#define FIGURE_HEIGHT 680.0

static void
append_sections (GString *text, const NappeRulePage *page)
{
  for (guint i = 0; i < page->sections->len; i++)
    {
      const NappePageSection *section = page->sections->pdata[i];
      g_string_append_printf (text, "\n## %s\n", section->heading);
      for (guint j = 0; j < section->paragraphs->len; j++)
        g_string_append_printf (text, "\n%s\n", (const char *)section->paragraphs->pdata[j]);
    }
}

static void
append_working (GString *text, NappeFinding *finding, NappeUnitSystem units)
{
  g_autofree char *working = nappe_finding_working_text (finding, units);

  if (*working == '\0')
    return;
  g_auto (GStrv) lines = g_strsplit (working, "\n", -1);
  g_string_append_c (text, '\n');
  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0')
      g_string_append_printf (text, "    %s\n", *line);
}

char *
nappe_handbook_page_text (const NappeRulePage *page, const NappeRuleExample *example, const char *figure,
                          NappeUnitSystem units)
{
  NappeFinding *finding = example->finding;
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "# %s\n\n`%s`\n", page->title, page->rule);
  append_sections (text, page);
  g_string_append_printf (text, "\n## %s\n\n**%s: %s.** %s\n\n%s\n", _("Example"),
                          nappe_severity_label (nappe_finding_get_severity (finding)),
                          nappe_finding_get_title (finding), nappe_finding_get_text (finding),
                          nappe_finding_get_remedy (finding));
  append_working (text, finding, units);
  /* Translators: before the name of a book or standard. */
  g_string_append_printf (text, "\n%s %s.\n", _("Source:"), nappe_finding_get_source (finding));
  if (figure != NULL)
    g_string_append_printf (text, "\n![%s](%s)\n", nappe_finding_get_title (finding), figure);
  return g_string_free (text, FALSE);
}

static gboolean
write_figure (const NappeRuleExample *example, const char *path, NappeUnitSystem units, GError **error)
{
  const NappePictureOptions options = {
    .palette = NAPPE_PALETTE_LIGHT, .units = units, .width = FIGURE_WIDTH, .height = FIGURE_HEIGHT, .text_scale = 1,
  };
  g_autoptr (NappePicture) picture = nappe_rule_example_draw (example, &options);
  return nappe_picture_export (picture, path, 1, error);
}

static gboolean
write_rule (const char *folder, const NappeRuleInfo *rule, NappeCatalogue *catalogue, NappeUnitSystem units,
            GError **error)
{
  g_autofree char *page_name = g_strconcat (rule->id, ".md", NULL), *figure = g_strconcat (rule->id, ".svg", NULL);
  g_autofree char *page_path = g_build_filename (folder, page_name, NULL);
  g_autofree char *figure_path = g_build_filename (folder, figure, NULL);
  g_autoptr (NappeRulePage) page = nappe_rule_page_read (rule->id, error);
  g_autoptr (NappeRuleExample) example = page != NULL ? nappe_rule_example_new (rule->id, catalogue, units, error)
                                                      : NULL;
  if (example == NULL)
    return FALSE;
  g_autofree char *text = nappe_handbook_page_text (page, example, figure, units);
  return g_file_set_contents (page_path, text, -1, error) && write_figure (example, figure_path, units, error);
}

static gboolean
write_list (const char *folder, const NappeRuleInfo *rules, gsize n, GError **error)
{
  g_autofree char *path = g_build_filename (folder, "README.md", NULL);
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "# %s\n\n| | | |\n| --- | --- | --- |\n", _("The rules"));
  for (gsize i = 0; i < n; i++)
    g_string_append_printf (text, "| [%s](%s.md) | %s | %s |\n", rules[i].id, rules[i].id, _(rules[i].title),
                            _(rules[i].source));
  return g_file_set_contents (path, text->str, -1, error);
}

gboolean
nappe_handbook_write (const char *folder, NappeCatalogue *catalogue, NappeUnitSystem units, GError **error)
{
  gsize n;
  const NappeRuleInfo *rules = nappe_rules_list (&n);

  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      int reason = errno;
      g_set_error (error, G_FILE_ERROR, (int)g_file_error_from_errno (reason), "%s: %s", folder, g_strerror (reason));
      return FALSE;
    }
  for (gsize i = 0; i < n; i++)
    if (!write_rule (folder, &rules[i], catalogue, units, error))
      return FALSE;
  return write_list (folder, rules, n, error);
}

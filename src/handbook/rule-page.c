/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "handbook/rule-page.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "units/data-folder.h"

G_DEFINE_QUARK (nappe-handbook-error-quark, nappe_handbook_error)

static void
section_free (gpointer data)
{
  NappePageSection *section = data;
  g_free (section->heading);
  g_ptr_array_unref (section->paragraphs);
  g_free (section);
}

static void
begin_section (NappeRulePage *self, const char *heading)
{
  NappePageSection *section = g_new0 (NappePageSection, 1);
  section->heading = g_strstrip (g_strdup (heading));
  section->paragraphs = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->sections, section);
}

/* The paragraph gathered so far goes to the last section; before the first one there is none to take it. */
static void
end_paragraph (NappeRulePage *self, GString *paragraph)
{
  if (paragraph->len > 0 && self->sections->len > 0)
    {
      NappePageSection *section = self->sections->pdata[self->sections->len - 1];
      g_ptr_array_add (section->paragraphs, g_strdup (paragraph->str));
    }
  g_string_truncate (paragraph, 0);
}

static void
read_line (NappeRulePage *self, GString *paragraph, char *line)
{
  g_strstrip (line);
  if (g_str_has_prefix (line, "## ") || g_str_has_prefix (line, "# ") || *line == '\0'
      || g_str_has_prefix (line, "- "))
    end_paragraph (self, paragraph);
  if (g_str_has_prefix (line, "## "))
    begin_section (self, line + strlen ("## "));
  else if (g_str_has_prefix (line, "# ") && self->title == NULL)
    self->title = g_strdup (line + strlen ("# "));
  else if (*line != '\0')
    g_string_append_printf (paragraph, "%s%s", paragraph->len > 0 ? " " : "", line);
}

NappeRulePage *
nappe_rule_page_parse (const char *rule, const char *text, GError **error)
{
  g_autoptr (NappeRulePage) self = g_new0 (NappeRulePage, 1);
  g_autoptr (GString) paragraph = g_string_new (NULL);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  self->rule = g_strdup (rule);
  self->sections = g_ptr_array_new_with_free_func (section_free);
  for (char **line = lines; *line != NULL; line++)
    read_line (self, paragraph, *line);
  end_paragraph (self, paragraph);
  if (self->title != NULL && self->sections->len > 0)
    return g_steal_pointer (&self);
  /* Translators: %s is the id of a rule. */
  g_set_error (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_FORMAT, _("the page of “%s” has no title or sections"),
               rule);
  return NULL;
}

NappeRulePage *
nappe_rule_page_read (const char *rule, GError **error)
{
  g_autofree char *folder = nappe_data_folder ("handbook/rules");
  g_autofree char *name = g_strconcat (rule, ".md", NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) refusal = NULL;

  if (!g_file_get_contents (path, &text, NULL, &refusal))
    {
      g_set_error_literal (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_READ, refusal->message);
      return NULL;
    }
  return nappe_rule_page_parse (rule, text, error);
}

void
nappe_rule_page_free (NappeRulePage *self)
{
  if (self == NULL)
    return;
  g_free (self->rule);
  g_free (self->title);
  g_ptr_array_unref (self->sections);
  g_free (self);
}

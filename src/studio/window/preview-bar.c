/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/window/preview-bar.h"

#include <glib/gi18n-lib.h>

#include "studio/parts/part-numbers.h"

/* More would leave little room for the picture. */
#define MOST_NUMBERS 5

struct _NappePreviewBar
{
  GtkWidget parent_instance;
  GtkWidget *content, *title, *effect, *numbers, *back;
};

G_DEFINE_FINAL_TYPE (NappePreviewBar, nappe_preview_bar, GTK_TYPE_WIDGET)

static void
nappe_preview_bar_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), NAPPE_TYPE_PREVIEW_BAR);
  G_OBJECT_CLASS (nappe_preview_bar_parent_class)->dispose (object);
}

static void
nappe_preview_bar_class_init (NappePreviewBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_preview_bar_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/preview-bar.ui");
  gtk_widget_class_bind_template_child (widget_class, NappePreviewBar, content);
  gtk_widget_class_bind_template_child (widget_class, NappePreviewBar, title);
  gtk_widget_class_bind_template_child (widget_class, NappePreviewBar, effect);
  gtk_widget_class_bind_template_child (widget_class, NappePreviewBar, numbers);
  gtk_widget_class_bind_template_child (widget_class, NappePreviewBar, back);
}

static void
nappe_preview_bar_init (NappePreviewBar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static const NappePartNumber *
number_of_key (const GPtrArray *numbers, const char *key)
{
  for (guint i = 0; i < numbers->len; i++)
    if (g_str_equal (((const NappePartNumber *) numbers->pdata[i])->key, key))
      return numbers->pdata[i];
  return NULL;
}

/* Adds the numbers of a part, NULL for the whole build, that become others. */
static void
add_numbers (GString *text, const NappeOutcome *before, const NappeOutcome *cured, const char *part, guint *n)
{
  g_autoptr (GPtrArray) now = nappe_part_numbers (before, part), then = nappe_part_numbers (cured, part);

  for (guint i = 0; i < now->len && *n < MOST_NUMBERS; i++)
    {
      const NappePartNumber *number = now->pdata[i], *other = number_of_key (then, number->key);

      if (other == NULL || g_str_equal (number->value, other->value))
        continue;
      g_string_append (text, text->len > 0 ? "  ·  " : "");
      /* Translators: name of a number, its value now, and with a change. */
      g_string_append_printf (text, _("%s: %s → %s"), number->label, number->value, other->value);
      (*n)++;
    }
}

void
nappe_preview_bar_show (NappePreviewBar *self, const NappeOutcome *before, const NappeOutcome *cured)
{
  const NappeCure *cure = cured->cure;
  /* Translators: %s is a change that would put something right. */
  g_autofree char *title = g_strdup_printf (_("Preview: %s"), cure->label);
  g_autoptr (GString) numbers = g_string_new (NULL);
  guint n = 0;

  /* Without bands on either side: a cure has none. */
  before = before->base != NULL ? before->base : before;
  if (nappe_outcome_find (before, cure->part) != NULL)
    add_numbers (numbers, before, cured, cure->part, &n);
  add_numbers (numbers, before, cured, NULL, &n);
  gtk_label_set_text (GTK_LABEL (self->title), title);
  gtk_label_set_text (GTK_LABEL (self->effect), cure->effect);
  gtk_label_set_text (GTK_LABEL (self->numbers), numbers->str);
  gtk_widget_set_visible (self->numbers, n > 0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, cure->effect, -1);
}

void
nappe_preview_bar_focus (NappePreviewBar *self)
{
  gtk_widget_grab_focus (self->back);
}

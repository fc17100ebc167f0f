/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/rule-window.h"

#include "handbook/rule-page.h"

struct _NappeRuleWindow
{
  AdwWindow parent_instance;
  GtkWidget *scroller, *text;
};

G_DEFINE_FINAL_TYPE (NappeRuleWindow, nappe_rule_window, ADW_TYPE_WINDOW)

static void
close_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
nappe_rule_window_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), NAPPE_TYPE_RULE_WINDOW);
  G_OBJECT_CLASS (nappe_rule_window_parent_class)->dispose (object);
}

static void
nappe_rule_window_class_init (NappeRuleWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_rule_window_dispose;
  gtk_widget_class_install_action (widget_class, "rule.close", NULL, close_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "rule.close", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/rule-window.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeRuleWindow, scroller);
  gtk_widget_class_bind_template_child (widget_class, NappeRuleWindow, text);
}

static void
nappe_rule_window_init (NappeRuleWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
add_text (NappeRuleWindow *self, const char *text, const char *css_class, GtkAccessibleRole role)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "accessible-role", role, "label", text, "wrap", TRUE, "wrap-mode",
                                   PANGO_WRAP_WORD_CHAR, "xalign", 0.0f, "selectable", css_class == NULL, NULL);

  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (self->text), label);
}

GtkWindow *
nappe_rule_window_new (GtkWindow *parent, const char *rule, GError **error)
{
  g_autoptr (NappeRulePage) page = nappe_rule_page_read (rule, error);
  NappeRuleWindow *self;

  if (page == NULL)
    return NULL;
  self = g_object_new (NAPPE_TYPE_RULE_WINDOW, "transient-for", parent, NULL);
  add_text (self, page->title, "title-2", GTK_ACCESSIBLE_ROLE_HEADING);
  for (guint i = 0; i < page->sections->len; i++)
    {
      const NappePageSection *section = page->sections->pdata[i];

      add_text (self, section->heading, "heading", GTK_ACCESSIBLE_ROLE_HEADING);
      for (guint k = 0; k < section->paragraphs->len; k++)
        add_text (self, section->paragraphs->pdata[k], NULL, GTK_ACCESSIBLE_ROLE_LABEL);
    }
  /* A paragraph that takes the focus would be marked as a whole; from here the arrow keys scroll. Focus that is set before
   * the window is there keeps its role from assistive technology. */
  g_signal_connect_object (self, "map", G_CALLBACK (gtk_widget_grab_focus), self->scroller,
                           G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  return GTK_WINDOW (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people decide about rules and findings: answers, limits, weights; and what the handbook says of a rule. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#include "studio/findings/answer-dialog.h"
#include "studio/document/judgements.h"
#include "studio/findings/limits-window.h"
#include "studio/findings/rule-window.h"

void
nappe_window_update_judging_actions (NappeWindow *self)
{
  gboolean editable = nappe_document_get_build (self->document) != NULL && self->preview == NULL;
  const char *const actions[] = { "win.answer-finding", "win.take-back-answer", "win.limits", "win.weigh-rule" };

  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), actions[i], editable);
}

/* The finding that the parameter's rule and part name, answered or not; NULL: there is none any more. */
static NappeFinding *
finding_named (NappeWindow *self, GVariant *parameter)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  const GPtrArray *lists[] = { outcome != NULL ? outcome->verdict->findings : NULL,
                               outcome != NULL ? outcome->verdict->answered : NULL };
  const char *rule, *part;

  g_variant_get (parameter, "(&s&s)", &rule, &part);
  for (gsize l = 0; l < G_N_ELEMENTS (lists); l++)
    for (guint i = 0; lists[l] != NULL && i < lists[l]->len; i++)
      {
        NappeFinding *finding = lists[l]->pdata[i];

        if (g_str_equal (nappe_finding_get_rule (finding), rule) && g_str_equal (nappe_finding_get_part (finding), part))
          return finding;
      }
  return NULL;
}

static void
answer_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  NappeFinding *finding = finding_named (self, parameter);

  if (finding != NULL)
    gtk_window_present (nappe_answer_dialog_new (GTK_WINDOW (self), self->document, finding));
}

static void
take_back_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  NappeFinding *finding = finding_named (self, parameter);
  g_autoptr (GError) error = NULL;

  if (finding == NULL)
    return;
  if (nappe_judgements_take_back (nappe_document_get_build (self->document), nappe_finding_get_rule (finding),
                                  nappe_finding_get_part (finding), nappe_finding_get_title (finding), &error))
    nappe_window_say_undoable (self, _("The answer is taken back"));
  else
    nappe_window_show_error (self, error->message);
}

static void
limits_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  const char *rule = parameter != NULL ? g_variant_get_string (parameter, NULL) : NULL;

  gtk_window_present (nappe_limits_window_new (GTK_WINDOW (self), self->document, self->preferences, rule));
}

static void
about_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  g_autoptr (GError) error = NULL;
  GtkWindow *window = nappe_rule_window_new (GTK_WINDOW (self), g_variant_get_string (parameter, NULL), &error);

  if (window != NULL)
    gtk_window_present (window);
  else
    nappe_window_say (self, error->message);
}

void
nappe_window_install_judging_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.answer-finding", "(ss)", answer_action);
  gtk_widget_class_install_action (widget_class, "win.take-back-answer", "(ss)", take_back_action);
  gtk_widget_class_install_action (widget_class, "win.limits", NULL, limits_action);
  gtk_widget_class_install_action (widget_class, "win.weigh-rule", "s", limits_action);
  gtk_widget_class_install_action (widget_class, "win.about-rule", "s", about_action);
}

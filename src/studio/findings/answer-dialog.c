/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/answer-dialog.h"

#include <glib/gi18n-lib.h>

#include "studio/document/judgements.h"

struct _NappeAnswerDialog
{
  AdwWindow parent_instance;
  NappeDocument *document;
  NappeFinding *finding;
  GtkWidget *title, *text, *warning, *reason, *answerer, *author, *date, *error;
};

G_DEFINE_FINAL_TYPE (NappeAnswerDialog, nappe_answer_dialog, ADW_TYPE_WINDOW)

/* What stands in the text view, without blanks around it. Transfer full. */
static char *
reason_text (NappeAnswerDialog *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->reason));
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return g_strstrip (gtk_text_buffer_get_text (buffer, &start, &end, FALSE));
}

static void
reason_changed (NappeAnswerDialog *self)
{
  g_autofree char *reason = reason_text (self);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "answer.save", *reason != '\0');
}

static void
save_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeAnswerDialog *self = NAPPE_ANSWER_DIALOG (widget);
  g_autofree char *reason = reason_text (self);
  g_autoptr (GError) error = NULL;
  const NappeReply reply = {
    .reason = reason,
    .answerer = (NappeAnswerer) adw_combo_row_get_selected (ADW_COMBO_ROW (self->answerer)),
    .author = gtk_editable_get_text (GTK_EDITABLE (self->author)),
    .date = gtk_editable_get_text (GTK_EDITABLE (self->date)),
  };

  if (nappe_judgements_answer (nappe_document_get_build (self->document), self->finding, &reply, &error))
    {
      gtk_window_close (GTK_WINDOW (self));
      return;
    }
  gtk_label_set_text (GTK_LABEL (self->error), error->message);
  gtk_widget_set_visible (self->error, TRUE);
}

static void
cancel_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
nappe_answer_dialog_dispose (GObject *object)
{
  NappeAnswerDialog *self = NAPPE_ANSWER_DIALOG (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_clear_object (&self->document);
  g_clear_object (&self->finding);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_ANSWER_DIALOG);
  G_OBJECT_CLASS (nappe_answer_dialog_parent_class)->dispose (object);
}

static void
nappe_answer_dialog_class_init (NappeAnswerDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_answer_dialog_dispose;
  gtk_widget_class_install_action (widget_class, "answer.save", NULL, save_action);
  gtk_widget_class_install_action (widget_class, "answer.cancel", NULL, cancel_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "answer.cancel", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Return, GDK_CONTROL_MASK, "answer.save", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/answer-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, title);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, text);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, warning);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, reason);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, answerer);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, author);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, date);
  gtk_widget_class_bind_template_child (widget_class, NappeAnswerDialog, error);
}

static void
nappe_answer_dialog_init (NappeAnswerDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_swapped (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->reason)), "changed",
                            G_CALLBACK (reason_changed), self);
}

/* The alternatives of the field, in the order of its values. */
static void
fill_answerers (NappeAnswerDialog *self, NappeAnswer *sample)
{
  const NappeField *field = nappe_part_find_field (NAPPE_PART (sample), "answerer");
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);

  for (const NappeChoice *choice = field->choices; choice->nick != NULL; choice++)
    gtk_string_list_append (labels, _(choice->label));
  adw_combo_row_set_model (ADW_COMBO_ROW (self->answerer), G_LIST_MODEL (labels));
  adw_combo_row_set_selected (ADW_COMBO_ROW (self->answerer), (guint) sample->answerer);
}

/* What was answered before, or a new answer of the build's author. */
static void
fill_in (NappeAnswerDialog *self, NappeBuild *build)
{
  g_autoptr (NappeAnswer) fresh = g_object_new (NAPPE_TYPE_ANSWER, NULL);
  NappeAnswer *before = nappe_rules_answer_in (build, nappe_finding_get_rule (self->finding),
                                               nappe_finding_get_part (self->finding));
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *today = g_date_time_format (now, "%Y-%m-%d");

  fill_answerers (self, before != NULL ? before : fresh);
  if (before != NULL)
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->reason)), before->reason, -1);
  gtk_editable_set_text (GTK_EDITABLE (self->author),
                         before != NULL && *before->author != '\0' ? before->author : build->author);
  gtk_editable_set_text (GTK_EDITABLE (self->date), today);
}

GtkWindow *
nappe_answer_dialog_new (GtkWindow *parent, NappeDocument *document, NappeFinding *finding)
{
  NappeAnswerDialog *self = g_object_new (NAPPE_TYPE_ANSWER_DIALOG, "transient-for", parent, NULL);

  self->document = g_object_ref (document);
  self->finding = g_object_ref (finding);
  /* Another build has no such finding. */
  g_signal_connect_swapped (document, "replaced", G_CALLBACK (gtk_window_close), self);
  gtk_label_set_text (GTK_LABEL (self->title), nappe_finding_get_title (finding));
  gtk_label_set_text (GTK_LABEL (self->text), nappe_finding_get_text (finding));
  gtk_widget_set_visible (self->warning, nappe_finding_get_severity (finding) == NAPPE_SEVERITY_DANGER);
  fill_in (self, nappe_document_get_build (document));
  reason_changed (self);
  /* Focus that is set before the window is there keeps its role from assistive technology. */
  g_signal_connect_object (self, "map", G_CALLBACK (gtk_widget_grab_focus), self->reason,
                           G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  return GTK_WINDOW (self);
}

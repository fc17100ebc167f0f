/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/cure-list.h"

#include <glib/gi18n-lib.h>

#include "studio/findings/cure-row.h"

struct _NappeCureList
{
  GtkWidget parent_instance;
  NappeCureFinder *finder;
  NappeFinding *finding;
  GtkWidget *content, *look, *looking, *status, *spinner, *cures, *none;
};

G_DEFINE_FINAL_TYPE (NappeCureList, nappe_cure_list, GTK_TYPE_WIDGET)

static void
show_cures (NappeCureList *self, const GPtrArray *cures)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->cures)) != NULL)
    gtk_box_remove (GTK_BOX (self->cures), child);
  for (guint i = 0; cures != NULL && i < cures->len; i++)
    gtk_box_append (GTK_BOX (self->cures), nappe_cure_row_new (cures->pdata[i], i));
}

static void
refresh (NappeCureList *self)
{
  NappeCuresState state = nappe_cure_finder_get_state (self->finder, self->finding);
  NappeOutcome *outcome = nappe_cure_finder_get_outcome (self->finder);
  const GPtrArray *cures = state == NAPPE_CURES_FOUND ? nappe_cure_finder_get_cures (self->finder) : NULL;
  gboolean waiting = outcome != NULL && !outcome->timed;

  gtk_widget_set_visible (self->look, state == NAPPE_CURES_IDLE);
  gtk_widget_set_visible (self->looking, state == NAPPE_CURES_LOOKING);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), state == NAPPE_CURES_LOOKING);
  gtk_label_set_text (GTK_LABEL (self->status), waiting ? _("Waiting for the cases played in time …")
                                                        /* Translators: while cures are sought. */
                                                        : _("Trying changes …"));
  show_cures (self, cures);
  gtk_widget_set_visible (self->cures, cures != NULL && cures->len > 0);
  gtk_widget_set_visible (self->none, cures != NULL && cures->len == 0);
}

static void
nappe_cure_list_dispose (GObject *object)
{
  NappeCureList *self = NAPPE_CURE_LIST (object);

  if (self->finder != NULL)
    g_signal_handlers_disconnect_by_data (self->finder, self);
  g_clear_object (&self->finder);
  g_clear_object (&self->finding);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_CURE_LIST);
  G_OBJECT_CLASS (nappe_cure_list_parent_class)->dispose (object);
}

static void
nappe_cure_list_class_init (NappeCureListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_cure_list_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/cure-list.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, content);
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, look);
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, looking);
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, status);
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, spinner);
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, cures);
  gtk_widget_class_bind_template_child (widget_class, NappeCureList, none);
}

static void
nappe_cure_list_init (NappeCureList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
nappe_cure_list_new (NappeCureFinder *finder, NappeFinding *finding)
{
  NappeCureList *self = g_object_new (NAPPE_TYPE_CURE_LIST, NULL);

  self->finder = g_object_ref (finder);
  g_signal_connect_swapped (finder, "changed", G_CALLBACK (refresh), self);
  nappe_cure_list_set_finding (self, finding);
  return GTK_WIDGET (self);
}

void
nappe_cure_list_set_finding (NappeCureList *self, NappeFinding *finding)
{
  g_set_object (&self->finding, finding);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->look), "(ss)", nappe_finding_get_rule (finding),
                                    nappe_finding_get_part (finding));
  refresh (self);
}

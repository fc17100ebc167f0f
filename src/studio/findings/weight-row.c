/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/weight-row.h"

#include <glib/gi18n-lib.h>

#include "studio/document/judgements.h"

struct _NappeWeightRow
{
  AdwActionRow parent_instance;
  NappeBuild *build;
  const NappeRuleInfo *rule;
  GtkWidget *choice;
  gboolean refreshing; /* the choice is being set, not used */
};

G_DEFINE_FINAL_TYPE (NappeWeightRow, nappe_weight_row, ADW_TYPE_ACTION_ROW)

static void
chosen (NappeWeightRow *self)
{
  g_autoptr (GError) error = NULL;
  int weight = (int) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice)) - 1;

  if (self->refreshing)
    return;
  /* The change makes everything refresh, this row among it. */
  g_object_ref (self);
  if (!nappe_judgements_set_weight (self->build, self->rule->id, weight, &error))
    adw_action_row_set_subtitle (ADW_ACTION_ROW (self), error->message);
  nappe_weight_row_refresh (self);
  g_object_unref (self);
}

static void
nappe_weight_row_finalize (GObject *object)
{
  g_clear_object (&NAPPE_WEIGHT_ROW (object)->build);
  G_OBJECT_CLASS (nappe_weight_row_parent_class)->finalize (object);
}

static void
nappe_weight_row_class_init (NappeWeightRowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = nappe_weight_row_finalize;
}

static void
nappe_weight_row_init (NappeWeightRow *self)
{
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE);
  gtk_widget_set_focusable (GTK_WIDGET (self), FALSE);
}

/* As the rule says, then the severities from advice up, as NappeWeight has them. */
static GtkWidget *
make_choice (void)
{
  GtkStringList *labels = gtk_string_list_new (NULL);

  /* Translators: what a finding weighs: whatever the rule itself says. */
  gtk_string_list_append (labels, _("As the rule says"));
  for (NappeSeverity severity = NAPPE_SEVERITY_ADVICE; severity <= NAPPE_SEVERITY_DANGER; severity++)
    gtk_string_list_append (labels, nappe_severity_label (severity));
  return gtk_drop_down_new (G_LIST_MODEL (labels), NULL);
}

GtkWidget *
nappe_weight_row_new (NappeBuild *build, const NappeRuleInfo *rule)
{
  NappeWeightRow *self = g_object_new (NAPPE_TYPE_WEIGHT_ROW, NULL);

  self->build = g_object_ref (build);
  self->rule = rule;
  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (self), FALSE);
  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (self), _(rule->title));
  adw_action_row_set_title_lines (ADW_ACTION_ROW (self), 0);
  self->choice = make_choice ();
  gtk_widget_set_valign (self->choice, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_PROPERTY_LABEL, _(rule->title), -1);
  adw_action_row_add_suffix (ADW_ACTION_ROW (self), self->choice);
  nappe_weight_row_refresh (self);
  g_signal_connect_swapped (self->choice, "notify::selected", G_CALLBACK (chosen), self);
  return GTK_WIDGET (self);
}

void
nappe_weight_row_refresh (NappeWeightRow *self)
{
  self->refreshing = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice),
                              (guint) (nappe_judgements_get_weight (self->build, self->rule->id) + 1));
  self->refreshing = FALSE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/window/fitting-box.h"

/* Between children [px]. */
#define SPACING 12

struct _NappeFittingBox
{
  GtkWidget parent_instance;
};

static void buildable_init (GtkBuildableIface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (NappeFittingBox, nappe_fitting_box, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_BUILDABLE, buildable_init))

static GtkBuildableIface *parent_buildable;

static void
add_child (GtkBuildable *buildable, GtkBuilder *builder, GObject *child, const char *type)
{
  if (GTK_IS_WIDGET (child))
    gtk_widget_set_parent (GTK_WIDGET (child), GTK_WIDGET (buildable));
  else
    parent_buildable->add_child (buildable, builder, child, type);
}

static void
buildable_init (GtkBuildableIface *iface)
{
  parent_buildable = g_type_interface_peek_parent (iface);
  iface->add_child = add_child;
}

/* Across, none of them is needed; in height, each may be shown. */
static void
nappe_fitting_box_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                           int *minimum_baseline, int *natural_baseline)
{
  gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      int least, enough;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, orientation, -1, &least, &enough, NULL, NULL);
      if (across)
        {
          *natural += (*natural > 0 ? SPACING : 0) + least;
        }
      else
        {
          *minimum = MAX (*minimum, least);
          *natural = MAX (*natural, enough);
        }
    }
}

static void
nappe_fitting_box_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  gboolean backwards = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int used = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkAllocation place = { 0, 0, 0, height };

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &place.width, NULL, NULL, NULL);
      gtk_widget_set_child_visible (child, used + place.width <= width);
      place.x = backwards ? width - used - place.width : used;
      used += place.width + SPACING;
      if (gtk_widget_get_child_visible (child))
        gtk_widget_size_allocate (child, &place, -1);
    }
}

static void
nappe_fitting_box_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (nappe_fitting_box_parent_class)->dispose (object);
}

static void
nappe_fitting_box_class_init (NappeFittingBoxClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_fitting_box_dispose;
  widget_class->measure = nappe_fitting_box_measure;
  widget_class->size_allocate = nappe_fitting_box_size_allocate;
}

static void
nappe_fitting_box_init (NappeFittingBox *self)
{
  /* A child that does not fit lies beyond the edge for the moment of a resize. */
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

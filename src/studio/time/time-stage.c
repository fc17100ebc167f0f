/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/time/time-stage.h"

/* Narrower, or less wide for its height, is one over the other [px]. */
#define WIDE 620
#define WIDE_FOR_HEIGHT 1.1
/* The picture's share. */
#define SIDE_SHARE 0.6
#define UPPER_SHARE 0.58

struct _NappeTimeStage
{
  GtkWidget parent_instance;
  GtkWidget *picture, *curves;
};

G_DEFINE_FINAL_TYPE (NappeTimeStage, nappe_time_stage, GTK_TYPE_WIDGET)

static void
nappe_time_stage_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                          int *minimum_baseline, int *natural_baseline)
{
  NappeTimeStage *self = NAPPE_TIME_STAGE (widget);
  int upper_minimum = 0, upper_natural = 0, lower_minimum = 0, lower_natural = 0;

  if (self->picture != NULL)
    gtk_widget_measure (self->picture, orientation, -1, &upper_minimum, &upper_natural, NULL, NULL);
  if (self->curves != NULL)
    gtk_widget_measure (self->curves, orientation, -1, &lower_minimum, &lower_natural, NULL, NULL);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? MAX (upper_minimum, lower_minimum) : upper_minimum + lower_minimum;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? MAX (upper_natural, lower_natural) : upper_natural + lower_natural;
}

/* The picture's part of a length, but so that both have what they need. */
static int
share_of (NappeTimeStage *self, GtkOrientation orientation, int length, double share)
{
  int first, second;

  gtk_widget_measure (self->picture, orientation, -1, &first, NULL, NULL, NULL);
  gtk_widget_measure (self->curves, orientation, -1, &second, NULL, NULL, NULL);
  return MAX (first, MIN ((int) (length * share), length - second));
}

static void
nappe_time_stage_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  NappeTimeStage *self = NAPPE_TIME_STAGE (widget);
  GtkAllocation picture = { 0, 0, width, height }, curves = picture;

  if (self->picture == NULL || self->curves == NULL)
    return;
  if (width >= WIDE && width >= height * WIDE_FOR_HEIGHT)
    {
      picture.width = share_of (self, GTK_ORIENTATION_HORIZONTAL, width, SIDE_SHARE);
      curves.x = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL ? 0 : picture.width;
      curves.width = width - picture.width;
      picture.x = curves.x == 0 ? curves.width : 0;
    }
  else
    {
      picture.height = share_of (self, GTK_ORIENTATION_VERTICAL, height, UPPER_SHARE);
      curves.y = picture.height;
      curves.height = height - picture.height;
    }
  gtk_widget_size_allocate (self->picture, &picture, -1);
  gtk_widget_size_allocate (self->curves, &curves, -1);
}

static void
nappe_time_stage_dispose (GObject *object)
{
  NappeTimeStage *self = NAPPE_TIME_STAGE (object);

  g_clear_pointer (&self->picture, gtk_widget_unparent);
  g_clear_pointer (&self->curves, gtk_widget_unparent);
  G_OBJECT_CLASS (nappe_time_stage_parent_class)->dispose (object);
}

static void
nappe_time_stage_class_init (NappeTimeStageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_time_stage_dispose;
  widget_class->measure = nappe_time_stage_measure;
  widget_class->size_allocate = nappe_time_stage_size_allocate;
}

static void
nappe_time_stage_init (NappeTimeStage *self)
{
}

void
nappe_time_stage_set_children (NappeTimeStage *self, GtkWidget *picture, GtkWidget *curves)
{
  g_return_if_fail (self->picture == NULL && self->curves == NULL);
  self->picture = picture;
  self->curves = curves;
  gtk_widget_set_parent (picture, GTK_WIDGET (self));
  gtk_widget_set_parent (curves, GTK_WIDGET (self));
}

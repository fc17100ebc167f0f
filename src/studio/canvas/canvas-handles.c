/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/canvas/canvas-handles.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "studio/canvas/canvas-handle.h"
#include "studio/document/differences.h"
#include "studio/parts/number-entry.h"
#include "studio/canvas/snapping.h"

/* A handle is met so far from its middle [px]. */
#define REACH 14.0
/* Size of a handle along the axis that it moves on, and across [px]. */
#define LONG_SIDE 15
#define SHORT_SIDE 9
/* Numbers that are told beside the one being dragged. */
#define DIFFERENCES 4
/* The live number stands so far from what is dragged [px]. */
#define ASIDE 22
/* What a key did is told so long [ms]. */
#define TOLD_FOR 2500

struct _NappeCanvasHandles
{
  GtkWidget *canvas;       /* not owned */
  NappeDocument *document;
  GPtrArray *widgets;      /* NappeCanvasHandle, not owned: children of the canvas */
  GArray *guides;          /* NappeGuide, of the picture; those of the start while something is held */
  NappePicturePlace place;
  GtkWidget *live;         /* the live number, a child of the canvas; NULL until there is one */
  guint hide_live;         /* source that hides it; 0: none */
  GtkWidget *entry;        /* where a number is typed, a child of the canvas; NULL: none */
  NappeCanvasHandle *held; /* NULL: none */
  NappeHandle start;       /* as it was when it was grabbed; its words are in `words` */
  GStringChunk *words;
  NappeOutcome *before;    /* when it was grabbed; NULL: none */
  NappeSnap snap;          /* of the last pull */
  gboolean told;           /* what it led to */
};

static void
handle_point (const NappeCanvasHandles *self, const NappeHandle *handle, double *x, double *y)
{
  *x = self->place.x + handle->x * self->place.scale;
  *y = self->place.y + handle->y * self->place.scale;
}

/* The live number. */

static gboolean
live_is_over (gpointer data)
{
  NappeCanvasHandles *self = data;

  self->hide_live = 0;
  gtk_widget_hide (self->live);
  return G_SOURCE_REMOVE;
}

static void
hide_live (NappeCanvasHandles *self, guint delay)
{
  g_clear_handle_id (&self->hide_live, g_source_remove);
  if (delay > 0)
    self->hide_live = g_timeout_add (delay, live_is_over, self);
  else if (self->live != NULL)
    gtk_widget_hide (self->live);
}

static void
make_live (NappeCanvasHandles *self)
{
  self->live = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->live, "live-number");
  gtk_widget_set_can_target (self->live, FALSE);
  gtk_widget_set_parent (self->live, self->canvas);
}

/* The number, why it went no farther, and what it changes. */
static void
show_live (NappeCanvasHandles *self, const NappeHandle *handle, double value, const char *why)
{
  NappeOutcome *after = nappe_document_get_shown_outcome (self->document);
  NappeUnitSystem units = after != NULL ? after->units : NAPPE_UNITS_METRIC;
  g_autofree char *number = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, value, units, units == NAPPE_UNITS_US ? 5 : 0);
  g_autofree char *head = g_markup_printf_escaped ("%s  <b>%s</b>", handle->label, number);
  GString *text = g_string_new (head);

  if (why != NULL)
    {
      g_autofree char *line = g_markup_printf_escaped ("\n%s", why);
      g_string_append (text, line);
    }
  if (self->before != NULL && after != NULL && self->before != after)
    {
      g_autoptr (GPtrArray) lines = nappe_differences (self->before, after, handle->picked, DIFFERENCES);
      for (guint i = 0; i < lines->len; i++)
        {
          g_autofree char *line = g_markup_printf_escaped ("\n<small>%s</small>", (char *) lines->pdata[i]);
          g_string_append (text, line);
        }
    }
  if (self->live == NULL)
    make_live (self);
  gtk_label_set_markup (GTK_LABEL (self->live), text->str);
  g_string_free (text, TRUE);
  g_clear_handle_id (&self->hide_live, g_source_remove);
  gtk_widget_show (self->live);
}

static void
remember_before (NappeCanvasHandles *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  g_clear_pointer (&self->before, nappe_outcome_unref);
  if (outcome != NULL)
    self->before = nappe_outcome_ref (outcome);
}

/* Keys and typing. */

static NappeUnitSystem
units_of (NappeCanvasHandles *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  return outcome != NULL ? outcome->units : NAPPE_UNITS_METRIC;
}

static void
nudged (NappeCanvasHandle *widget, int right, int up, NappeCanvasHandles *self)
{
  const NappeHandle *handle = nappe_canvas_handle_get (widget);
  int steps = (handle->upright ? up : right) * (handle->per_pixel > 0 ? 1 : -1);
  double wanted = handle->value + steps * nappe_snap_step (units_of (self), FALSE);
  double value = CLAMP (wanted, handle->least, handle->most);
  const char *why = value == wanted ? NULL : wanted < value ? handle->least_why : handle->most_why;
  g_autoptr (GError) error = NULL;

  if (steps == 0 || self->held != NULL || !nappe_document_begin_draft (self->document, handle->part, handle->field))
    return;
  remember_before (self);
  nappe_document_move_draft (self->document, value, &error);
  show_live (self, handle, value, error != NULL ? error->message : why);
  hide_live (self, TOLD_FOR);
  nappe_document_keep_draft (self->document, NULL);
}

static void
entry_closed (NappeCanvasHandles *self)
{
  self->entry = NULL;
}

static void
entered (NappeCanvasHandle *widget, NappeCanvasHandles *self)
{
  const NappeHandle *handle = nappe_canvas_handle_get (widget);
  NappeBuild *build = nappe_document_get_build (self->document);
  double x, y;

  /* The part may have gone, and the picture not yet know. */
  if (self->held != NULL || self->entry != NULL || build == NULL || nappe_build_find (build, handle->part) == NULL)
    return;
  handle_point (self, handle, &x, &y);
  self->entry = nappe_number_entry_new (self->document, handle->part, handle->field, units_of (self));
  g_signal_connect_swapped (self->entry, "closed", G_CALLBACK (entry_closed), self);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->entry), &(GdkRectangle) { (int) x - 8, (int) y - 8, 16, 16 });
  gtk_widget_set_parent (self->entry, self->canvas);
  gtk_popover_popup (GTK_POPOVER (self->entry));
}

/* Which handles there are. */

static void
add_widget (NappeCanvasHandles *self)
{
  GtkWidget *widget = nappe_canvas_handle_new ();

  g_signal_connect (widget, "nudged", G_CALLBACK (nudged), self);
  g_signal_connect (widget, "entered", G_CALLBACK (entered), self);
  gtk_widget_set_parent (widget, self->canvas);
  g_ptr_array_add (self->widgets, widget);
}

static const char *
name_of (NappeCanvasHandles *self, const NappeHandle *handle)
{
  NappePart *part = nappe_outcome_find (nappe_document_get_shown_outcome (self->document), handle->part);

  return part != NULL ? nappe_part_display_name (part) : "";
}

static void
take_guides (NappeCanvasHandles *self, NappePicture *picture)
{
  guint n = 0;
  const NappeGuide *guides = picture != NULL ? nappe_picture_guides (picture, &n) : NULL;

  g_array_set_size (self->guides, 0);
  if (n > 0)
    g_array_append_vals (self->guides, guides, n);
}

void
nappe_canvas_handles_match (NappeCanvasHandles *self, NappePicture *picture, const char *part)
{
  guint n = 0, used = 0;
  gboolean shown = picture != NULL && part != NULL && nappe_document_get_shown_outcome (self->document) != NULL;
  const NappeHandle *handles = shown ? nappe_picture_handles (picture, &n) : NULL;

  for (guint i = 0; i < n; i++)
    {
      if (!g_str_equal (handles[i].picked, part))
        continue;
      if (used == self->widgets->len)
        add_widget (self);
      nappe_canvas_handle_describe (self->widgets->pdata[used++], &handles[i], name_of (self, &handles[i]), units_of (self));
    }
  while (self->widgets->len > used)
    {
      NappeCanvasHandle *last = self->widgets->pdata[self->widgets->len - 1];

      if (last == self->held)
        nappe_canvas_handles_take_back (self);
      gtk_widget_unparent (GTK_WIDGET (last));
      g_ptr_array_set_size (self->widgets, (int) self->widgets->len - 1);
    }
  if (self->held == NULL)
    take_guides (self, picture);
}

static void
allocate_live (NappeCanvasHandles *self)
{
  NappeCanvasHandle *at = self->held;
  int width, height, most_x = gtk_widget_get_width (self->canvas), most_y = gtk_widget_get_height (self->canvas);
  double x, y;

  if (self->live == NULL || !gtk_widget_get_visible (self->live))
    return;
  for (guint i = 0; at == NULL && i < self->widgets->len; i++)
    if (gtk_widget_has_focus (self->widgets->pdata[i]))
      at = self->widgets->pdata[i];
  gtk_widget_measure (self->live, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  gtk_widget_measure (self->live, GTK_ORIENTATION_VERTICAL, width, NULL, &height, NULL, NULL);
  if (at != NULL)
    handle_point (self, nappe_canvas_handle_get (at), &x, &y);
  else
    x = y = 0.0;
  x = x + ASIDE + width <= most_x ? x + ASIDE : x - ASIDE - width;
  gtk_widget_size_allocate (self->live,
                            &(GtkAllocation){ (int) CLAMP (x, 0, MAX (0, most_x - width)),
                                              (int) CLAMP (y - height - 8, 0, MAX (0, most_y - height)), width,
                                              height },
                            -1);
}

void
nappe_canvas_handles_allocate (NappeCanvasHandles *self, const NappePicturePlace *place)
{
  self->place = *place;
  for (guint i = 0; i < self->widgets->len; i++)
    {
      const NappeHandle *handle = nappe_canvas_handle_get (self->widgets->pdata[i]);
      int width = handle->upright ? SHORT_SIDE : LONG_SIDE, height = handle->upright ? LONG_SIDE : SHORT_SIDE;
      double x, y;

      handle_point (self, handle, &x, &y);
      gtk_widget_measure (self->widgets->pdata[i], GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
      gtk_widget_size_allocate (self->widgets->pdata[i],
                                &(GtkAllocation){ (int) round (x) - width / 2, (int) round (y) - height / 2, width,
                                                  height },
                                -1);
    }
  allocate_live (self);
  if (self->entry != NULL)
    gtk_popover_present (GTK_POPOVER (self->entry));
}

void
nappe_canvas_handles_snapshot (NappeCanvasHandles *self, GtkSnapshot *snapshot)
{
  float at, width = (float) gtk_widget_get_width (self->canvas), height = (float) gtk_widget_get_height (self->canvas);
  GdkRGBA colour;

  if (self->held == NULL || !self->snap.on_guide)
    return;
  gtk_style_context_get_color (gtk_widget_get_style_context (self->live), &colour);
  at = (float) round ((self->start.upright ? self->place.y : self->place.x) + self->snap.guide * self->place.scale);
  gtk_snapshot_append_color (snapshot, &colour, self->start.upright ? &GRAPHENE_RECT_INIT (0, at, width, 1)
                                                                    : &GRAPHENE_RECT_INIT (at, 0, 1, height));
}

/* The pointer. */

static NappeCanvasHandle *
find (NappeCanvasHandles *self, double x, double y)
{
  NappeCanvasHandle *nearest = NULL;
  double reach = REACH;

  for (guint i = 0; i < self->widgets->len; i++)
    {
      double handle_x, handle_y, far;

      handle_point (self, nappe_canvas_handle_get (self->widgets->pdata[i]), &handle_x, &handle_y);
      far = MAX (fabs (handle_x - x), fabs (handle_y - y));
      if (far > reach)
        continue;
      reach = far;
      nearest = self->widgets->pdata[i];
    }
  return nearest;
}

static void
remember_start (NappeCanvasHandles *self)
{
  self->start = *nappe_canvas_handle_get (self->held);
  g_string_chunk_clear (self->words);
  nappe_handle_keep_words (&self->start, self->words);
  self->snap = (NappeSnap) { .value = self->start.value };
  remember_before (self);
}

gboolean
nappe_canvas_handles_grab (NappeCanvasHandles *self, double x, double y)
{
  NappeCanvasHandle *widget = find (self, x, y);
  const NappeHandle *handle = widget != NULL ? nappe_canvas_handle_get (widget) : NULL;

  if (self->held != NULL)
    nappe_canvas_handles_take_back (self);
  if (widget == NULL || !nappe_document_begin_draft (self->document, handle->part, handle->field))
    return FALSE;
  self->held = widget;
  remember_start (self);
  /* Escape is pressed where the focus is. */
  gtk_widget_grab_focus (GTK_WIDGET (widget));
  show_live (self, &self->start, self->start.value, NULL);
  return TRUE;
}

void
nappe_canvas_handles_pull (NappeCanvasHandles *self, double dx, double dy, GdkModifierType keys)
{
  g_autoptr (GError) error = NULL;
  double offset, reach = keys & (GDK_SHIFT_MASK | GDK_CONTROL_MASK) ? 0.0 : NAPPE_SNAP_REACH;

  if (self->held == NULL)
    return;
  /* The build was changed from elsewhere. */
  if (!nappe_document_has_draft (self->document))
    {
      nappe_canvas_handles_take_back (self);
      return;
    }
  offset = (self->start.upright ? -dy : dx) / self->place.scale;
  self->snap = nappe_snap (&self->start, offset, nappe_snap_step (units_of (self), (keys & GDK_SHIFT_MASK) != 0),
                           (const NappeGuide *) self->guides->data, self->guides->len, reach);
  self->told = FALSE;
  if (!nappe_document_move_draft (self->document, self->snap.value, &error))
    show_live (self, &self->start, self->snap.value, error->message);
  else if (!self->told)
    show_live (self, &self->start, self->snap.value, self->snap.why);
  gtk_widget_queue_draw (self->canvas);
}

/* What the number leads to is there: at once, or some time later where that takes long. */
static void
drafted (NappeCanvasHandles *self)
{
  if (self->held == NULL || !nappe_document_has_draft (self->document))
    return;
  show_live (self, &self->start, self->snap.value, self->snap.why);
  self->told = TRUE;
}

static void
forget_held (NappeCanvasHandles *self)
{
  self->held = NULL;
  g_clear_pointer (&self->before, nappe_outcome_unref);
  hide_live (self, 0);
  gtk_widget_queue_draw (self->canvas);
}

void
nappe_canvas_handles_let_go (NappeCanvasHandles *self)
{
  if (self->held == NULL)
    return;
  forget_held (self);
  /* What could not stand was told while it was dragged; the last number that could is kept. */
  if (nappe_document_has_draft (self->document))
    nappe_document_keep_draft (self->document, NULL);
}

void
nappe_canvas_handles_take_back (NappeCanvasHandles *self)
{
  if (self->held == NULL)
    return;
  forget_held (self);
  nappe_document_drop_draft (self->document);
}

gboolean
nappe_canvas_handles_are_held (NappeCanvasHandles *self)
{
  return self->held != NULL;
}

const char *
nappe_canvas_handles_cursor (NappeCanvasHandles *self, double x, double y)
{
  NappeCanvasHandle *handle = self->held != NULL ? self->held : find (self, x, y);

  if (handle == NULL)
    return NULL;
  return nappe_canvas_handle_get (handle)->upright ? "ns-resize" : "ew-resize";
}

char *
nappe_canvas_handles_tip (NappeCanvasHandles *self, double x, double y)
{
  NappeCanvasHandle *widget = self->held == NULL ? find (self, x, y) : NULL;
  const NappeHandle *handle = widget != NULL ? nappe_canvas_handle_get (widget) : NULL;
  g_autofree char *value = NULL;

  if (handle == NULL)
    return NULL;
  value = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, handle->value, units_of (self), 0);
  /* Translators: over a handle in a picture: the name of a part, the number of it that the handle changes, that number. */
  return g_strdup_printf (_("%1$s: %2$s %3$s\nDrag to change it"), name_of (self, handle), handle->label, value);
}

gboolean
nappe_canvas_handles_focus (NappeCanvasHandles *self)
{
  return self->widgets->len > 0 && gtk_widget_grab_focus (self->widgets->pdata[0]);
}

NappeCanvasHandles *
nappe_canvas_handles_new (GtkWidget *canvas, NappeDocument *document)
{
  NappeCanvasHandles *self = g_new0 (NappeCanvasHandles, 1);

  self->canvas = canvas;
  self->document = g_object_ref (document);
  g_signal_connect_swapped (document, "drafted", G_CALLBACK (drafted), self);
  self->widgets = g_ptr_array_new ();
  self->guides = g_array_new (FALSE, FALSE, sizeof (NappeGuide));
  self->words = g_string_chunk_new (128);
  return self;
}

void
nappe_canvas_handles_free (NappeCanvasHandles *self)
{
  g_clear_handle_id (&self->hide_live, g_source_remove);
  g_signal_handlers_disconnect_by_data (self->document, self);
  nappe_document_drop_draft (self->document);
  g_clear_pointer (&self->before, nappe_outcome_unref);
  g_object_unref (self->document);
  g_ptr_array_unref (self->widgets);
  g_array_unref (self->guides);
  g_string_chunk_free (self->words);
  g_free (self);
}

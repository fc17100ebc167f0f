/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures as files. Everything is drawn into memory first and then replaces the file at once. */
#include "picture/picture-private.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <math.h>

/* Largest side of an image [pixel]: cairo's own limit. */
#define LARGEST_IMAGE 32767.0
#define POINTS_A_PIXEL 0.75
/* A fixed date, so that the same picture gives the same bytes. */
#define DATE "2000-01-01T00:00:00Z"

static cairo_status_t
collect (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t
draw_png (NappePicture *self, double scale, GByteArray *bytes)
{
  int width = (int) ceil (self->width * scale), height = (int) ceil (self->height * scale);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale, scale);
  nappe_picture_draw (self, cr);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_write_to_png_stream (surface, collect, bytes);
  cairo_surface_destroy (surface);
  return status;
}

static cairo_status_t
draw_svg (NappePicture *self, GByteArray *bytes)
{
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (collect, bytes, self->width, self->height);
  cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PX);
  cairo_t *cr = cairo_create (surface);
  nappe_picture_draw (self, cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

static cairo_status_t
draw_pdf (NappePicture *self, GByteArray *bytes)
{
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (collect, bytes, self->width * POINTS_A_PIXEL,
                                                                  self->height * POINTS_A_PIXEL);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Nappe");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, DATE);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, DATE);
  cairo_t *cr = cairo_create (surface);
  cairo_tag_begin (cr, "Document", NULL);
  cairo_scale (cr, POINTS_A_PIXEL, POINTS_A_PIXEL);
  nappe_picture_draw (self, cr);
  cairo_show_page (cr);
  cairo_tag_end (cr, "Document");
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

static gboolean
ends_with (const char *path, const char *ending)
{
  gsize length = strlen (path), wanted = strlen (ending);
  return length > wanted && g_ascii_strcasecmp (path + length - wanted, ending) == 0;
}

gboolean
nappe_picture_export (NappePicture *self, const char *path, double scale, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_status_t status;
  if (ends_with (path, ".png"))
    {
      if (!(scale > 0) || self->width * scale > LARGEST_IMAGE || self->height * scale > LARGEST_IMAGE)
        {
          g_set_error (error, NAPPE_PICTURE_ERROR, NAPPE_PICTURE_ERROR_SIZE,
                       /* Translators: of an image file; %g is a scale, %.0f a number of pixels */
                       _("%s: at the scale %g no image can be made; its sides must lie within 1 and %.0f pixels"), path, scale,
                       LARGEST_IMAGE);
          return FALSE;
        }
      status = draw_png (self, scale, bytes);
    }
  else if (ends_with (path, ".svg"))
    status = draw_svg (self, bytes);
  else if (ends_with (path, ".pdf"))
    status = draw_pdf (self, bytes);
  else
    {
      g_set_error (error, NAPPE_PICTURE_ERROR, NAPPE_PICTURE_ERROR_FORMAT,
                   _("%s: a picture can be written as .svg, .png or .pdf"), path);
      return FALSE;
    }
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, NAPPE_PICTURE_ERROR, NAPPE_PICTURE_ERROR_DRAW, _("%s: drawing failed: %s"), path,
                   cairo_status_to_string (status));
      return FALSE;
    }
  return g_file_set_contents_full (path, (const char *) bytes->data, (gssize) bytes->len,
                                   G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0644, error);
}

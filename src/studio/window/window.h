/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One window with one document. Everything it can do is a named action:
 *
 *  win.open, win.open-uri (s), win.stop-loading, win.save, win.save-as, win.export-sheet, win.export-picture
 *  win.undo, win.redo, win.show-state ("running" or "power-cut"), win.toggle-state
 *  win.view ("elevation", "flow", "plan", "panes" or "time"), win.zoom-in, win.zoom-out, win.zoom-fit
 *  win.side-panel (b), win.panel ("findings" or "part"), win.next-finding, win.previous-finding
 *  win.select (s, the id of a part; "" for none), win.close */
#pragma once

#include <adwaita.h>

#include "file/rescue.h"
#include "studio/document/document.h"
#include "studio/application/preferences.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_WINDOW (nappe_window_get_type ())
G_DECLARE_FINAL_TYPE (NappeWindow, nappe_window, NAPPE, WINDOW, AdwApplicationWindow)

NappeWindow *nappe_window_new (GtkApplication *application, NappePreferences *preferences);

NappeDocument *nappe_window_get_document (NappeWindow *self);
/* Whether another file can be put in without losing anything: nothing has been opened. */
gboolean nappe_window_is_empty (NappeWindow *self);
/* Reads a file; what is wrong with it is said in the window, whose old document stays. */
void nappe_window_open_file (NappeWindow *self, GFile *file);
/* Reads some, each into a window of its own, the first into this one when nothing is open in it. A table of numbers, by its
 * name, is taken for the curve of a pump to put into the person's own catalogue. */
void nappe_window_open_files (NappeWindow *self, GFile *const *files, guint n);
/* No more than so many at once. */
#define NAPPE_WINDOW_FILES_MAX 20u

/* Puts in a build with unsaved changes from the copy that was kept of them, which the window goes on with. Takes the copy,
 * not the build. */
void nappe_window_restore (NappeWindow *self, NappeBuild *build, NappeRescue *rescue);
/* The window that shows or reads a file; NULL: none. Not owned. */
NappeWindow *nappe_window_find (GtkApplication *application, GFile *file);

/* The id of the picked part, or NULL. */
const char *nappe_window_get_selected (NappeWindow *self);
void nappe_window_select (NappeWindow *self, const char *part);

G_END_DECLS

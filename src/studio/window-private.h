/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the window share; for window*.c alone. */
#pragma once

#include "studio/canvas.h"
#include "studio/findings-panel.h"
#include "studio/part-panel.h"
#include "studio/window.h"

G_BEGIN_DECLS

struct _NappeWindow
{
  AdwApplicationWindow parent_instance;
  NappePreferences *preferences;
  NappeDocument *document;
  char *selected;            /* id of the picked part; NULL: none */
  NappePartPanel *part_panel; /* NULL until it is needed */
  gboolean closing;          /* the person has said what happens to unsaved changes */
  gboolean made;             /* the template's children are there */
  gboolean warned;           /* of the user's own catalogue */
  GtkFileChooserNative *chooser; /* that is open; NULL: none */

  AdwViewSwitcherTitle *switcher_title;
  AdwViewStack *views;
  AdwToastOverlay *toasts;
  GtkLabel *file_label;
  GtkInfoBar *error_bar;
  GtkLabel *error_text;
  GtkStack *pages;           /* "empty", "loading", "build" */
  AdwFlap *flap;
  GtkStack *panels;          /* "findings", "part" */
  GtkBox *part_place;
  NappeCanvas *elevation, *flow;
  NappeFindingsPanel *findings;
  GtkMenuButton *recent_button, *menu_button;
  GMenuModel *main_menu;
};

/* The actions of files, in window-files.c. */
void nappe_window_install_file_actions (GtkWidgetClass *widget_class);
void nappe_window_add_drop_target (NappeWindow *self);
/* Asks what to do with unsaved changes; the window closes when the person agrees. */
void nappe_window_ask_before_closing (NappeWindow *self);

/* The actions of what is seen, in window-view.c. */
void nappe_window_install_view_actions (GtkWidgetClass *widget_class);
void nappe_window_update_view_actions (NappeWindow *self);
NappeCanvas *nappe_window_visible_canvas (NappeWindow *self);

/* Messages. Text is translated; an error stays until it is closed. */
void nappe_window_say (NappeWindow *self, const char *text);
void nappe_window_show_error (NappeWindow *self, const char *text); /* NULL takes it away */

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the window share; for window*.c alone. */
#pragma once

#include "studio/document/autosave.h"
#include "studio/canvas/canvas.h"
#include "studio/canvas/chart-view.h"
#include "studio/findings/cure-finder.h"
#include "studio/time/event-list.h"
#include "studio/findings/findings-panel.h"
#include "studio/parts/part-panel.h"
#include "studio/time/player.h"
#include "studio/window/preview-bar.h"
#include "studio/time/time-view.h"
#include "studio/window/window.h"

G_BEGIN_DECLS

struct _NappeWindow
{
  AdwApplicationWindow parent_instance;
  NappePreferences *preferences;
  NappeDocument *document;
  NappeAutosave *autosave;
  char *selected;            /* id of the picked part; NULL: none */
  NappePartPanel *part_panel; /* NULL until it is needed */
  NappePlayer *player;       /* it and the two below are NULL until time is first looked at */
  NappeTimeView *time_view;
  NappeEventList *events;
  NappeChartView *chart_view; /* NULL until charts are first looked at */
  NappeCureFinder *finder;
  NappeOutcome *preview;     /* the build with the cure that the pictures show; NULL: they show the build */
  GtkWidget *focus_before;   /* a preview; weak */
  gboolean preview_hides_panel;
  gboolean closing;          /* the person has said what happens to unsaved changes */
  gboolean made;             /* the template's children are there */
  gboolean warned;           /* of the user's own catalogue */
  GtkFileChooserNative *chooser; /* that is open; NULL: none */
  GtkWidget *close_question; /* that waits for an answer; NULL: none; weak */
  GCancellable *loading;     /* the reading that is under way; it and its file are NULL: none is */
  GFile *loading_file;

  AdwViewSwitcherTitle *switcher_title;
  AdwViewSwitcherBar *switcher_bar;
  AdwViewStack *views;
  AdwToastOverlay *toasts;
  GtkLabel *file_label;
  GtkInfoBar *error_bar;
  GtkLabel *error_text;
  GtkInfoBar *disk_bar;      /* another program has changed the file */
  GtkLabel *disk_text;
  GtkWidget *reload_button, *keep_button, *save_button;
  GtkStack *pages;           /* "empty", "loading", "build" */
  AdwFlap *flap;             /* the page "build"; it waits outside until there is one */
  GtkStack *panels;          /* "findings", "part", "events" */
  GtkBox *part_place, *time_place, *events_place, *chart_place;
  GtkWidget *state_switch;   /* running or after a power cut; hidden where time is looked at, of no use for charts */
  NappePreviewBar *preview_bar;
  GtkWidget *undo_button, *redo_button;
  NappeCanvas *elevation, *flow, *plan, *panes;
  NappeFindingsPanel *findings;
  GtkMenuButton *recent_button, *menu_button;
  GMenuModel *main_menu;
  GMenu *history_menu; /* the section of it that undoes */
};

/* Opening, in window-open.c. */
void nappe_window_install_open_actions (GtkWidgetClass *widget_class);
void nappe_window_add_drop_target (NappeWindow *self);
/* Forgets the reading that is under way; what was open stays. */
void nappe_window_stop_loading (NappeWindow *self);
/* The document's file is one of the recent ones from now on. */
void nappe_window_remember_file (NappeWindow *self);
/* Puts in what is in the document's file now. */
void nappe_window_reload (NappeWindow *self);

/* The actions of files, in window-files.c. */
void nappe_window_install_file_actions (GtkWidgetClass *widget_class);
/* Asks where to write an export. ending: behind the build's name, with the format that is suggested. response: as of a
 * GtkNativeDialog, with the window; it begins with nappe_window_take_target. */
void nappe_window_ask_target (NappeWindow *self, const char *title, const char *ending, GCallback response);
/* The file that was chosen, transfer full, with one of the endings, else with the first of them; NULL: none. */
GFile *nappe_window_take_target (NappeWindow *self, int response, const char *const *endings);
/* Says that an export is written, or why it is not. Takes a reference of the window. */
void nappe_window_exported (GObject *source, GAsyncResult *result, gpointer user_data);
/* Asks what to do with unsaved changes; the window closes when the person agrees. */
void nappe_window_ask_before_closing (NappeWindow *self);

/* What other programs do to the file, in window-disk.c. */
void nappe_window_install_disk_actions (GtkWidgetClass *widget_class);
void nappe_window_update_disk (NappeWindow *self);

/* The actions of what is seen, in window-view.c. */
void nappe_window_install_view_actions (GtkWidgetClass *widget_class);
void nappe_window_update_view_actions (NappeWindow *self);
NappeCanvas *nappe_window_visible_canvas (NappeWindow *self);

/* A part picked in a picture; NULL: none. In window.c. */
void nappe_window_picked_in_picture (NappeWindow *self, const char *part);

/* Time, in window-time.c. */
void nappe_window_install_time_actions (GtkWidgetClass *widget_class);
void nappe_window_make_time (NappeWindow *self);
void nappe_window_drop_time (NappeWindow *self);
void nappe_window_set_time_outcome (NappeWindow *self, NappeOutcome *outcome);
void nappe_window_update_time_actions (NappeWindow *self);
void nappe_window_export_moment_to (NappeWindow *self, GFile *target);
/* What stands behind the actions with a state: the id of the chosen case, and how fast time runs, "10". */
const char *nappe_window_get_case (NappeWindow *self);
void nappe_window_choose_case (NappeWindow *self, const char *id);
/* Adds the views of the sump from above and of the drilled panes. */
void nappe_window_add_plans (NappeWindow *self);
/* The canvas of a kind of picture. */
NappeCanvas *nappe_window_get_canvas (NappeWindow *self, NappePictureKind kind);
const char *nappe_window_get_moving_picture (NappeWindow *self); /* "elevation" or "flow" */
void nappe_window_set_moving_picture (NappeWindow *self, const char *name);
char *nappe_window_get_speed (NappeWindow *self); /* transfer full */
void nappe_window_set_speed (NappeWindow *self, const char *speed);

/* Cures, in window-cures.c. */
void nappe_window_install_cure_actions (GtkWidgetClass *widget_class);
void nappe_window_update_cure_actions (NappeWindow *self);
/* The document has another outcome, or none: the pictures and the search for cures take it. */
void nappe_window_set_cures_outcome (NappeWindow *self, NappeOutcome *outcome);
/* The build is about to be studied anew. */
void nappe_window_forget_cures (NappeWindow *self);
/* Both pictures show the build, a number of it being tried, or the build with the cure that is looked at. */
void nappe_window_show_in_pictures (NappeWindow *self);
void nappe_window_leave_preview (NappeWindow *self);

/* Answers, limits and weights, in window-judging.c. */
void nappe_window_install_judging_actions (GtkWidgetClass *widget_class);
void nappe_window_update_judging_actions (NappeWindow *self);

/* Adding, taking away and copying parts, in window-parts.c. */
void nappe_window_install_part_actions (GtkWidgetClass *widget_class);
void nappe_window_update_part_actions (NappeWindow *self);

/* From the picked part to its chart, in window-charts.c. */
void nappe_window_install_chart_actions (GtkWidgetClass *widget_class);
void nappe_window_update_chart_action (NappeWindow *self);


/* Undoing and saving, in window.c. */
void nappe_window_update_history_actions (NappeWindow *self);

/* What was under way may keep a window that has been closed: nothing is shown in it any more. */
gboolean nappe_window_is_closed (NappeWindow *self);

/* Messages. Text is translated; an error stays until it is closed. */
void nappe_window_say (NappeWindow *self, const char *text);
void nappe_window_say_undoable (NappeWindow *self, const char *text); /* with a button that undoes the last step */
void nappe_window_show_error (NappeWindow *self, const char *text); /* NULL takes it away */

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A studio inside the test program: the application, a window on a demo build, waiting, pictures. */
#pragma once

#include "studio/application/application.h"
#include "studio/preferences/preferences-window.h"
#include "studio/window/window.h"

G_BEGIN_DECLS

typedef struct
{
  NappeApplication *application;
  NappeWindow *window;
  NappeDocument *document;
} StudioFixture;

/* Registers the application in this process; once a program. */
NappeApplication *studio_fixture_application (void);

/* A window on screen with nothing open. */
void studio_fixture_open (StudioFixture *self, NappeApplication *application);
/* Opens a copy of a demo, "three-drain.nappe", and waits for its study and picture. */
void studio_fixture_load (StudioFixture *self, const char *demo);
void studio_fixture_close (StudioFixture *self);

/* One test with a window of its own, opened before and closed after it. */
typedef struct
{
  const char *path; /* "/studio/window/…" */
  void (*run) (StudioFixture *self, gconstpointer application);
} StudioTest;
/* The whole of a test program: starts the toolkit and the application in light style, runs the tests. Its exit status. */
int studio_fixture_run (int *argc, char ***argv, const StudioTest *tests, gsize n);

/* Runs the main loop until a condition holds; fails after some seconds. */
typedef gboolean (*StudioCondition) (StudioFixture *self);
void studio_fixture_wait (StudioFixture *self, StudioCondition condition);
/* Until the study of the present build is there, and two frames more. */
void studio_fixture_settle (StudioFixture *self);

/* Runs the main loop for a while [s]. */
void studio_fixture_pause (double seconds);

/* A window of a type; NULL: none. */
GtkWidget *studio_fixture_find_window (GType type);
/* The row of a list below `root` with a title; NULL: none. */
GtkWidget *studio_fixture_find_row (GtkWidget *root, const char *title);
/* Chooses in such a row. */
void studio_fixture_choose (GtkWidget *root, const char *title, guint index);
/* Whether there is a button of an action below `root` that can be pressed. */
gboolean studio_fixture_can_press (GtkWidget *root, const char *action);
NappePreferencesWindow *studio_fixture_open_preferences (StudioFixture *self);
/* A question that is on screen; NULL: none. */
GtkWidget *studio_fixture_find_dialog (void);
gboolean studio_fixture_is_asking (StudioFixture *self);
/* Waits for a question, gives one of its responses, and takes it away. */
void studio_fixture_answer (StudioFixture *self, const char *response);

/* Runs an action; fails when there is none of the name. */
void studio_fixture_act (StudioFixture *self, const char *action, const char *parameter);

/* The first widget below `root` of a type and with an accessible or visible name; NULL: any. */
GtkWidget *studio_fixture_find (GtkWidget *root, GType type, const char *css_class);

/* Draws a widget as it is now; transfer full. Fails when nothing is drawn. */
GdkTexture *studio_fixture_texture (GtkWidget *widget);
/* Draws the window into a PNG in the build folder, to be looked at. */
void studio_fixture_picture (StudioFixture *self, const char *name);
/* The same with another window of the program. */
void studio_fixture_picture_of (StudioFixture *self, GtkWidget *window, const char *name);

G_END_DECLS

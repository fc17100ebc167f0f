/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/window/export.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "file/file.h"
#include "picture/curves/course-csv.h"
#include "picture/curves/curves.h"

/* The size of an exported picture [px]. */
#define PICTURE_WIDTH 1400.0
#define PICTURE_HEIGHT 900.0

/* What is to be written. Owned by its task. */
typedef struct
{
  NappeOutcome *outcome;
  GFile *target;
  char *file_name; /* of a sheet's build; NULL: it is no sheet */
  NappePaper paper;
  NappePictureOptions picture;
  NappeSimulation *course; /* of a moment or of curves; else NULL */
  gboolean curves;
  NappeChartKind chart;
  char *chart_part; /* id; NULL: it is no chart */
  GApplication *application; /* held; NULL: there is none */
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  nappe_outcome_unref (job->outcome);
  g_object_unref (job->target);
  g_clear_pointer (&job->course, nappe_simulation_unref);
  g_free (job->file_name);
  g_free (job->chart_part);
  g_clear_object (&job->application);
  g_free (job);
}

static gboolean
write_sheet (Job *job, const char *path, GError **error)
{
  const NappeOutcome *outcome = job->outcome;
  g_autofree char *hash = nappe_file_hash (outcome->build);
  const NappeSheetOptions options = {
    .paper = job->paper, .units = outcome->units, .file_name = job->file_name, .file_hash = hash,
  };

  return nappe_sheet_write (&options, outcome->build, outcome->layout, outcome->study, outcome->verdict, path, error);
}

static gboolean
write_picture (Job *job, const char *path, GError **error)
{
  const NappeOutcome *outcome = job->outcome;
  g_autoptr (NappePicture) picture = nappe_picture_new (&job->picture, outcome->build, outcome->layout,
                                                        outcome->study, outcome->verdict);

  return nappe_picture_export (picture, path, 1.0, error);
}

static gboolean
write_curves (Job *job, const char *path, GError **error)
{
  const NappeCurvesOptions options = {
    .palette = NAPPE_PALETTE_PRINT, .units = job->outcome->units, .width = PICTURE_WIDTH, .height = PICTURE_HEIGHT,
    .text_scale = 1.0, .title = TRUE, .cursor = NAN,
  };
  g_autoptr (NappePicture) picture = NULL;

  if (g_str_has_suffix (path, ".csv"))
    {
      g_autofree char *table = nappe_course_csv (job->course, 0.0);
      return g_file_set_contents_full (path, table, -1, G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0644,
                                       error);
    }
  picture = nappe_curves_new (&options, job->outcome->build, job->course);
  return nappe_picture_export (picture, path, 1.0, error);
}

static gboolean
write_chart (Job *job, const char *path, GError **error)
{
  const NappeChartOptions options = {
    .kind = job->chart, .part = job->chart_part, .palette = NAPPE_PALETTE_PRINT, .units = job->outcome->units,
    .width = PICTURE_WIDTH, .height = PICTURE_HEIGHT, .text_scale = 1.0, .title = TRUE, .verdict = job->outcome->verdict,
    .spread = job->outcome->spread,
  };
  g_autoptr (NappePicture) picture = nappe_chart_new (&options, job->outcome->build, job->outcome->study);

  return nappe_picture_export (picture, path, 1.0, error);
}

/* What is written says all that the rules say, also when the window does not know it yet. Moments and curves say nothing of
 * findings. */
static void
complete_findings (Job *job)
{
  NappeOutcome *quick = job->outcome;

  if (quick->timed || job->course != NULL)
    return;
  job->outcome = nappe_outcome_refine (quick, NULL);
  nappe_outcome_unref (quick);
}

static void
run (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  g_autofree char *path = g_file_get_path (job->target);
  GError *error = NULL;
  gboolean done;

  if (path == NULL)
    {
      g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                               _("Only files on this computer can be written to"));
      return;
    }
  complete_findings (job);
  done = job->file_name != NULL ? write_sheet (job, path, &error)
         : job->chart_part != NULL ? write_chart (job, path, &error)
         : job->curves ? write_curves (job, path, &error)
                       : write_picture (job, path, &error);
  if (done)
    g_task_return_pointer (task, g_filename_display_basename (path), g_free);
  else
    g_task_return_error (task, error);
}

static void
start (Job *job, GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user_data);

  job->application = g_application_get_default ();
  if (job->application != NULL)
    g_application_hold (g_object_ref (job->application));
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, run);
}

static Job *
new_job (NappeOutcome *outcome, GFile *target)
{
  Job *job = g_new0 (Job, 1);

  job->outcome = nappe_outcome_ref (outcome);
  job->target = g_object_ref (target);
  job->picture = (NappePictureOptions) {
    .kind = NAPPE_PICTURE_ELEVATION,
    .palette = NAPPE_PALETTE_PRINT,
    .units = outcome->units,
    .width = PICTURE_WIDTH,
    .height = PICTURE_HEIGHT,
    .text_scale = 1.0,
    .title = TRUE,
  };
  return job;
}

void
nappe_export_sheet_async (NappeOutcome *outcome, const char *file_name, NappePaper paper, GFile *target,
                          GAsyncReadyCallback callback, gpointer user_data)
{
  Job *job = new_job (outcome, target);

  job->file_name = g_strdup (file_name);
  job->paper = paper;
  start (job, callback, user_data);
}

void
nappe_export_picture_async (NappeOutcome *outcome, NappePictureKind kind, NappeShownState shown, GFile *target,
                            GAsyncReadyCallback callback, gpointer user_data)
{
  Job *job = new_job (outcome, target);

  job->picture.kind = kind;
  job->picture.shown = shown;
  start (job, callback, user_data);
}

void
nappe_export_chart_async (NappeOutcome *outcome, NappeChartKind kind, const char *part, GFile *target,
                          GAsyncReadyCallback callback, gpointer user_data)
{
  Job *job = new_job (outcome, target);

  job->chart = kind;
  job->chart_part = g_strdup (part);
  start (job, callback, user_data);
}

void
nappe_export_moment_async (NappeOutcome *outcome, NappePictureKind kind, NappeSimulation *course, double time, GFile *target,
                           GAsyncReadyCallback callback, gpointer user_data)
{
  Job *job = new_job (outcome, target);

  job->course = nappe_simulation_ref (course);
  job->picture.kind = kind;
  job->picture.shown = NAPPE_SHOW_MOMENT;
  job->picture.course = course;
  job->picture.moment = time;
  start (job, callback, user_data);
}

void
nappe_export_curves_async (NappeOutcome *outcome, NappeSimulation *course, GFile *target, GAsyncReadyCallback callback,
                           gpointer user_data)
{
  Job *job = new_job (outcome, target);

  job->course = nappe_simulation_ref (course);
  job->curves = TRUE;
  start (job, callback, user_data);
}

char *
nappe_export_finish (GAsyncResult *result, GError **error)
{
  Job *job = g_task_get_task_data (G_TASK (result));

  if (job->application != NULL)
    g_application_release (job->application);
  return g_task_propagate_pointer (G_TASK (result), error);
}

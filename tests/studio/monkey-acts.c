/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Named actions, files, the clipboard, other programs. */
#include "monkey.h"

#include <string.h>

#include <glib/gstdio.h>

#include "file/file.h"
#include "rules/rules.h"

static const char *const hostile[] = {
  "",
  " ",
  "abc",
  "0",
  "-1",
  "1e308",
  "1e400",
  "-0",
  "nan",
  "inf",
  "0x10",
  "1/0",
  "3/4 in",
  "25 mm",
  "2,5",
  "1 2 3",
  "99999999999 m",
  "1e-320 mm",
  "100 %",
  "%s%n%d",
  "<b>&amp;",
  "\xe2\x80\xae"
  "abc",
  "\xf0\x9f\x90\x9f",
  "../../..",
  "file:///dev/zero",
  "null",
  "{}",
  "a name that goes on and on and on and on and on and on and on and on and on and on and on and on and on and on and "
  "on",
};

guint
monkey_pick (Monkey *self, guint n)
{
  return (guint) g_rand_int_range (self->rand, 0, (gint32) n);
}

const char *
monkey_text (Monkey *self, const GPtrArray *likely)
{
  if (likely != NULL && likely->len > 0 && monkey_pick (self, 4) > 0)
    return likely->pdata[monkey_pick (self, likely->len)];
  return hostile[monkey_pick (self, G_N_ELEMENTS (hostile))];
}

void
monkey_breathe (Monkey *self, guint rounds)
{
  for (guint i = 0; i < rounds; i++)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (500);
}

/* Actions */

static void
add_words (GPtrArray *words, const char *const *all)
{
  for (gsize i = 0; all[i] != NULL; i++)
    g_ptr_array_add (words, g_strdup (all[i]));
}

/* What an action that takes a text may be given. */
static GPtrArray *
words_for (Monkey *self, const char *action)
{
  static const char *const views[] = { "elevation", "flow", "plan", "panes", "time", "charts", NULL };
  static const char *const panels[] = { "findings", "part", "events", NULL };
  static const char *const states[] = { "running", "power-cut", NULL };
  static const char *const cases[] = { "power-cut", "restart", "outage", NULL };
  static const char *const speeds[] = { "1", "10", "60", "600", "-5", "1e99", NULL };
  GPtrArray *words;
  gsize n;

  if (g_str_equal (action, "win.select") || g_str_equal (action, "win.add-at"))
    return monkey_parts (self);
  words = g_ptr_array_new_with_free_func (g_free);
  if (g_str_equal (action, "win.view"))
    add_words (words, views);
  else if (g_str_equal (action, "win.panel"))
    add_words (words, panels);
  else if (g_str_equal (action, "win.show-state"))
    add_words (words, states);
  else if (g_str_equal (action, "win.case"))
    add_words (words, cases);
  else if (g_str_equal (action, "win.speed"))
    add_words (words, speeds);
  else if (g_str_equal (action, "win.moving-picture"))
    add_words (words, views);
  else if (g_str_equal (action, "win.about-rule") || g_str_equal (action, "win.weigh-rule"))
    for (const NappeRuleInfo *rule = nappe_rules_list (&n), *end = rule + n; rule < end; rule++)
      g_ptr_array_add (words, g_strdup (rule->id));
  return words;
}

/* A rule and a part: of a finding, or of none. */
static GVariant *
finding_words (Monkey *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->fixture.document);
  const GPtrArray *findings = outcome != NULL ? outcome->verdict->findings : NULL;
  NappeFinding *finding = findings != NULL && findings->len > 0 ? findings->pdata[monkey_pick (self, findings->len)] : NULL;

  if (finding == NULL || monkey_pick (self, 6) == 0)
    return g_variant_new ("(ss)", monkey_text (self, NULL), monkey_text (self, NULL));
  return g_variant_new ("(ss)", nappe_finding_get_rule (finding), nappe_finding_get_part (finding));
}

static GVariant *
parameter_for (Monkey *self, const char *action, const GVariantType *type)
{
  if (type == NULL)
    return NULL;
  if (g_variant_type_equal (type, G_VARIANT_TYPE_STRING))
    {
      g_autoptr (GPtrArray) words = words_for (self, action);
      return g_variant_new_string (monkey_text (self, words));
    }
  if (g_variant_type_equal (type, G_VARIANT_TYPE_BOOLEAN))
    return g_variant_new_boolean (monkey_pick (self, 2) == 0);
  if (g_variant_type_equal (type, G_VARIANT_TYPE_UINT32))
    return g_variant_new_uint32 (monkey_pick (self, 5) == 0 ? G_MAXUINT : monkey_pick (self, 5));
  g_assert_true (g_variant_type_equal (type, G_VARIANT_TYPE ("(ss)")));
  return finding_words (self);
}

static void
activate (Monkey *self, const char *name, const GVariantType *type)
{
  g_autoptr (GVariant) parameter = parameter_for (self, name, type);
  g_autofree char *shown = NULL;

  if (parameter != NULL)
    g_variant_ref_sink (parameter);
  shown = parameter != NULL ? g_variant_print (parameter, FALSE) : g_strdup ("");
  g_string_append_printf (self->did, " %s(%s)", name, shown);
  if (g_str_has_prefix (name, "app."))
    g_action_group_activate_action (G_ACTION_GROUP (self->fixture.application), name + strlen ("app."), parameter);
  else
    gtk_widget_activate_action_variant (GTK_WIDGET (self->fixture.window), name, parameter);
}

gboolean
monkey_chooses_file (const char *action)
{
  return g_str_equal (action, "win.open") || g_str_equal (action, "win.save-as") || g_str_has_prefix (action, "win.export-");
}

static void
act_window_action (Monkey *self)
{
  GtkWidgetClass *class = GTK_WIDGET_GET_CLASS (self->fixture.window);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  const GVariantType *type;
  const char *name, *property;
  guint chosen;
  GType owner;

  for (guint i = 0; gtk_widget_class_query_action (class, i, &owner, &name, &type, &property); i++)
    if (owner == NAPPE_TYPE_WINDOW && !monkey_chooses_file (name))
      g_ptr_array_add (names, GUINT_TO_POINTER (i));
  chosen = GPOINTER_TO_UINT (names->pdata[monkey_pick (self, names->len)]);
  gtk_widget_class_query_action (class, chosen, &owner, &name, &type, &property);
  activate (self, name, type);
}

static void
act_application_action (Monkey *self)
{
  GActionGroup *group = G_ACTION_GROUP (self->fixture.application);
  g_auto (GStrv) names = g_action_group_list_actions (group);
  const char *name = names[monkey_pick (self, g_strv_length (names))];
  g_autofree char *full = g_strconcat ("app.", name, NULL);

  activate (self, full, g_action_group_get_action_parameter_type (group, name));
}

static void
act_history (Monkey *self)
{
  const char *action = monkey_pick (self, 3) == 0 ? "win.redo" : "win.undo";

  for (guint i = 1 + monkey_pick (self, 4); i > 0; i--)
    activate (self, action, NULL);
}

/* Files */

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static void
act_open (Monkey *self)
{
  g_autoptr (GDir) folder = g_dir_open (self->folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (folder)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  /* In whatever order the system tells of them, a seed is to do the same. */
  g_ptr_array_sort (names, by_name);
  for (guint i = 1 + monkey_pick (self, 2); i > 0; i--)
    {
      const char *chosen = names->pdata[monkey_pick (self, names->len)];
      g_autofree char *path = g_build_filename (self->folder, chosen, NULL);
      g_autoptr (GFile) file = g_file_new_for_path (path);

      g_string_append_printf (self->did, " open %s", chosen);
      nappe_window_open_file (self->fixture.window, file);
    }
}

/* Another program at the file. */
static void
act_other_program (Monkey *self)
{
  const char *path = g_file_peek_path (self->file);
  g_autoptr (NappeBuild) build = nappe_document_get_build (self->fixture.document) != NULL
                                     ? nappe_build_copy (nappe_document_get_build (self->fixture.document)) : nappe_build_new ();

  switch (monkey_pick (self, 5))
    {
    case 0:
      g_string_append (self->did, " file deleted");
      g_unlink (path);
      g_rmdir (path);
      break;
    case 1:
      g_string_append (self->did, " file made a folder");
      g_unlink (path);
      g_mkdir (path, 0700);
      break;
    case 2:
      g_string_append (self->did, " file made garbage");
      g_file_set_contents (path, "{ \"format\": 7", -1, NULL);
      break;
    default:
      g_string_append (self->did, " file changed");
      g_rmdir (path);
      nappe_build_set_number (build, build->stand, "height", 0.5 + 0.01 * monkey_pick (self, 40), NULL);
      nappe_file_write (build, self->file, NULL, NULL);
    }
}

static void
act_paste (Monkey *self)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (self->fixture.window));
  g_autofree char *large = NULL;

  switch (monkey_pick (self, 4))
    {
    case 0:
      large = g_strnfill (3 * 1024 * 1024, '[');
      gdk_clipboard_set_text (clipboard, large);
      break;
    case 1:
      gdk_clipboard_set_text (clipboard, "{\"type\": \"drain\", \"nodes\": [{\"x\": 1e999}], \"part\": {\"id\": \"..\"}}");
      break;
    case 2:
      gdk_clipboard_set_text (clipboard, monkey_text (self, NULL));
      break;
    default:
      activate (self, "win.copy", NULL);
    }
  activate (self, "win.paste", NULL);
}

static void
act_resize (Monkey *self)
{
  int width = 1 + (int) monkey_pick (self, 1280), height = 1 + (int) monkey_pick (self, 820);

  g_string_append_printf (self->did, " %d×%d", width, height);
  gtk_window_set_default_size (GTK_WINDOW (self->fixture.window), width, height);
}

static void
act_wait (Monkey *self)
{
  monkey_breathe (self, 1 + monkey_pick (self, 200));
}

void
monkey_act (Monkey *self)
{
  static const struct
  {
    const char *name;
    guint weight; /* how often, beside the others */
    void (*act) (Monkey *self);
  } acts[] = {
    { "action", 25, act_window_action }, { "application", 4, act_application_action },
    { "history", 12, act_history },      { "pick", 12, monkey_pick_part },
    { "drag", 15, monkey_drag_handle },  { "touch", 40, monkey_touch_widget },
    { "open", 2, act_open },             { "other program", 2, act_other_program },
    { "paste", 3, act_paste },           { "resize", 3, act_resize },
    { "wait", 10, act_wait },
  };
  guint sum = 0, at;

  for (gsize i = 0; i < G_N_ELEMENTS (acts); i++)
    sum += acts[i].weight;
  at = monkey_pick (self, sum);
  for (gsize i = 0; i < G_N_ELEMENTS (acts); i++)
    {
      if (at < acts[i].weight)
        {
          g_string_append_printf (self->did, "%s:", acts[i].name);
          acts[i].act (self);
          return;
        }
      at -= acts[i].weight;
    }
}

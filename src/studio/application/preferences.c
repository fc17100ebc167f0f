/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/preferences.h"

#include <locale.h>
#include <string.h>

#include "build/kinds.h"
#include "config.h"

#define DEFAULT_WIDTH 1280
#define DEFAULT_HEIGHT 820
#define DEFAULT_RECENT 10
#define MOST_RECENT 50

struct _NappePreferences
{
  GObject parent_instance;
  GSettings *settings; /* NULL: the schema is not installed */
  char *currency, *currency_there; /* chosen, "" none; of the locale */
  char *units, *paper, *style, *folder;
  int width, height;
  int recent_max;
  gboolean maximized, reopen, session_held;
  GVariant *session, *margins;
};

G_DEFINE_FINAL_TYPE (NappePreferences, nappe_preferences, G_TYPE_OBJECT)

enum
{
  PROP_UNITS = 1,
  PROP_PAPER,
  PROP_STYLE,
  PROP_REOPEN,
  PROP_RECENT_MAX,
  PROP_CURRENCY,
  N_PROPS
};
static GParamSpec *properties[N_PROPS];
static guint own_parts_signal;

static const char *const unit_nicks[] = { "metric", "us", NULL };
static const char *const paper_nicks[] = { "a4", "letter", NULL };
static const char *const style_nicks[] = { "system", "light", "dark", NULL };

static const char *const *
nicks_of (guint property)
{
  return property == PROP_UNITS ? unit_nicks : property == PROP_PAPER ? paper_nicks : style_nicks;
}

static char **
place_of (NappePreferences *self, guint property)
{
  return property == PROP_UNITS ? &self->units : property == PROP_PAPER ? &self->paper : &self->style;
}

static guint
index_of (const char *const *nicks, const char *nick)
{
  for (guint i = 0; nicks[i] != NULL; i++)
    if (g_strcmp0 (nicks[i], nick) == 0)
      return i;
  return 0;
}

/* Settings may hold what another version or a hand wrote there. */
static gboolean
is_currency (const char *text)
{
  return text != NULL && strlen (text) <= NAPPE_CURRENCY_MAX && g_utf8_validate (text, -1, NULL);
}

/* TRUE: it is another one now. */
static gboolean
take_text (char **place, const char *text)
{
  if (g_strcmp0 (*place, text) == 0)
    return FALSE;
  g_free (*place);
  *place = g_strdup (text);
  return TRUE;
}

static gboolean
take_number (int *place, int value)
{
  gboolean changed = *place != value;

  *place = value;
  return changed;
}

static void
nappe_preferences_set_property (GObject *object, guint property, const GValue *value, GParamSpec *pspec)
{
  NappePreferences *self = NAPPE_PREFERENCES (object);
  gboolean changed = FALSE;
  const char *text;

  switch (property)
    {
    case PROP_RECENT_MAX:
      changed = take_number (&self->recent_max, g_value_get_int (value));
      break;
    case PROP_REOPEN:
      changed = take_number (&self->reopen, g_value_get_boolean (value));
      break;
    case PROP_CURRENCY:
      text = g_value_get_string (value);
      changed = is_currency (text) && take_text (&self->currency, text);
      break;
    default:
      text = g_value_get_string (value);
      changed = text != NULL && g_strv_contains (nicks_of (property), text) && take_text (place_of (self, property), text);
    }
  if (changed)
    g_object_notify_by_pspec (object, pspec);
}

static void
nappe_preferences_get_property (GObject *object, guint property, GValue *value, GParamSpec *pspec)
{
  if (property == PROP_REOPEN)
    g_value_set_boolean (value, NAPPE_PREFERENCES (object)->reopen);
  else if (property == PROP_RECENT_MAX)
    g_value_set_int (value, NAPPE_PREFERENCES (object)->recent_max);
  else if (property == PROP_CURRENCY)
    g_value_set_string (value, NAPPE_PREFERENCES (object)->currency);
  else
    g_value_set_string (value, *place_of (NAPPE_PREFERENCES (object), property));
}

static GSettings *
open_settings (void)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema
      = source != NULL ? g_settings_schema_source_lookup (source, NAPPE_APP_ID, TRUE) : NULL;

  return schema != NULL ? g_settings_new_full (schema, NULL, NULL) : NULL;
}

static void
nappe_preferences_constructed (GObject *object)
{
  NappePreferences *self = NAPPE_PREFERENCES (object);

  G_OBJECT_CLASS (nappe_preferences_parent_class)->constructed (object);
  self->settings = open_settings ();
  if (self->settings == NULL)
    return;
  g_settings_bind (self->settings, "units", self, "units", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->settings, "paper", self, "paper", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->settings, "style", self, "style", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->settings, "reopen", self, "reopen", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->settings, "currency", self, "currency", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (self->settings, "recent-files-max", self, "recent-max", G_SETTINGS_BIND_DEFAULT);
  nappe_preferences_set_session (self, g_settings_get_value (self->settings, "session"));
  nappe_preferences_set_margins (self, g_settings_get_value (self->settings, "margins"));
  self->width = g_settings_get_int (self->settings, "window-width");
  self->height = g_settings_get_int (self->settings, "window-height");
  self->maximized = g_settings_get_boolean (self->settings, "window-maximized");
  self->folder = g_settings_get_string (self->settings, "last-folder");
}

static void
nappe_preferences_finalize (GObject *object)
{
  NappePreferences *self = NAPPE_PREFERENCES (object);

  g_clear_object (&self->settings);
  g_free (self->units);
  g_free (self->paper);
  g_free (self->style);
  g_free (self->currency);
  g_free (self->currency_there);
  g_free (self->folder);
  g_variant_unref (self->session);
  g_variant_unref (self->margins);
  G_OBJECT_CLASS (nappe_preferences_parent_class)->finalize (object);
}

static void
nappe_preferences_class_init (NappePreferencesClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;

  object_class->constructed = nappe_preferences_constructed;
  object_class->finalize = nappe_preferences_finalize;
  object_class->set_property = nappe_preferences_set_property;
  object_class->get_property = nappe_preferences_get_property;
  properties[PROP_UNITS] = g_param_spec_string ("units", NULL, NULL, "metric", flags);
  properties[PROP_PAPER] = g_param_spec_string ("paper", NULL, NULL, "a4", flags);
  properties[PROP_STYLE] = g_param_spec_string ("style", NULL, NULL, "system", flags);
  properties[PROP_REOPEN] = g_param_spec_boolean ("reopen", NULL, NULL, TRUE, flags);
  properties[PROP_RECENT_MAX] = g_param_spec_int ("recent-max", NULL, NULL, 0, MOST_RECENT, DEFAULT_RECENT, flags);
  properties[PROP_CURRENCY] = g_param_spec_string ("currency", NULL, NULL, "", flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  own_parts_signal = g_signal_new ("own-parts-changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 0);
}

static void
nappe_preferences_init (NappePreferences *self)
{
  self->units = g_strdup (unit_nicks[0]);
  self->paper = g_strdup (paper_nicks[0]);
  self->style = g_strdup (style_nicks[0]);
  self->currency = g_strdup ("");
  self->currency_there = g_strstrip (g_strdup (localeconv ()->int_curr_symbol));
  self->reopen = TRUE;
  self->recent_max = DEFAULT_RECENT;
  self->margins = g_variant_ref_sink (g_variant_new_array (G_VARIANT_TYPE ("{sd}"), NULL, 0));
  self->session = g_variant_ref_sink (g_variant_new_array (G_VARIANT_TYPE ("(ss)"), NULL, 0));
  self->width = DEFAULT_WIDTH;
  self->height = DEFAULT_HEIGHT;
}

NappePreferences *
nappe_preferences_new (void)
{
  return g_object_new (NAPPE_TYPE_PREFERENCES, NULL);
}

NappeUnitSystem
nappe_preferences_get_units (NappePreferences *self)
{
  return (NappeUnitSystem) index_of (unit_nicks, self->units);
}

NappePaper
nappe_preferences_get_paper (NappePreferences *self)
{
  return (NappePaper) index_of (paper_nicks, self->paper);
}

NappeStyle
nappe_preferences_get_style (NappePreferences *self)
{
  return (NappeStyle) index_of (style_nicks, self->style);
}

const char *
nappe_preferences_get_currency (NappePreferences *self)
{
  return *self->currency != '\0' ? self->currency : self->currency_there;
}

const char *
nappe_preferences_get_usual_currency (NappePreferences *self)
{
  return self->currency_there;
}

gboolean
nappe_preferences_get_reopen (NappePreferences *self)
{
  return self->reopen;
}

GVariant *
nappe_preferences_get_session (NappePreferences *self)
{
  return g_variant_ref (self->session);
}

void
nappe_preferences_set_session (NappePreferences *self, GVariant *session)
{
  g_autoptr (GVariant) taken = g_variant_take_ref (session);

  if (self->session_held || g_variant_equal (self->session, taken))
    return;
  g_variant_unref (self->session);
  self->session = g_steal_pointer (&taken);
  if (self->settings != NULL)
    g_settings_set_value (self->settings, "session", self->session);
}

GVariant *
nappe_preferences_get_margins (NappePreferences *self)
{
  return g_variant_ref (self->margins);
}

void
nappe_preferences_set_margins (NappePreferences *self, GVariant *margins)
{
  g_autoptr (GVariant) taken = g_variant_take_ref (margins);

  if (g_variant_equal (self->margins, taken))
    return;
  g_variant_unref (self->margins);
  self->margins = g_steal_pointer (&taken);
  if (self->settings != NULL)
    g_settings_set_value (self->settings, "margins", self->margins);
}

void
nappe_preferences_own_parts_changed (NappePreferences *self)
{
  g_signal_emit (self, own_parts_signal, 0);
}

void
nappe_preferences_hold_session (NappePreferences *self, gboolean hold)
{
  self->session_held = hold;
}

guint
nappe_preferences_get_recent_max (NappePreferences *self)
{
  return (guint) self->recent_max;
}

void
nappe_preferences_get_window (NappePreferences *self, int *width, int *height, gboolean *maximized)
{
  *width = self->width;
  *height = self->height;
  *maximized = self->maximized;
}

void
nappe_preferences_set_window (NappePreferences *self, int width, int height, gboolean maximized)
{
  self->width = width;
  self->height = height;
  self->maximized = maximized;
  if (self->settings == NULL)
    return;
  g_settings_set_int (self->settings, "window-width", width);
  g_settings_set_int (self->settings, "window-height", height);
  g_settings_set_boolean (self->settings, "window-maximized", maximized);
}

GFile *
nappe_preferences_get_folder (NappePreferences *self)
{
  return self->folder != NULL && *self->folder != '\0' ? g_file_new_for_uri (self->folder) : NULL;
}

void
nappe_preferences_set_folder (NappePreferences *self, GFile *folder)
{
  g_free (self->folder);
  self->folder = folder != NULL ? g_file_get_uri (folder) : NULL;
  if (self->settings != NULL)
    g_settings_set_string (self->settings, "last-folder", self->folder != NULL ? self->folder : "");
}

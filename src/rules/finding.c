/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/finding-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct _NappeFinding
{
  GObject parent_instance;
  const char *rule, *title, *source; /* static */
  char *part;
  char *text, *remedy, *changed, *answer; /* NULL: "", as most are in what is fine */
  NappeSeverity severity;
  gboolean checked;
  guint number;
  double value, limit;
  NappeQuantity quantity;
  NappeWorking working;
  GPtrArray *levers; /* NappeLever */
};

enum
{
  PROP_0,
  PROP_RULE,
  PROP_TITLE,
  PROP_TEXT,
  PROP_REMEDY,
  PROP_SOURCE,
  PROP_PART,
  PROP_SEVERITY,
  PROP_NUMBER,
  PROP_CHECKED,
  PROP_CHANGED,
  PROP_ANSWER,
  N_PROPERTIES
};

G_DEFINE_FINAL_TYPE (NappeFinding, nappe_finding, G_TYPE_OBJECT)

static const char *
or_empty (const char *text)
{
  return text != NULL ? text : "";
}

static void
nappe_finding_finalize (GObject *object)
{
  NappeFinding *self = NAPPE_FINDING (object);
  g_free (self->part);
  g_free (self->text);
  g_free (self->remedy);
  g_free (self->changed);
  g_free (self->answer);
  g_ptr_array_unref (self->levers);
  nappe_working_clear (&self->working);
  G_OBJECT_CLASS (nappe_finding_parent_class)->finalize (object);
}

static void
nappe_finding_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  NappeFinding *self = NAPPE_FINDING (object);
  switch (id)
    {
    case PROP_RULE:
      g_value_set_static_string (value, self->rule);
      break;
    case PROP_TITLE:
      g_value_set_static_string (value, self->title);
      break;
    case PROP_TEXT:
      g_value_set_string (value, or_empty (self->text));
      break;
    case PROP_REMEDY:
      g_value_set_string (value, or_empty (self->remedy));
      break;
    case PROP_SOURCE:
      g_value_set_static_string (value, self->source);
      break;
    case PROP_PART:
      g_value_set_string (value, self->part);
      break;
    case PROP_SEVERITY:
      g_value_set_int (value, (int)self->severity);
      break;
    case PROP_NUMBER:
      g_value_set_uint (value, self->number);
      break;
    case PROP_CHECKED:
      g_value_set_boolean (value, self->checked);
      break;
    case PROP_CHANGED:
      g_value_set_string (value, or_empty (self->changed));
      break;
    case PROP_ANSWER:
      g_value_set_string (value, or_empty (self->answer));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
nappe_finding_class_init (NappeFindingClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  object_class->finalize = nappe_finding_finalize;
  object_class->get_property = nappe_finding_get_property;

  static const struct
  {
    guint id;
    const char *name;
  } texts[] = {
    { PROP_RULE, "rule" },     { PROP_TITLE, "title" },   { PROP_TEXT, "text" },
    { PROP_REMEDY, "remedy" }, { PROP_SOURCE, "source" }, { PROP_PART, "part" },
    { PROP_CHANGED, "changed" }, { PROP_ANSWER, "answer" },
  };
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_object_class_install_property (object_class, texts[i].id,
                                     g_param_spec_string (texts[i].name, NULL, NULL, "", flags));
  g_object_class_install_property (object_class, PROP_SEVERITY,
                                   g_param_spec_int ("severity", NULL, NULL, NAPPE_SEVERITY_FINE, NAPPE_SEVERITY_DANGER,
                                                     NAPPE_SEVERITY_FINE, flags));
  g_object_class_install_property (object_class, PROP_NUMBER,
                                   g_param_spec_uint ("number", NULL, NULL, 0, G_MAXUINT, 0, flags));
  g_object_class_install_property (object_class, PROP_CHECKED,
                                   g_param_spec_boolean ("checked", NULL, NULL, TRUE, flags));
}

static void
nappe_finding_init (NappeFinding *self)
{
  self->value = self->limit = NAN;
  self->checked = TRUE;
  nappe_working_init (&self->working);
}

NappeFinding *
nappe_finding_new (const char *rule, const char *title, const char *source, NappeSeverity severity, const char *part)
{
  NappeFinding *self = g_object_new (NAPPE_TYPE_FINDING, NULL);
  self->rule = rule;
  self->title = title;
  self->source = source;
  self->severity = severity;
  self->part = g_strdup (part);
  self->levers = g_ptr_array_new_with_free_func ((GDestroyNotify)nappe_lever_free);
  return self;
}

void
nappe_finding_set_title (NappeFinding *self, const char *title)
{
  self->title = title;
}

void
nappe_finding_set_checked (NappeFinding *self, gboolean checked)
{
  self->checked = checked;
}

void
nappe_finding_set_severity (NappeFinding *self, NappeSeverity severity)
{
  self->severity = severity;
}

void
nappe_finding_set_changed (NappeFinding *self, const char *changed)
{
  g_free (self->changed);
  self->changed = g_strdup (changed);
}

void
nappe_finding_set_answer (NappeFinding *self, const char *answer)
{
  g_free (self->answer);
  self->answer = g_strdup (answer);
}

void
nappe_finding_offer (NappeFinding *self, NappeLever *lever)
{
  g_ptr_array_add (self->levers, lever);
}

void
nappe_finding_set_number (NappeFinding *self, guint number)
{
  self->number = number;
}

void
nappe_finding_measure (NappeFinding *self, double value, double limit, NappeQuantity quantity)
{
  self->value = value;
  self->limit = limit;
  self->quantity = quantity;
}

static void add_sentence (char **text, const char *format, va_list arguments) G_GNUC_PRINTF (2, 0);

static void
add_sentence (char **text, const char *format, va_list arguments)
{
  char *sentence = g_strdup_vprintf (format, arguments);
  if (*text != NULL)
    {
      char *joined = g_strconcat (*text, " ", sentence, NULL);
      g_free (sentence);
      sentence = joined;
    }
  g_free (*text);
  *text = sentence;
}

void
nappe_finding_say (NappeFinding *self, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  add_sentence (&self->text, format, arguments);
  va_end (arguments);
}

void
nappe_finding_cure (NappeFinding *self, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  add_sentence (&self->remedy, format, arguments);
  va_end (arguments);
}

void
nappe_finding_formula (NappeFinding *self, const char *formula)
{
  nappe_working_set_formula (&self->working, formula);
}

void
nappe_finding_input (NappeFinding *self, const char *symbol, const char *label, double value, NappeQuantity quantity)
{
  nappe_working_add (&self->working, symbol, label, value, quantity);
}

const char *
nappe_finding_get_rule (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return self->rule;
}

const char *
nappe_finding_get_title (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return self->title;
}

const char *
nappe_finding_get_text (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return or_empty (self->text);
}

const char *
nappe_finding_get_remedy (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return or_empty (self->remedy);
}

const char *
nappe_finding_get_source (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return self->source;
}

const char *
nappe_finding_get_part (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return self->part;
}

gboolean
nappe_finding_get_checked (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), FALSE);
  return self->checked;
}

NappeSeverity
nappe_finding_get_severity (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), NAPPE_SEVERITY_FINE);
  return self->severity;
}

guint
nappe_finding_get_number (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), 0);
  return self->number;
}

double
nappe_finding_get_value (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), NAN);
  return self->value;
}

double
nappe_finding_get_limit (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), NAN);
  return self->limit;
}

NappeQuantity
nappe_finding_get_quantity (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), NAPPE_QUANTITY_NUMBER);
  return self->quantity;
}

const NappeWorking *
nappe_finding_get_working (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), NULL);
  return &self->working;
}

const char *
nappe_finding_get_changed (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return or_empty (self->changed);
}

const char *
nappe_finding_get_answer (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), "");
  return or_empty (self->answer);
}

const GPtrArray *
nappe_finding_get_levers (NappeFinding *self)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), NULL);
  return self->levers;
}

char *
nappe_finding_working_text (NappeFinding *self, NappeUnitSystem units)
{
  g_return_val_if_fail (NAPPE_IS_FINDING (self), g_strdup (""));
  return nappe_working_text (&self->working, units);
}

const char *
nappe_severity_nick (NappeSeverity severity)
{
  switch (severity)
    {
    case NAPPE_SEVERITY_DANGER:
      return "danger";
    case NAPPE_SEVERITY_PROBLEM:
      return "problem";
    case NAPPE_SEVERITY_ADVICE:
      return "advice";
    case NAPPE_SEVERITY_FINE:
    default:
      return "fine";
    }
}

const char *
nappe_severity_label (NappeSeverity severity)
{
  switch (severity)
    {
    case NAPPE_SEVERITY_DANGER:
      return _("Danger");
    case NAPPE_SEVERITY_PROBLEM:
      return _("Problem");
    case NAPPE_SEVERITY_ADVICE:
      return _("Advice");
    case NAPPE_SEVERITY_FINE:
    default:
      return _("Fine");
    }
}

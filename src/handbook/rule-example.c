/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "handbook/rule-example.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>
#include <string.h>

#include "file/variation.h"
#include "units/data-folder.h"

#define USUAL_BASE "three-drain.nappe"

static const char *
text_of (JsonObject *object, const char *member, const char *usual)
{
  JsonNode *node = json_object_get_member (object, member);
  const char *text = node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_string (node) : NULL;
  return text != NULL ? text : usual;
}

static JsonObject *
object_of (JsonNode *node)
{
  return node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
}

/* The example's own file. Transfer full. */
static JsonNode *
read_recipe (const char *rule, GError **error)
{
  g_autofree char *folder = nappe_data_folder ("handbook/rules");
  g_autofree char *name = g_strconcat (rule, ".json", NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) refusal = NULL;

  if (!json_parser_load_from_file (parser, path, &refusal))
    g_set_error_literal (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_READ, refusal->message);
  else if (object_of (json_parser_get_root (parser)) == NULL)
    g_set_error (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_FORMAT, _("%s is no example"), name);
  else
    return json_parser_steal_root (parser);
  return NULL;
}

static NappeBuild *
make_build (const char *rule, JsonObject *recipe, GError **error)
{
  g_autofree char *folder = nappe_data_folder ("demos");
  g_autofree char *path = g_build_filename (folder, text_of (recipe, "base", USUAL_BASE), NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (NappeBuild) build = nappe_file_read (file, NULL, error);
  JsonObject *variation = object_of (json_object_get_member (recipe, "variation"));

  if (build == NULL || (variation != NULL && !nappe_file_vary (build, variation, rule, error)))
    return NULL;
  return g_steal_pointer (&build);
}

static void
judge (NappeRuleExample *self, const char *rule, NappeCatalogue *catalogue, NappeUnitSystem units)
{
  const NappeRuleInfo *info = nappe_rules_find (rule);
  g_autoptr (GPtrArray) courses = NULL;

  self->layout = nappe_layout_new (self->build, catalogue);
  self->study = nappe_study_build (self->build, catalogue);
  if (info != NULL && info->timed)
    courses = nappe_rules_play (self->build, self->study, 0, 2, NULL);
  self->verdict = nappe_rules_run_timed (self->build, self->study, courses, units);
}

static NappeFinding *
find (const NappeVerdict *verdict, const char *rule, const char *part)
{
  for (guint i = 0; i < verdict->findings->len; i++)
    if (strcmp (nappe_finding_get_rule (verdict->findings->pdata[i]), rule) == 0
        && strcmp (nappe_finding_get_part (verdict->findings->pdata[i]), part) == 0)
      return verdict->findings->pdata[i];
  return NULL;
}

NappeRuleExample *
nappe_rule_example_new (const char *rule, NappeCatalogue *catalogue, NappeUnitSystem units, GError **error)
{
  g_autoptr (NappeRuleExample) self = g_new0 (NappeRuleExample, 1);
  g_autoptr (JsonNode) root = read_recipe (rule, error);
  JsonObject *recipe = object_of (root);

  if (recipe == NULL || (self->build = make_build (rule, recipe, error)) == NULL)
    return NULL;
  judge (self, rule, catalogue, units);
  const char *picture = text_of (recipe, "picture", "elevation");
  self->kind = strcmp (picture, "flow") == 0 ? NAPPE_PICTURE_FLOW : NAPPE_PICTURE_ELEVATION;
  self->shown = strcmp (picture, "power-cut") == 0 ? NAPPE_SHOW_POWER_CUT : NAPPE_SHOW_RUNNING;
  self->finding = find (self->verdict, rule, text_of (recipe, "part", ""));
  if (self->finding != NULL)
    return g_steal_pointer (&self);
  /* Translators: %s is the id of a rule. */
  g_set_error (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_EXAMPLE, _("the example of “%s” does not trip it"), rule);
  return NULL;
}

NappePicture *
nappe_rule_example_draw (const NappeRuleExample *self, const NappePictureOptions *options)
{
  NappePictureOptions own = *options;
  g_autoptr (GPtrArray) alone = g_ptr_array_new ();
  NappeVerdict verdict = *self->verdict;

  /* Whatever else there is to say of the example is not what the page is about. */
  g_ptr_array_add (alone, self->finding);
  verdict.findings = alone;
  own.kind = self->kind;
  own.shown = self->shown;
  own.selected = nappe_finding_get_part (self->finding);
  return nappe_picture_new (&own, self->build, self->layout, self->study, &verdict);
}

void
nappe_rule_example_free (NappeRuleExample *self)
{
  if (self == NULL)
    return;
  nappe_verdict_free (self->verdict);
  nappe_study_unref (self->study);
  nappe_layout_free (self->layout);
  g_clear_object (&self->build);
  g_free (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rule-fixture.h"

#include "file/file.h"

#include <math.h>
#include <string.h>

/* Heights over the room's floor [m] that follow from sound.nappe. */
#define TANK_FLOOR 0.810
#define BOX_FLOOR 0.810
#define SUMP_FLOOR 0.010

NappePart *
fixture_part (Fixture *self, const char *id)
{
  NappePart *part = nappe_build_find (self->build, id);
  g_assert_nonnull (part);
  return part;
}

void
fixture_set (Fixture *self, const char *id, const char *field, double value)
{
  g_autoptr (GError) error = NULL;
  NappePart *part = fixture_part (self, id);
  const NappeField *row = nappe_part_find_field (part, field);
  g_assert_nonnull (row);
  if (row->type == NAPPE_FIELD_NUMBER)
    nappe_build_set_number (self->build, part, field, value, &error);
  else
    {
      g_auto (GValue) number = G_VALUE_INIT;
      GType type = nappe_field_value_type (row);
      g_value_init (&number, type);
      if (type == G_TYPE_BOOLEAN)
        g_value_set_boolean (&number, value != 0);
      else
        g_value_set_int (&number, (int)value);
      nappe_build_set (self->build, part, field, &number, &error);
    }
  g_assert_no_error (error);
}

void
fixture_set_text (Fixture *self, const char *id, const char *field, const char *value)
{
  g_autoptr (GError) error = NULL;
  nappe_build_set_text (self->build, fixture_part (self, id), field, value, &error);
  g_assert_no_error (error);
}

void
fixture_remove (Fixture *self, const char *id)
{
  g_autoptr (GError) error = NULL;
  nappe_build_remove (self->build, fixture_part (self, id), &error);
  g_assert_no_error (error);
}

static void
init_state (Fixture *self, NappeState *state)
{
  state->level = g_new0 (double, self->network->n_nodes);
  state->flow = g_new0 (double, self->network->n_links);
  state->primed = g_new0 (gboolean, self->network->n_links);
}

double *
fixture_level (Fixture *self, NappeState *state, const char *id)
{
  gint node = nappe_network_find_node (self->network, id);
  g_assert_cmpint (node, >=, 0);
  return &state->level[node];
}

NappeLink *
fixture_link (Fixture *self, NappeLinkKind kind, const char *id)
{
  gint link = nappe_network_find_link (self->network, kind, id);
  g_assert_cmpint (link, >=, 0);
  return &self->network->links[link];
}

static void
set_level (Fixture *self, NappeState *state, const char *id, double level)
{
  gint node = nappe_network_find_node (self->network, id);
  if (node >= 0)
    state->level[node] = level;
}

static void
fill_running (Fixture *self)
{
  NappeState *state = &self->study->running;

  init_state (self, state);
  state->rest = NAPPE_REST_FOUND;
  state->pump_flow = state->display_flow = 2000 * LITRE_PER_HOUR;
  set_level (self, state, "tank", TANK_FLOOR + 0.458);
  set_level (self, state, "box", BOX_FLOOR + 0.330);
  set_level (self, state, "reservoir", SUMP_FLOOR + 0.300);
  set_level (self, state, "return", SUMP_FLOOR + 0.190);
  set_level (self, state, "skimmer-chamber", SUMP_FLOOR + 0.230);
  set_level (self, state, "drain-chamber", SUMP_FLOOR + 0.240);
}

/* A drain of which there is plenty. */
static void
fill_drain (Fixture *self, NappeDrainReport *report, guint link)
{
  const NappeLink *drain = &self->network->links[link];

  report->link = link;
  g_strlcpy (report->id, drain->id, sizeof report->id);
  report->role = drain->inlet.role;
  report->state = NAPPE_DRAIN_DRY;
  report->head_over_inlet = self->study->running.level[drain->from] - drain->inlet.crest;
  report->quiet_flow = 870 * LITRE_PER_HOUR;
  report->capacity_inlet = report->capacity_full = 5000 * LITRE_PER_HOUR;
  report->opening = report->opening_wanted = report->flow_valve_open = NAN;
  NappeTuningWindow *window = &report->window;
  window->breaks = window->channel_dry = window->channel_loud = window->emergency_wet = NAN;
  window->down = window->up = window->rise_per_percent = NAN;
}

static void
fill_siphon (Fixture *self)
{
  NappeDrainReport *siphon = self->siphon;

  self->study->running.primed[siphon->link] = TRUE;
  siphon->state = NAPPE_DRAIN_FULL;
  siphon->flow = 1900 * LITRE_PER_HOUR;
  siphon->froude = 1.9;
  siphon->velocity = 0.95;
  g_strlcpy (siphon->valve, "siphon-valve", sizeof siphon->valve);
  g_strlcpy (siphon->valve_kind, "gate", sizeof siphon->valve_kind);
  siphon->opening = siphon->opening_wanted = 0.5;
  siphon->flow_valve_open = 3000 * LITRE_PER_HOUR;
  siphon->window = (NappeTuningWindow){ TRUE, -0.20, -0.15, 0.25, 0.40, -0.15, 0.25, 0.003 };
}

static void
fill_drains (Fixture *self)
{
  NappeStudy *study = self->study;

  self->siphon = self->channel = self->emergency = NULL;
  for (guint i = 0; i < self->network->n_links; i++)
    study->n_drains += self->network->links[i].kind == NAPPE_LINK_DRAIN;
  study->drains = g_new0 (NappeDrainReport, study->n_drains);
  for (guint i = 0, next = 0; i < self->network->n_links; i++)
    {
      if (self->network->links[i].kind != NAPPE_LINK_DRAIN)
        continue;
      NappeDrainReport *report = &study->drains[next++];
      fill_drain (self, report, i);
      if (g_str_equal (report->id, "siphon"))
        self->siphon = report;
      else if (g_str_equal (report->id, "channel"))
        self->channel = report;
      else if (g_str_equal (report->id, "emergency"))
        self->emergency = report;
    }
  if (self->siphon != NULL)
    fill_siphon (self);
  if (self->channel != NULL)
    {
      self->channel->state = NAPPE_DRAIN_QUIET;
      self->channel->flow = 100 * LITRE_PER_HOUR;
      self->channel->froude = 0.034;
    }
}

static void
fill_pump_and_weir (Fixture *self)
{
  NappeStudy *study = self->study;
  const NappeLink *pump = fixture_link (self, NAPPE_LINK_PUMP, "pump");

  study->n_pumps = study->n_weirs = 1;
  self->pump = study->pumps = g_new0 (NappePumpReport, 1);
  *self->pump = (NappePumpReport){ .link = (guint)(pump - self->network->links),
                                   .id = "pump",
                                   .line = "line",
                                   .flow = 2000 * LITRE_PER_HOUR,
                                   .head = 1.8,
                                   .static_head = 1.07,
                                   .shut_off_head = 3.5,
                                   .end_flow = 4000 * LITRE_PER_HOUR,
                                   .submergence = 0.140,
                                   .submergence_wanted = 0.120,
                                   .lift_head = 1.13 };
  self->weir = study->weirs = g_new0 (NappeWeirReport, 1);
  *self->weir = (NappeWeirReport){ .link = 0,
                                   .id = "box",
                                   .flow = 2000 * LITRE_PER_HOUR,
                                   .film = 0.008,
                                   .fall = 0.120,
                                   .film_low = 0.007,
                                   .film_high = 0.009 };
}

static void
fill_cut (Fixture *self, NappePowerCut *cut)
{
  static const NappeLedgerLine ledger[] = { { NAPPE_LEDGER_DISPLAY, "tank", 15 * LITRE },
                                            { NAPPE_LEDGER_BOX, "box", 3 * LITRE },
                                            { NAPPE_LEDGER_RETURN_PIPES, "line", 2 * LITRE } };

  init_state (self, &cut->state);
  cut->known = TRUE;
  cut->state.rest = NAPPE_REST_FOUND;
  set_level (self, &cut->state, "tank", TANK_FLOOR + 0.445);
  set_level (self, &cut->state, "box", BOX_FLOOR + 0.250);
  set_level (self, &cut->state, "reservoir", SUMP_FLOOR + 0.300);
  set_level (self, &cut->state, "return", SUMP_FLOOR + 0.270);
  set_level (self, &cut->state, "skimmer-chamber", SUMP_FLOOR + 0.270);
  set_level (self, &cut->state, "drain-chamber", SUMP_FLOOR + 0.270);
  cut->n_ledger = G_N_ELEMENTS (ledger);
  cut->ledger = g_memdup2 (ledger, sizeof ledger);
  cut->run_back = 20 * LITRE;
  cut->sump_free = 60 * LITRE;
  cut->sump_margin = 0.130;
}

static void
fill_blockage (Fixture *self, NappeBlockage *blockage)
{
  init_state (self, &blockage->state);
  blockage->state.rest = NAPPE_REST_FOUND;
  blockage->display_rise = 0.012;
  blockage->freeboard = 0.030;
  blockage->time_to_rim = INFINITY;
}

static void
fill_blockages (Fixture *self)
{
  NappeStudy *study = self->study;
  guint n = study->n_drains, next = 0;

  study->n_blockages = n + (n >= 3 ? n * (n - 1) / 2 : 0) + (n > 1 ? 1 : 0);
  study->blockages = g_new0 (NappeBlockage, MAX (study->n_blockages, 1));
  for (guint i = 0; i < n; i++)
    study->blockages[next++]
        = (NappeBlockage){ .n_blocked = 1, .blocked = { study->drains[i].link }, .all_drains = n == 1 };
  for (guint i = 0; i < n && n >= 3; i++)
    for (guint j = i + 1; j < n; j++)
      study->blockages[next++]
          = (NappeBlockage){ .n_blocked = 2, .blocked = { study->drains[i].link, study->drains[j].link } };
  if (n > 1)
    study->blockages[next++] = (NappeBlockage){ .all_drains = TRUE };
  for (guint i = 0; i < study->n_blockages; i++)
    fill_blockage (self, &study->blockages[i]);
  study->weir_blocked = g_new0 (NappeBlockage, study->n_weirs);
  for (guint i = 0; i < study->n_weirs; i++)
    {
      study->weir_blocked[i] = (NappeBlockage){ .n_blocked = 1, .blocked = { study->weirs[i].link }, .open_share = 0.5 };
      fill_blockage (self, &study->weir_blocked[i]);
    }
  study->top_off_stuck.known = TRUE;
  study->top_off_stuck.cut.sump_margin = 0.100;
}

void
fixture_restudy (Fixture *self)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (self->build, self->catalogue);

  g_clear_pointer (&self->study, nappe_study_unref);
  self->network = nappe_network_compile (self->build, layout, self->catalogue);
  self->study = g_new0 (NappeStudy, 1);
  g_atomic_ref_count_init (&self->study->references);
  self->study->network = self->network;
  fill_running (self);
  fill_drains (self);
  fill_pump_and_weir (self);
  fill_cut (self, &self->study->cut_check_failed);
  fill_cut (self, &self->study->cut_check_holds);
  fill_cut (self, &self->study->cut_break_blocked);
  fill_blockages (self);
  self->study->display_turnover = 8 * PER_HOUR;
  self->study->display_volume = 250 * LITRE;
  self->study->pump_liftable = 10 * LITRE;
  self->study->display_free = 21 * LITRE;
}

/* The catalogue never changes, so all fixtures of a program share one: reading it is most of the work. */
static NappeCatalogue *
shared_catalogue (void)
{
  static NappeCatalogue *catalogue = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *data = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "catalogue", NULL);

  if (catalogue == NULL)
    catalogue = nappe_catalogue_load (data, NULL, NULL, &error);
  g_assert_no_error (error);
  return nappe_catalogue_ref (catalogue);
}

Fixture *
fixture_new (void)
{
  Fixture *self = g_new0 (Fixture, 1);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "rules", "sound.nappe", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  self->catalogue = shared_catalogue ();
  self->build = nappe_file_read (file, NULL, &error);
  g_assert_no_error (error);
  fixture_restudy (self);
  return self;
}

void
fixture_free (Fixture *self)
{
  nappe_verdict_free (self->verdict);
  nappe_study_unref (self->study);
  g_object_unref (self->build);
  nappe_catalogue_unref (self->catalogue);
  g_free (self);
}

NappeBlockage *
fixture_blockage (Fixture *self, const char *first, const char *second)
{
  for (guint i = 0; i < self->study->n_blockages; i++)
    {
      NappeBlockage *blockage = &self->study->blockages[i];
      if (first == NULL
              ? blockage->all_drains
              : blockage->n_blocked == (second != NULL ? 2 : 1)
                    && g_str_equal (self->network->links[blockage->blocked[0]].id, first)
                    && (second == NULL || g_str_equal (self->network->links[blockage->blocked[1]].id, second)))
        return blockage;
    }
  g_assert_not_reached ();
}

void
fixture_run (Fixture *self)
{
  g_clear_pointer (&self->verdict, nappe_verdict_free);
  self->verdict = nappe_rules_run (self->build, self->study, self->units);
}

static guint
count (GPtrArray *findings, const char *rule, const char *part, NappeFinding **found)
{
  guint n = 0;
  for (guint i = 0; i < findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (findings->pdata[i]), rule)
        && (part == NULL || g_str_equal (nappe_finding_get_part (findings->pdata[i]), part)))
      {
        *found = findings->pdata[i];
        n++;
      }
  return n;
}

NappeFinding *
fixture_expect (Fixture *self, const char *rule, const char *part, NappeSeverity severity)
{
  NappeFinding *found = NULL;
  guint n = count (self->verdict->findings, rule, part, &found);
  if (n != 1)
    g_error ("%u findings of %s about “%s”", n, rule, part != NULL ? part : "anything");
  g_assert_cmpstr (nappe_severity_nick (nappe_finding_get_severity (found)), ==, nappe_severity_nick (severity));
  g_assert_cmpstr (nappe_finding_get_remedy (found), !=, "");
  return found;
}

void
fixture_expect_fine (Fixture *self, const char *rule)
{
  NappeFinding *found = NULL;
  gboolean checked = FALSE;
  if (count (self->verdict->findings, rule, NULL, &found) > 0)
    g_error ("%s should be fine: %s", rule, nappe_finding_get_text (found));
  for (guint i = 0; i < self->verdict->fine->len; i++)
    checked = checked
              || (g_str_equal (nappe_finding_get_rule (self->verdict->fine->pdata[i]), rule)
                  && nappe_finding_get_checked (self->verdict->fine->pdata[i]));
  g_assert_true (checked);
}

void
fixture_expect_unchecked (Fixture *self, const char *rule)
{
  NappeFinding *found = NULL;
  if (count (self->verdict->findings, rule, NULL, &found) > 0)
    g_error ("%s should not be checked: %s", rule, nappe_finding_get_text (found));
  g_assert_cmpuint (count (self->verdict->fine, rule, NULL, &found), >=, 1);
  g_assert_false (nappe_finding_get_checked (found));
}

char *
fixture_plain (const char *text)
{
  GString *plain = g_string_new (text);
  g_string_replace (plain, "\342\200\211", " ", 0);
  g_string_replace (plain, "\342\200\257", " ", 0);
  return g_string_free (plain, FALSE);
}

void
fixture_expect_text (NappeFinding *finding, ...)
{
  g_autofree char *all = g_strconcat (nappe_finding_get_text (finding), "\n", nappe_finding_get_remedy (finding), NULL);
  g_autofree char *plain = fixture_plain (all);
  const char *wanted;
  va_list arguments;

  va_start (arguments, finding);
  while ((wanted = va_arg (arguments, const char *)) != NULL)
    if (strstr (plain, wanted) == NULL)
      {
        g_test_message ("“%s” is not in: %s", wanted, plain);
        g_test_fail ();
      }
  va_end (arguments);
}

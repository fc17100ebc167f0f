/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages of the handbook are read as they are written, and their examples are computed and drawn. */
#include "handbook/handbook.h"

#include <string.h>

#include "file/file.h"

static void
test_parse (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeRulePage) page = nappe_rule_page_parse (
      "a-rule", "# Title\n\n## First\nTwo lines\nof one paragraph.\n\nAnother.\n- an item\n- one more\n## Second\nEnd.",
      &error);

  g_assert_no_error (error);
  g_assert_cmpstr (page->title, ==, "Title");
  g_assert_cmpuint (page->sections->len, ==, 2);
  const NappePageSection *first = page->sections->pdata[0], *second = page->sections->pdata[1];
  g_assert_cmpstr (first->heading, ==, "First");
  g_assert_cmpuint (first->paragraphs->len, ==, 4);
  g_assert_cmpstr (first->paragraphs->pdata[0], ==, "Two lines of one paragraph.");
  g_assert_cmpstr (first->paragraphs->pdata[2], ==, "- an item");
  g_assert_cmpstr (second->paragraphs->pdata[0], ==, "End.");
}

static void
test_wrong_pages (void)
{
  static const char *const wrong[] = { "", "Text alone.", "# Title", "## Section\nwithout a title" };

  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_null (nappe_rule_page_parse ("a-rule", wrong[i], &error));
      g_assert_error (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_FORMAT);
    }
  g_autoptr (GError) error = NULL;
  g_assert_null (nappe_rule_page_read ("no-such-rule", &error));
  g_assert_error (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_READ);
}

static NappeCatalogue *
load_catalogue (void)
{
  g_autoptr (GError) error = NULL;
  NappeCatalogue *catalogue = nappe_catalogue_load_default (NULL, &error);

  g_assert_no_error (error);
  return catalogue;
}

/* The example says on its page what the rule says of it, in the units asked for, and its picture has its finding's pin. */
static void
test_example (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = load_catalogue ();
  g_autoptr (NappeRulePage) page = nappe_rule_page_read ("emergency-misplaced", &error);
  g_assert_no_error (error);
  g_autoptr (NappeRuleExample) example
      = nappe_rule_example_new ("emergency-misplaced", catalogue, NAPPE_UNITS_US, &error);
  g_assert_no_error (error);
  g_autofree char *text = nappe_handbook_page_text (page, example, "figure.svg", NAPPE_UNITS_US);
  g_assert_nonnull (strstr (text, "gal/h"));
  g_assert_nonnull (strstr (text, "(figure.svg)"));
  g_assert_nonnull (strstr (text, nappe_finding_get_text (example->finding)));
  const NappePictureOptions options = { .width = 1000, .height = 680, .text_scale = 1 };
  g_autoptr (NappePicture) picture = nappe_rule_example_draw (example, &options);
  guint n;
  nappe_picture_items (picture, &n);
  g_assert_cmpuint (n, >, 10);
}

/* An example whose file is there but whose rule is another's finds nothing, and says so. */
static void
test_example_of_nothing (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = load_catalogue ();

  g_assert_null (nappe_rule_example_new ("no-such-rule", catalogue, NAPPE_UNITS_METRIC, &error));
  g_assert_error (error, NAPPE_HANDBOOK_ERROR, NAPPE_HANDBOOK_ERROR_READ);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/handbook/parse", test_parse);
  g_test_add_func ("/handbook/wrong-pages", test_wrong_pages);
  g_test_add_func ("/handbook/example", test_example);
  g_test_add_func ("/handbook/example-of-nothing", test_example_of_nothing);
  return g_test_run ();
}

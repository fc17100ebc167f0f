/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build with all that a picture is made from. */
#pragma once

#include "picture/picture.h"

typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue;
  NappeStudy *study;
  NappeLayout *layout;
  NappeVerdict *verdict;
} PictureFixture;

/* The shipped demos. */
#define DEMO_COUNT 3
extern const char *const demo_names[DEMO_COUNT];
/* The demos, and builds of the tests with every other kind of part. */
#define DRAWN_COUNT 12
extern const char *const drawn_names[DRAWN_COUNT];

/* Reads data/demos/NAME.nappe, or tests/NAME.nappe for a name with a folder, and computes everything; aborts the test
 * when it cannot. */
PictureFixture *picture_fixture_new (const char *name);
/* The same from the text of a build file. */
PictureFixture *picture_fixture_from_text (const char *text);
void picture_fixture_free (PictureFixture *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PictureFixture, picture_fixture_free)

/* Light, metric, with a title. */
NappePictureOptions picture_options (NappePictureKind kind, double width, double height, NappeShownState shown);
NappePicture *picture_of (PictureFixture *self, const NappePictureOptions *options);

/* The item of a part; NULL: the picture does not show it. Owned by the picture. */
const NappePictureItem *picture_item (NappePicture *picture, const char *part);

/* Fails the test where texts lie on each other, on marks, pipes or dimensions. what: for the message. */
void picture_check_labels (NappePicture *picture, const char *what);

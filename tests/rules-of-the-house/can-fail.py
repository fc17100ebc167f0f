#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Each rule of the house finds the fault it is there to find.

A small sound house is written into an empty folder; every rule must keep silent about it. Then
one fault at a time goes in, and the rule that watches for it must speak up.
"""
import os
import sys
import tempfile

import desktop
import handbook
import house
import layers
import rule_pages
import sources
import translations

LICENCE = '/* SPDX-License-Identifier: GPL-3.0-or-later */\n'
HASH = '# SPDX-License-Identifier: GPL-3.0-or-later\n'
XML = '<!-- SPDX-License-Identifier: GPL-3.0-or-later -->\n'
POINTS = [f'## {number}. Trap\nCode: `src/units/good.c`\nTest: `tests/units/test-good.c` `/good`\n'
          for number in range(1, handbook.POINTS + 1)]
POTFILES = '\n'.join(translations.HEADER) + '\n'
PO = HASH + 'msgid ""\nmsgstr ""\n' + ''.join(
    f'"{field}\\n"\n' for field in [
        'Project-Id-Version: nappe', 'PO-Revision-Date: 2026-01-01 00:00+0000', 'Last-Translator: x',
        'Language-Team: German', 'Language: de', 'MIME-Version: 1.0',
        'Content-Type: text/plain; charset=UTF-8', 'Content-Transfer-Encoding: 8bit'])

RULE_ROW = ('static const NappeRuleInfo rules[] = {\n  { "wet", N_ ("It is wet"), N_ ("common practice"), nappe_rule_wet },\n};\n')
RULE_CODE = ('void\nnappe_rule_wet (NappeRuleContext *context)\n{\n  nappe_rule_limit (context, NAPPE_LIMIT_WET);\n}\n')
RULE_LIMIT = '  [NAPPE_LIMIT_WET] = { "wet-enough", 0.5, NAPPE_QUANTITY_LENGTH, N_ ("x"), N_ ("y") },\n'
RULE_PAGE = '# It is wet\n' + ''.join(f'\n## {heading}\nText.\n' for heading in rule_pages.HEADINGS)
RULE_CASES = '{ "trips": [{}], "keeps": [{}], "reads": [{}] }\n'

SOUND = {
    'README.md': 'read\n', 'DEVELOPERS.md': 'develop\n', 'LICENSE': 'licence\n',
    'meson.build': HASH + "project('nappe', 'c', version: '1.0')\n",
    handbook.TRAPS: ''.join(POINTS), 'tests/units/test-good.c': LICENCE + 'const char *name = "/good";\n',
    'data/meson.build': HASH, 'tests/meson.build': HASH,
    'data/man/nappe.1': '.\\" SPDX-License-Identifier: GPL-3.0-or-later\n.TH NAPPE 1 "" "Nappe 1.0" "x"\n',
    f'data/{desktop.ID}.metainfo.xml.in':
        XML + '<component><releases><release version="1.0"/></releases></component>\n',
    f'data/{desktop.ID}.gschema.xml':
        XML + '<schemalist><schema id="a.b" path="/a/b/"><key name="n" type="i"><range min="0" max="1"/>'
        '<default>0</default><summary>s</summary><description>d</description></key></schema></schemalist>\n',
    f'flatpak/{desktop.ID}.json':
        f'{{"id": "{desktop.ID}", "command": "nappe-studio", "runtime": "org.gnome.Platform",'
        '"sdk": "org.gnome.Sdk", "modules": [{"name": "nappe", "buildsystem": "meson",'
        '"sources": [{"type": "dir", "path": ".."}]}]}\n',
    'po/LINGUAS': HASH + 'de\n',
    'po/de.po': PO,
    'po/POTFILES.in': POTFILES + f'data/{desktop.ID}.metainfo.xml.in\nsrc/rules/rule-limits.c\nsrc/rules/rules.c\nsrc/units/good.c\n',
    'src/units/good.h': LICENCE + '#pragma once\n#include <glib.h>\n',
    'src/units/good.c': LICENCE + '#include "units/good.h"\nconst char *\nnappe_good (void)\n{\n'
                        '  return _("Good");\n}\n',
    'src/rules/rules.c': LICENCE + RULE_ROW, 'src/rules/wet-rules.c': LICENCE + RULE_CODE,
    'src/rules/rule-limits.c': LICENCE + RULE_LIMIT,
    f'{rule_pages.PAGES}/wet.md': RULE_PAGE, f'{rule_pages.PAGES}/wet.json': '{}\n',
    f'{rule_pages.CASES}/wet.json': RULE_CASES,
    'src/studio/window/window.c': LICENCE + '#include <gtk/gtk.h>\n#include "units/good.h"\n'
                           'static void\nnappe_good (void)\n{\n}\n',
}

# (rule, file, what it holds instead; None takes the file away)
FAULTS = [
    (layers.unknown_rooms, 'src/cellar/pump.c', LICENCE),
    (layers.unknown_rooms, 'src/pump.c', LICENCE),
    (layers.upward_includes, 'src/units/good.c', LICENCE + '  #  include "study/study.h"\n'),
    (layers.odd_includes, 'src/units/good.c', LICENCE + '#include "good.h"\n'),
    (layers.odd_includes, 'src/units/good.c', LICENCE + '#include "units/../build/x.h"\n'),
    (layers.odd_includes, 'src/units/good.c', LICENCE + '#include "units/absent.h"\n'),
    (layers.faces_including_each_other, 'src/command/main.c', LICENCE + '#include "studio/window/window.h"\n'),
    (layers.toolkit_below_studio, 'src/picture/scene.c', LICENCE + '#include <gtk/gtk.h>\n'),
    (layers.toolkit_below_studio, 'src/command/main.c', LICENCE + '#include <adwaita.h>\n'),
    (layers.functions_defined_twice, 'src/command/text.c',
     LICENCE + 'void\nnappe_good (int x)\n{\n}\n'),
    (layers.physics_io, 'src/physics/weir.c', LICENCE + '#include <glib-object.h>\n'),
    (rule_pages.missing_pages, f'{rule_pages.PAGES}/wet.md', None),
    (rule_pages.missing_pages, f'{rule_pages.PAGES}/wet.md', RULE_PAGE.replace('It is wet', 'It is dry')),
    (rule_pages.missing_pages, f'{rule_pages.PAGES}/wet.md', RULE_PAGE.replace('## Why it matters', '## Why')),
    (rule_pages.strayed_pages, f'{rule_pages.PAGES}/dry.md', RULE_PAGE),
    (rule_pages.untested_rules, f'{rule_pages.CASES}/wet.json', '{ "trips": [{}], "keeps": [], "reads": [{}] }\n'),
    (rule_pages.stale_table, rule_pages.TABLE, None),
    (rule_pages.stale_table, 'src/rules/rule-limits.c', LICENCE + RULE_LIMIT.replace('0.5', '0.6')),
    (translations.code_in_texts, 'src/units/good.c', LICENCE + 'x = _ ("A NappeHole"\n "in it");\n'),
    (sources.top_level, 'notes.txt', 'x\n'),
    (sources.top_level, 'LICENSE', None),
    (sources.without_licence, 'src/units/good.c', '\n' + LICENCE),
    (sources.without_licence, 'tests/meson.build', "subdir('units')\n"),
    (sources.too_long, 'src/units/good.c', LICENCE * 601),
    (sources.too_wide, 'src/units/good.c', LICENCE + 'int ' + 'x' * 130 + ';\n'),
    (sources.left_over_marks, 'src/units/good.c', LICENCE + '/* FIX' + 'ME: later */\n'),
    (sources.odd_names, 'src/units/Good_One.c', LICENCE),
    (sources.unguarded_headers, 'src/units/good.h', LICENCE),
    (sources.not_clean_text, 'src/units/good.c', LICENCE + 'int x; \n'),
    (sources.not_clean_text, 'src/units/good.c', LICENCE.rstrip()),
    (sources.dead_links, 'README.md', '![window](data/screenshots/absent.png)\n'),
    (handbook.missing_files, 'data/handbook/more.md', 'See `src/units/absent.c`.\n'),
    (handbook.missing_tests, handbook.TRAPS, ''.join(POINTS).replace('`/good`', '`/bad`', 1)),
    (handbook.missing_tests, 'tests/units/test-good.c', None),
    (handbook.incomplete_points, handbook.TRAPS, ''.join(POINTS[1:])),
    (handbook.incomplete_points, handbook.TRAPS, ''.join(POINTS).replace('Code: ', '', 1)),
    (handbook.incomplete_points, handbook.TRAPS, None),
    (handbook.dead_links, 'data/handbook/more.md', 'See [the traps](absent.md).\n'),
    (translations.potfiles, 'src/units/more.c', LICENCE + 'char *x = ngettext ("a", "b", n);\n'),
    (translations.potfiles, 'src/units/good.c', LICENCE + '/* _("not") */\n'),
    (translations.potfiles, 'ui/window.ui', XML + '<property translatable="yes">A</property>\n'),
    (translations.potfiles, 'po/POTFILES.in',
     POTFILES + f'src/units/good.c\ndata/{desktop.ID}.metainfo.xml.in\n'),
    (translations.linguas, 'po/fr.po', HASH),
    (translations.linguas, 'po/de.po', None),
    (translations.msgfmt, 'po/de.po', PO + '\n#, c-format\nmsgid "%d"\nmsgstr "%s"\n'),
    (desktop.undescribed_settings, f'data/{desktop.ID}.gschema.xml',
     '<schemalist><schema><key name="n" type="i"><default>0</default></key></schema></schemalist>'),
    (desktop.versions, 'meson.build', "project('nappe', 'c', version: '1.1')\n"),
    (desktop.flatpak, f'flatpak/{desktop.ID}.json', '{"id": 1, "id": 2}'),
    (desktop.flatpak, f'flatpak/{desktop.ID}.json', '{"id": 1,}'),
    (desktop.flatpak, f'flatpak/{desktop.ID}.json', '{}'),
]


def put(top, path, content):
    full = os.path.join(top, path)
    if content is None:
        os.remove(full)
        return
    os.makedirs(os.path.dirname(full), exist_ok=True)
    with open(full, 'w', encoding='utf-8') as file:
        file.write(content)


def sound_house(top):
    for path, content in SOUND.items():
        put(top, path, content)
    put(top, rule_pages.TABLE, rule_pages.table_text(top))


def main():
    report = house.Report()
    for check in sorted({fault[0] for fault in FAULTS}, key=lambda check: (check.__module__, check.__name__)):
        with tempfile.TemporaryDirectory() as top:
            sound_house(top)
            report.rule(f'{check.__module__}.{check.__name__} is silent about a sound house', check(top))
    for check, path, content in FAULTS:
        with tempfile.TemporaryDirectory() as top:
            sound_house(top)
            put(top, path, content)
            report.rule(f'{check.__module__}.{check.__name__} finds the fault in {path}',
                        [] if check(top) else ['it found nothing'])
    return report.end()


if __name__ == '__main__':
    sys.exit(main())

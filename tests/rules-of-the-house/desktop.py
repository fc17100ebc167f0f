#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What the desktop is handed is valid: launcher, metainfo, settings, file type, icons, manual
pages, windows, and the Flatpak manifest.

    desktop.py BUILD    BUILD is the build folder; what is made from a template is read there
"""
import json
import os
import re
import shutil
import sys
import tempfile
import xml.etree.ElementTree as xml

import house

ID = 'io.github.nappe.Nappe'
SHAPE_OF_UI = '/usr/share/gtk-4.0/gtk4builder.rng'


def launcher(built):
    return house.complaint(['desktop-file-validate', os.path.join(built, f'{ID}.desktop')])


def metainfo(built):
    return house.complaint(['appstreamcli', 'validate', '--no-net', os.path.join(built, f'{ID}.metainfo.xml')])


def settings(top):
    return house.complaint(['glib-compile-schemas', '--strict', '--dry-run', os.path.join(top, 'data')])


def undescribed_settings(top):
    """Every key has a summary and a description, and a text key that is a choice names its choices."""
    breaches = []
    for key in xml.parse(os.path.join(top, f'data/{ID}.gschema.xml')).iter('key'):
        for part in ('summary', 'description', 'default'):
            if not (key.findtext(part) or '').strip():
                breaches.append(f'{key.get("name")}: no {part}')
        if key.get('type') == 'i' and key.find('range') is None:
            breaches.append(f'{key.get("name")}: no range')
    return breaches


def file_type(built):
    """The file type goes into a data base of file types without a word."""
    with tempfile.TemporaryDirectory() as folder:
        os.makedirs(os.path.join(folder, 'mime/packages'))
        shutil.copy(os.path.join(built, f'{ID}.xml'), os.path.join(folder, 'mime/packages'))
        breaches = house.complaint(['update-mime-database', os.path.join(folder, 'mime')], silent=True,
                                   env={**os.environ, 'XDG_DATA_HOME': folder})
        if not breaches and '*.nappe' not in house.text_of(folder, 'mime/globs'):
            breaches.append('*.nappe is not registered')
        return breaches


def versions(top):
    """Metainfo and manual pages speak of the version being built."""
    version = re.search(r"version: '([^']+)'", house.text_of(top, 'meson.build'))[1]
    releases = xml.parse(os.path.join(top, f'data/{ID}.metainfo.xml.in')).iter('release')
    newest = next(releases).get('version')
    breaches = [] if newest == version else [f'metainfo: {newest}, meson.build: {version}']
    for page in house.files(top, 'data/man', endings=('.1',)):
        if f'"Nappe {version}"' not in house.text_of(top, page):
            breaches.append(f'{page} does not say Nappe {version}')
    return breaches


def icons(top):
    breaches = []
    wanted = {f'data/icons/hicolor/scalable/apps/{ID}.svg': '0 0 128 128',
              f'data/icons/hicolor/symbolic/apps/{ID}-symbolic.svg': '0 0 16 16'}
    for path, box in wanted.items():
        if not os.path.exists(os.path.join(top, path)):
            breaches.append(f'{path} is missing')
    for path in house.files(top, 'data', 'ui', endings=('.svg',)):
        found = house.complaint(['xmllint', '--noout', '--nonet', os.path.join(top, path)])
        breaches += found
        if not found and path in wanted and xml.parse(os.path.join(top, path)).getroot().get('viewBox') != wanted[path]:
            breaches.append(f'{path}: viewBox is not {wanted[path]}')
    return breaches


def manual_pages(top):
    breaches = []
    for page in house.files(top, 'data/man', endings=('.1',)):
        breaches += house.complaint(['groff', '-man', '-Tutf8', '-ww', '-z', os.path.join(top, page)], silent=True)
    return breaches


def windows(top):
    """Every window description has the shape GTK's builder asks for."""
    breaches = []
    for path in house.files(top, 'ui', 'src', endings=('.ui',)):
        breaches += house.complaint(['xmllint', '--noout', '--nonet', '--relaxng', SHAPE_OF_UI,
                                     os.path.join(top, path)])
    return breaches


def no_member_twice(pairs):
    members = dict(pairs)
    if len(members) != len(pairs):
        raise ValueError(f'a member stands twice among {[name for name, _ in pairs]}')
    return members


def flatpak(top):
    path = f'flatpak/{ID}.json'
    try:
        manifest = json.loads(house.text_of(top, path), object_pairs_hook=no_member_twice)
    except ValueError as error:
        return [f'{path}: {error}']
    breaches = []
    for member, value in {'id': ID, 'command': 'nappe-studio', 'runtime': 'org.gnome.Platform',
                          'sdk': 'org.gnome.Sdk'}.items():
        if manifest.get(member) != value:
            breaches.append(f'{member} is {manifest.get(member)!r}, not {value!r}')
    for access in manifest.get('finish-args', []):
        if re.match(r'--(filesystem|share=network|socket=session-bus|device=all)', access):
            breaches.append(f'{access}: files come through the portal, and nothing else is needed')
    for module in manifest.get('modules', []):
        if module.get('buildsystem') not in ('meson', 'cmake-ninja'):
            breaches.append(f'{module.get("name")}: buildsystem {module.get("buildsystem")!r}')
        if not module.get('sources'):
            breaches.append(f'{module.get("name")}: no sources')
    if [module.get('name') for module in manifest.get('modules', [])][-1:] != ['nappe']:
        breaches.append('the last module is not nappe')
    if not breaches and house.have('flatpak-builder'):
        with tempfile.TemporaryDirectory() as folder:    # it leaves things where it runs
            breaches = house.complaint(['flatpak-builder', '--show-manifest', os.path.join(top, path)],
                                       silent=True, cwd=folder)
    return breaches


def main():
    top, built = house.TOP, os.path.join(sys.argv[1], 'data')
    report = house.Report()
    for name, tool, check, where in [
            ('the launcher is valid', 'desktop-file-validate', launcher, built),
            ('the metainfo is valid', 'appstreamcli', metainfo, built),
            ('the settings are valid', 'glib-compile-schemas', settings, top),
            ('the settings are described', None, undescribed_settings, top),
            ('the file type is valid', 'update-mime-database', file_type, built),
            ('versions agree', None, versions, top),
            ('the icons are there and well-formed', 'xmllint', icons, top),
            ('the manual pages are sound', 'groff', manual_pages, top),
            ('the windows have a valid shape', 'xmllint', windows, top),
            ('the Flatpak manifest is sound', None, flatpak, top)]:
        if tool and not house.have(tool):
            report.skip(name, f'{tool} is not installed')
        else:
            report.rule(name, check(where))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())

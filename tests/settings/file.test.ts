import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { settingsFileText } from '../../core/settings/file-text.ts';
import { settingChanges, settingsWith } from '../../core/settings/names.ts';
import { DEFAULT_SETTINGS, settingsSchema } from '../../core/settings/settings.ts';
import { readSettingsFile } from '../../electron/station/settings-file.ts';
import { settingsRead } from '../../electron/station/settings-in-force.ts';
import { anySettings } from './any-settings.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const lines = (...text: string[]): string => text.join('\n');

describe('settings saved as a file', () => {
  test('are the same when they are taken in again, whatever they are', () => {
    fc.assert(
      fc.property(anySettings, (settings) => {
        expect(readSettingsFile(bytesOf(settingsFileText(settings)))).toMatchObject({ ok: true, value: settings });
      }),
    );
  });

  test('change exactly what is apart, and nothing where nothing is', () => {
    fc.assert(
      fc.property(anySettings, anySettings, (before, after) => {
        const base64 = Buffer.from(settingsFileText(after)).toString('base64');
        const { changes, faults } = settingsRead({ fileName: 'ours.json', base64 }, before);
        expect(faults).toEqual([]);
        const values = Object.fromEntries(changes.map((change) => [change.name, change.after]));
        expect(settingsSchema.parse(settingsWith(before, values))).toEqual(after);
        expect(changes.every((change) => change.before !== change.after)).toBe(true);
        expect(settingChanges(after, after)).toEqual([]);
      }),
    );
  });

  test('are known by the SHA-256 of their bytes', () => {
    // Of the two bytes "{}", by another program.
    expect(readSettingsFile(bytesOf('{}')).sha256).toBe(
      '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a',
    );
  });

  test('may begin with the mark that some editors put first, and leave out what has its default', () => {
    expect(readSettingsFile(bytesOf('\uFEFF{ "profile": "eu" }'))).toMatchObject({
      ok: true,
      value: { ...DEFAULT_SETTINGS, profile: 'eu' },
    });
  });
});

describe('a file of settings that cannot be used', () => {
  test.each<[string, string, string]>([
    ['half a file', lines('{', '  "profile": "us",'), ', line 2: not JSON'],
    ['nothing', '', ', line 1: not JSON'],
    ['a remark', lines('{', '  // ours', '  "profile": "us"', '}'), ', line 2: not JSON'],
    ['a value that is none', lines('{', '  "profile": "uk"', '}'), ', line 2, profile: allowed: one of "us", "eu"'],
    [
      'a limit out of range',
      lines('{', '  "limits": {', '    "holdMaxS": -1 } }'),
      ', line 3, limits.holdMaxS: allowed: 0 to 3600 s, without the unit',
    ],
    [
      'a percentage for a share',
      '{ "formulaSpreadShare": 5 }',
      ', line 1, formulaSpreadShare: allowed: 0.005 to 0.5 as a share',
    ],
    [
      'an empty folder',
      '{ "copyFolder": "" }',
      ', line 1, copyFolder: allowed: the whole path of a folder, at most 500 letters, or null for “no second copy”',
    ],
    ['a word for yes', '{ "kiosk": "yes" }', ', line 1, kiosk: allowed: one of true, false'],
    ['a field that is none', lines('{', '  "limits": {', '    "hold": 1 } }'), ', line 3, limits.hold: there is no'],
    [
      'a zone that is none',
      lines('{', '', '  "zone": "Europe/Atlantis" }'),
      ', line 3, zone: allowed: a time zone by its',
    ],
    ['no object', '[]', ', line 1: '],
  ])('with %s says on which line, and changes nothing', (_what, text, says) => {
    const base64 = Buffer.from(text).toString('base64');
    const { faults, changes } = settingsRead({ fileName: 'ours.json', base64 }, DEFAULT_SETTINGS);
    expect(changes).toEqual([]);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toContain(`ours.json${says}`);
  });

  test('names every fault that it has', () => {
    const base64 = Buffer.from(lines('{', '"profile": 1,', '"lineMl": 99', '}')).toString('base64');
    const { faults } = settingsRead({ fileName: 'ours.json', base64 }, DEFAULT_SETTINGS);
    expect(faults.map((fault) => fault.split(':')[0])).toEqual([
      'ours.json, line 2, profile',
      'ours.json, line 3, lineMl',
    ]);
  });

  test('in another encoding says what to do', () => {
    const read = readSettingsFile(Buffer.from('{ "copyFolder": "/Kopie für uns" }', 'latin1'));
    expect(read).toMatchObject({ ok: false, faults: [': not UTF-8: save it as UTF-8 text'] });
  });
});

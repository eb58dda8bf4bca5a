import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { REGIMENS, regimenSchema } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { readHouse } from '../../electron/station/house.ts';

const root = mkdtempSync(join(tmpdir(), 'dimroom-house-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let folders = 0;
function folderWith(files: { settings?: string; regimens?: string }): string {
  folders += 1;
  const folder = join(root, String(folders));
  mkdirSync(folder);
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, `${name}.json`), text);
  return folder;
}

const BEFORE: Settings = { ...DEFAULT_SETTINGS, profile: 'eu', graduationMl: 0.2 };
/** Lines as people see them, counted from 1. */
const lines = (...text: string[]): string => text.join('\n');

const OWN = lines(
  '[',
  '  {',
  '    "id": "own-third",',
  '    "name": "One third, ours",',
  '    "indication": "chronic disease",',
  '    "onLabel": false,',
  '    "doseMgPerM2": 2,',
  '    "infusionMin": 10,',
  '    "totalMl": 30,',
  '    "lightStartMin": 15,',
  '    "secondEyeLimitMin": null,',
  '    "fluenceJPerCm2": 50,',
  '    "irradianceMwPerCm2": 600,',
  '    "exposureS": 83,',
  '    "sources": [{ "text": "our own protocol", "sure": "local" }],',
  '    "notes": []',
  '  }',
  ']',
);

describe("a site's settings", () => {
  test('without any file are those that were in force, and all regimens are ours', () => {
    expect(readHouse(folderWith({}), BEFORE)).toEqual({ settings: BEFORE, regimens: REGIMENS, trouble: [] });
    expect(readHouse(folderWith({})).settings).toEqual(DEFAULT_SETTINGS);
  });

  test('in a file are taken, and what it leaves out has its default', () => {
    const { settings, trouble } = readHouse(
      folderWith({ settings: '{ "formula": "haycock", "lineMl": 1.5 }' }),
      BEFORE,
    );
    expect(trouble).toEqual([]);
    expect(settings).toEqual({ ...DEFAULT_SETTINGS, formula: 'haycock', lineMl: 1.5 });
  });

  test('have defaults that work, each within its own limits', () => {
    expect(settingsSchema.parse({})).toEqual(DEFAULT_SETTINGS);
    expect(settingsSchema.parse(DEFAULT_SETTINGS)).toEqual(DEFAULT_SETTINGS);
  });

  test('may be written with the mark that some editors put first', () => {
    const { settings, trouble } = readHouse(folderWith({ settings: '\uFEFF{ "profile": "eu" }' }));
    expect(trouble).toEqual([]);
    expect(settings.profile).toBe('eu');
  });

  test.each<[string, string, string]>([
    [
      'a word for a number',
      lines('{', '  "profile": "us",', '  "graduationMl": "fine"', '}'),
      'line 3, graduationMl: ',
    ],
    ['out of range', lines('{', '', '', '  "latePressS": 3000', '}'), 'line 4, latePressS: '],
    ['not a number at all', lines('{', '  "lineMl": -1 }'), 'line 2, lineMl: '],
    ['a value that is none', lines('{ "profile":', '  "uk" }'), 'line 2, profile: '],
    ['a graduation finer than is printed', lines('{', '  "graduationMl": 0.025 }'), 'line 2, graduationMl: '],
    ['a field that is none', lines('{', '  "profile": "us",', '  "colour": 1', '}'), 'line 3, colour: '],
    ['lines ended the other way', '{\r\n  "profile": "us",\r\n  "lineMl": "1"\r\n}', 'line 3, lineMl: '],
  ])('with %s change nothing, and file, line and field are named', (_what, settings, where) => {
    const folder = folderWith({ settings });
    const read = readHouse(folder, BEFORE);
    expect(read.settings).toEqual(BEFORE);
    expect(read.trouble).toHaveLength(1);
    expect(read.trouble[0]).toContain(`${join(folder, 'settings.json')}, ${where}`);
    expect(read.trouble[0]).toMatch(/The file is not used\.$/);
  });

  test('with two faults name both', () => {
    const settings = lines('{', '  "profile": 1,', '  "lineMl": 99,', '  "colour": 1,', '  "size": 2', '}');
    const { trouble } = readHouse(folderWith({ settings }), BEFORE);
    for (const where of ['line 2, profile', 'line 3, lineMl', 'line 4, colour', 'line 5, size']) {
      expect(trouble.join('\n')).toContain(where);
    }
  });

  test.each<[string, string, number]>([
    ['half a file', lines('{', '  "profile": "us",'), 2],
    ['nothing', '', 1],
    ['a comma too many', lines('{', '  "profile": "us",', '}'), 3],
    ['a comma too few', lines('{', '  "profile": "us"', '  "lineMl": 1', '}'), 3],
    ['a remark', lines('{', '  // ours', '  "profile": "us"', '}'), 2],
    ['words', 'profile: us', 1],
  ])('that are not JSON (%s) change nothing, and file and line are named', (_what, settings, line) => {
    const folder = folderWith({ settings });
    const read = readHouse(folder, BEFORE);
    expect(read.settings).toEqual(BEFORE);
    expect(read.trouble).toHaveLength(1);
    expect(read.trouble[0]).toContain(`${join(folder, 'settings.json')}, line ${line}: not JSON`);
    expect(read.trouble[0]).toMatch(/The file is not used\.$/);
  });

  test.each(['[]', '"us"', 'null', '7'])('that are %s and no object change nothing', (settings) => {
    const folder = folderWith({ settings });
    const read = readHouse(folder, BEFORE);
    expect(read.settings).toEqual(BEFORE);
    expect(read.trouble[0]).toMatch(/settings\.json, line 1: .*object/);
  });

  test('that cannot be read change nothing', () => {
    const folder = folderWith({});
    mkdirSync(join(folder, 'settings.json'));
    const read = readHouse(folder, BEFORE);
    expect(read.settings).toEqual(BEFORE);
    expect(read.trouble[0]).toMatch(/settings\.json cannot be read: .*The file is not used\.$/);
  });
});

describe("a site's own regimens", () => {
  test('stand beside ours', () => {
    const { regimens, trouble, settings } = readHouse(folderWith({ regimens: OWN }), BEFORE);
    expect(trouble).toEqual([]);
    expect(settings).toEqual(BEFORE);
    expect(regimens.slice(0, REGIMENS.length)).toEqual(REGIMENS);
    expect(regimens.slice(REGIMENS.length)).toEqual([regimenSchema.parse(JSON.parse(OWN)[0])]);
  });

  test.each<[string, (own: string) => string, RegExp]>([
    ['the id of one of ours', (own) => own.replace('own-third', 'label'), /line 3, 0\.id: the id "label" is taken/],
    [
      'that says it is on label',
      (own) => own.replace('false', 'true'),
      /line 6, 0\.onLabel: a regimen of the site is off/,
    ],
    ['without a light start', (own) => own.replace(/.*lightStartMin.*\n/, ''), /line 2, 0\.lightStartMin: /],
    ['without a source', (own) => own.replace(/"sources": .*,/, '"sources": [],'), /line 15, 0\.sources: /],
    [
      'with a sureness that is none',
      (own) => own.replace('"local" }', '"sure enough" }'),
      /line 15, 0\.sources\.0\.sure: /,
    ],
    [
      'with light before the end',
      (own) => own.replace('": 15', '": 9'),
      /line 10, 0\.lightStartMin: Light cannot start/,
    ],
    ['with a fluence that does not come out', (own) => own.replace('": 50', '": 25'), /line 12, 0\.fluenceJPerCm2: /],
    ['with no dose', (own) => own.replace('": 2,', '": 0,'), /line 7, 0\.doseMgPerM2: /],
    ['with a word for a figure', (own) => own.replace('": 83', '": "83"'), /line 14, 0\.exposureS: /],
    ['with a name that no label holds', (own) => own.replace('One third', 'x'.repeat(61)), /line 4, 0\.name: /],
    ['with a field of its own', (own) => own.replace('"notes"', '"remarks"'), /line 16, 0\.remarks: /],
  ])('%s is not used, nor the file it is in', (_what, change, says) => {
    const folder = folderWith({ regimens: change(OWN), settings: '{ "profile": "eu" }' });
    const { regimens, trouble, settings } = readHouse(folder);
    expect(regimens).toEqual(REGIMENS);
    expect(trouble.join('\n')).toMatch(says);
    expect(trouble.join('\n')).toContain(join(folder, 'regimens.json'));
    expect(settings.profile, 'another file is not to blame').toBe('eu');
  });

  test('with one id for two are not used, and the second is named', () => {
    const twice = `${OWN.slice(0, -2)},\n${OWN.slice(2)}`;
    const { regimens, trouble } = readHouse(folderWith({ regimens: twice }));
    expect(regimens).toEqual(REGIMENS);
    expect(trouble).toEqual([expect.stringMatching(/line 19, 1\.id: the id "own-third" is taken/)]);
  });

  test('written as one object and no list are not used', () => {
    const { regimens, trouble } = readHouse(folderWith({ regimens: OWN.slice(1, -1) }));
    expect(regimens).toEqual(REGIMENS);
    expect(trouble[0]).toMatch(/regimens\.json, line 2: .*array/);
  });
});

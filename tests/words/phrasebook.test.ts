import { describe, expect, test } from 'vitest';
import { phrasebook } from '../../core/words/phrasebook.ts';

const CATALOG = {
  'contact lens is on the eye': 'Kontaktglas ist auf dem Auge',
  'right eye': 'rechtes Auge',
  porphyria: 'Porphyrie',
  'breast-feeding': 'Stillzeit',
  'drug, mL': 'Wirkstoff, mL',
  'off label': 'außerhalb der Zulassung',
  '{topic}: {words}': '{topic}: {words}',
  "a physician's named decision is needed": 'nötig ist eine namentliche ärztliche Entscheidung',
  '{#n} s late': '{#n} s zu spät',
  'the vial expired on {#day}': 'verfallen am {#day}',
  'lot {=lot}, expires {#day}': 'Charge {=lot}, verwendbar bis {#day}',
  '{=initials}, nurse': '{=initials}, Pflege',
  'written {#time}': 'geschrieben {#time}',
  'flush, {#volume} mL dextrose 5 % over {#seconds} s': '{#volume} mL Glucose 5 % in {#seconds} s',
  'flush of 3 mL in {#seconds} s': 'nur 3 mL in {#seconds} s',
  'flush of {#volume} mL in {#seconds} s': '{#volume} mL in {#seconds} s',
  '{what} is {#min} to {#max} {unit}': '{what}: {#min} bis {#max} {unit}',
  'lens factor': 'Faktor der Linse',
  '{#cm} cm and {#kg} kg: unusual together.': '{#cm} cm und {#kg} kg: zusammen ungewöhnlich.',
  'Are they in each other’s place?': 'Sind sie vertauscht?',
};
const find = phrasebook(CATALOG, 'de');

describe('a sentence is found', () => {
  test('as it is', () => {
    expect(find('contact lens is on the eye')).toBe('Kontaktglas ist auf dem Auge');
  });

  test('with its figures, as the language writes them', () => {
    expect(find('12 s late')).toBe('12 s zu spät');
    expect(find('flush, 7.5 mL dextrose 5 % over 60 s')).toBe('7,5 mL Glucose 5 % in 60 s');
    expect(find('the vial expired on 2027-03-31')).toBe('verfallen am 31.03.2027');
    expect(find('written 12:30:01')).toBe('geschrieben 12:30:01');
  });

  test('by the figure that is part of it, before any other figure', () => {
    expect(find('flush of 3 mL in 10 s')).toBe('nur 3 mL in 10 s');
    expect(find('flush of 4 mL in 10 s')).toBe('4 mL in 10 s');
    expect(find('flush, 5 mL dextrose 6 % over 60 s')).toBeNull();
  });

  test('with words of its own in it', () => {
    expect(find('right eye: contact lens is on the eye')).toBe('rechtes Auge: Kontaktglas ist auf dem Auge');
    expect(find('lens factor is 0.5 to 3 yards')).toBeNull();
    expect(find('lens factor is 0.5 to 3 mL')).toBe('Faktor der Linse: 0,5 bis 3 mL');
  });

  test('with what somebody typed left as it is', () => {
    expect(find('lot 1.5-A porphyria, expires 2027-03-31')).toBe('Charge 1.5-A porphyria, verwendbar bis 31.03.2027');
  });

  test('in a list, where each of the list is known', () => {
    expect(find("a physician's named decision is needed: porphyria; breast-feeding")).toBe(
      'nötig ist eine namentliche ärztliche Entscheidung: Porphyrie; Stillzeit',
    );
    expect(find('written 12:30:01 · MO, nurse')).toBe('geschrieben 12:30:01 · MO, Pflege');
    expect(find('drug, mL: porphyria')).toBe('Wirkstoff, mL: Porphyrie');
    expect(find('porphyria; something else')).toBeNull();
  });

  test('in a list of whole sentences, also where one begins with a figure', () => {
    expect(find('Are they in each other’s place? 71.5 cm and 168 kg: unusual together.')).toBe(
      'Sind sie vertauscht? 71,5 cm und 168 kg: zusammen ungewöhnlich.',
    );
    expect(find('168 cm and 32 kg: unusual together. 71.5 cm and 168 kg: unusual together.')).toBe(
      '168 cm und 32 kg: zusammen ungewöhnlich. 71,5 cm und 168 kg: zusammen ungewöhnlich.',
    );
  });

  test('in a list parted by semicolons, which French has after a space that keeps the line', () => {
    const inFrench = phrasebook({ porphyria: 'porphyrie', 'breast-feeding': 'allaitement' }, 'fr');
    expect(inFrench('porphyria; breast-feeding')).toBe('porphyrie\u00a0; allaitement');
  });
});

test('an unknown sentence of many parts is given up as fast as a known one', () => {
  const parts = Array.from({ length: 40 }, (_, index) => `nobody knows ${index}: x, y; z`).join(' · ');
  let pieces = 0;
  const counted = new Proxy(CATALOG, {
    getOwnPropertyDescriptor: (catalog, name) => {
      pieces += 1;
      return Reflect.getOwnPropertyDescriptor(catalog, name);
    },
  });
  const findCounted = phrasebook(counted, 'de');
  pieces = 0;
  expect(findCounted(parts)).toBeNull();
  expect(pieces).toBeLessThan(40 * 50);
});

test('an unknown sentence is not half translated', () => {
  expect(find('right eye: something else')).toBeNull();
  expect(find('6 mg/m² · 10.5 min · on label')).toBeNull();
});

test.each([
  ['12.30 mg', '12,30 mg'],
  ['1850 µm · 83.5 s · 50 J/cm²', '1850 µm · 83,5 s · 50 J/cm²'],
  ['2026-11-25 14:07', '25.11.2026 14:07'],
  ['+0:12', '+0:12'],
  ['3 mL/min · 180 mL/h', '3 mL/min · 180 mL/h'],
  ['6 mg/m² · 10.5 min · off label', '6 mg/m² · 10,5 min · außerhalb der Zulassung'],
])('figures and units alone, %s, come out as %s', (text, shown) => {
  expect(find(text)).toBe(shown);
});

test.each(['K-2041', 'A1.5', 'v1.2.3'])('a code like %s holds no figure', (code) => {
  expect(find(code)).toBe(code);
});

test.each([
  ['de', '25.11.2026'],
  ['es', '25/11/2026'],
  ['fr', '25/11/2026'],
  ['en', '2026-11-25'],
] as const)('in %s a day is %s', (language, day) => {
  expect(phrasebook({}, language)('2026-11-25')).toBe(day);
});

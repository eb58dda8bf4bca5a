import { describe, expect, test } from 'vitest';
import { SHEETS } from '../../core/protocol/messages.ts';
import { sheetOf } from '../../electron/station/printing/sheet-of.ts';
import { opened, play, stepsBefore } from '../session-steps.ts';
import { saidBy } from './read-pdf.ts';

const steps = stepsBefore('discharge');
const recordWith = (settings: Parameters<typeof opened>[0]) => play(steps, opened(settings)).context;

describe('a sheet that is asked for', () => {
  test.each(SHEETS)('%s is there for a session in after-care', (sheet) => {
    expect(saidBy(sheetOf(recordWith({}), { sheet }))).toContain('K-2041');
  });

  test('is in the language of the site where none is asked for', () => {
    const record = recordWith({ language: 'fr' });
    expect(sheetOf(record, { sheet: 'after-care sheet' }).language).toBe('fr');
    expect(sheetOf(record, { sheet: 'after-care sheet', language: 'es' }).language).toBe('es');
  });

  test('is in large print only where that is asked for', () => {
    const record = recordWith({});
    expect(sheetOf(record, { sheet: 'after-care sheet' }).size).toBe('handout');
    expect(sheetOf(record, { sheet: 'after-care sheet', largePrint: true }).size).toBe('large handout');
  });

  test('has the time of the zone that the site set, else of this machine', () => {
    const tokyo = saidBy(sheetOf(recordWith({ zone: 'Asia/Tokyo' }), { sheet: 'bracelet' }));
    expect(tokyo).toContain('Saturday, 8 March 2031, 18:20 (6:20 pm)');
    const zone = new Intl.DateTimeFormat().resolvedOptions().timeZone;
    const here = saidBy(sheetOf(recordWith({ zone }), { sheet: 'bracelet' }));
    expect(saidBy(sheetOf(recordWith({ zone: null }), { sheet: 'bracelet' }))).toBe(here);
  });
});

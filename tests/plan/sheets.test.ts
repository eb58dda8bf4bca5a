import { join } from 'node:path';
import { extractText, getDocumentProxy } from 'unpdf';
import { describe, expect, onTestFinished, test } from 'vitest';
import { type CommandOf, openSessionSchema } from '../../core/procedure/commands.ts';
import type { House } from '../../core/procedure/findings.ts';
import type { SessionRecord } from '../../core/procedure/record.ts';
import type { Message, SheetName } from '../../core/protocol/messages.ts';
import { REGIMENS, type Regimen, regimenById } from '../../core/regimen/regimens.ts';
import { planSheet } from '../../core/report/plan-sheet.ts';
import { NotYet, type Sheet } from '../../core/report/sheet.ts';
import { syringeLabel } from '../../core/report/syringe-label.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { answer } from '../../electron/station/answer.ts';
import { besideOf } from '../../electron/station/beside.ts';
import { steppedClock } from '../../electron/station/clock.ts';
import { Desk } from '../../electron/station/desk.ts';
import { emergencyFile } from '../../electron/station/emergency-file.ts';
import { readHouse } from '../../electron/station/house.ts';
import { ledgerStore } from '../../electron/station/ledger.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { pdfOf } from '../../electron/station/pdf.ts';
import { receptionOf } from '../../electron/station/people/reception.ts';
import { steadfastLedger } from '../../electron/station/steadfast-ledger.ts';
import { canScan, scanned } from '../printed/scanned.ts';
import {
  after,
  courseOf,
  discharged,
  instead,
  LEFT,
  NURSE,
  ONE_EYE,
  opened,
  planned,
  play,
  RIGHT,
  readyFor,
  type Step,
  stepsBefore,
  stopped,
  T0_AT_MS,
} from '../session-steps.ts';
import { newFolder } from '../station/station-under-test.ts';

/** The sheet as a reader finds it in the PDF: its pages' words, spaces made one, and the two signs for micro. */
async function pagesOf(sheet: Sheet): Promise<string[]> {
  const { text } = await extractText(await getDocumentProxy(new Uint8Array(await pdfOf(sheet))));
  return text.map((page) => page.replaceAll('\u03BC', 'µ').replace(/\s+/g, ' '));
}
const wordsOf = async (sheet: Sheet): Promise<string> => (await pagesOf(sheet)).join(' ');

const recordAfter = (name: string, steps: readonly Step[] = ONE_EYE): SessionRecord => after(name, steps).context;
const practised = (steps: readonly Step[]): SessionRecord => play(steps, opened({}, true)).context;

describe('the syringe label', () => {
  const record = recordAfter('drug');
  const { infusate } = record.plan ?? { infusate: null };

  test('says what is in the syringe, for whom, how it runs, from when to when, and by whom', async () => {
    const words = await wordsOf(syringeLabel(record));
    expect(infusate).toMatchObject({ drugMlRounded: 5.5, doseAfterRoundingMg: 11, diluentMl: 24.5, totalMl: 30 });
    for (const said of [
      'verteporfin 11.00 mg in 30 mL',
      '5.50 mL of drug, 2 mg/mL, and 24.50 mL of dextrose 5 %',
      '3.00 mL/min = 180 mL/h',
      'K-2041',
      'born 1951-03-02',
      'made 2031-03-03 10:05',
      'use by 2031-03-03 14:00',
      'made by MO',
      'checked by TK',
      'lot A1027',
      'never with sodium chloride',
    ]) {
      expect(words).toContain(said);
    }
  });

  test('has the figures of its record, whatever the body, regimen and graduation', async () => {
    for (const [heightCm, weightKg, regimenId, graduationMl] of [
      [150, 48.5, 'label', 0.01],
      [192, 131, 'label', 0.05],
      [175, 80, 'half-dose-10', 0.2],
    ] as const) {
      const steps = bodyOf(courseOf([RIGHT], regimenId), heightCm, weightKg);
      const { context } = play(stepsBefore('inspected', steps), opened({ graduationMl }));
      const plan = context.plan?.infusate;
      const words = await wordsOf(syringeLabel(context));
      const said = /verteporfin ([\d.]+) mg in ([\d.]+) mL ([\d.]+) mL of drug, 2 mg\/mL, and ([\d.]+) mL/.exec(words);
      expect(said?.slice(1).map(Number)).toEqual([
        plan?.doseAfterRoundingMg,
        plan?.totalMl,
        plan?.drugMlRounded,
        plan?.diluentMl,
      ]);
      const rate = /([\d.]+) mL\/min = ([\d.]+) mL\/h/.exec(words);
      expect(rate?.slice(1).map(Number)).toEqual([plan?.rateMlPerMin, plan?.rateMlPerH]);
    }
  });

  test.each([
    ['22:40', 21, 40, '2031-03-04 02:30'],
    ['20:05', 19, 5, '2031-03-03 23:55'],
  ])(
    'made at %s, ten minutes after reconstitution, has the date of the time it is used by',
    async (made, hour, minute, useBy) => {
      const evening = Date.UTC(2031, 2, 3, hour, minute);
      const reached = record.reached.map((one) => (one.state === 'prepared' ? { ...one, wallMs: evening } : one));
      const words = await wordsOf(syringeLabel({ ...record, reached, reconstitutedWallMs: evening - 600_000 }));
      expect(words).toContain(`made 2031-03-03 ${made}`);
      expect(words).toContain(`use by ${useBy}`);
    },
  );

  test('has no time of twelve hours and no date without its year', async () => {
    const words = await wordsOf(syringeLabel(record));
    expect(words).not.toMatch(/\b[ap]\.?m\b/i);
    expect(words.match(/\d\d:\d\d/g)).toHaveLength(2);
    expect(words.match(/\d{4}-\d\d-\d\d \d\d:\d\d/g)).toHaveLength(2);
  });

  test('leaves room to write the lot where it was not read yet', async () => {
    expect(await wordsOf(syringeLabel(recordAfter('prepare')))).toContain('lot ………');
  });

  test('has in its code the patient, the dose and the time that it says in words', () => {
    expect(syringeLabel(record).code).toBe('K-2041|1951-03-02|verteporfin 11.00 mg in 30 mL|use by 2031-03-03 14:00');
  });

  test('is one label, with the longest of everything that may stand on it', async () => {
    const own: Regimen = { ...regimenById('half-dose-15'), id: 'own', name: 'W'.repeat(60) };
    const house: House = { regimens: [...REGIMENS, own] };
    const course = courseOf([RIGHT], 'own').map((step) =>
      step.name === 'identify'
        ? { ...step, command: { ...step.command, patientCode: 'W'.repeat(24) } as CommandOf<'identify'> }
        : step.name === 'drug'
          ? { ...step, command: { ...step.command, lot: '0'.repeat(30) } as CommandOf<'drug'> }
          : step,
    );
    const { context } = play(stepsBefore('inspected', course), opened({}, true), house);
    expect(await pagesOf(syringeLabel(context))).toHaveLength(1);
  });

  test.each<[string, SessionRecord]>([
    ['while it is planned', planned().context],
    ['where all was stopped before', stopped(planned(), T0_AT_MS - 290_000).context],
  ])('%s is not printed, and says when it is', (_what, early) => {
    expect(() => syringeLabel(early)).toThrow(NotYet);
    expect(() => syringeLabel(early)).toThrow('the syringe label is printed once the drug is made up');
  });

  test.skipIf(!canScan)('carries a code that a scanner reads: patient, dose and use by', async () => {
    const sheet = syringeLabel(record);
    const code = scanned(await pdfOf(sheet));
    expect(code).toBe(sheet.code);
    expect(code).toMatch(/^[A-Z0-9-]+\|\d{4}-\d{2}-\d{2}\|verteporfin 11\.00 mg in 30 mL\|use by /);
  });

  test('can be printed again at any time after', async () => {
    const words = await wordsOf(syringeLabel(discharged().context));
    expect(words).toBe(await wordsOf(syringeLabel(record)));
  });
});

describe('the plan sheet', () => {
  const twoEyes = courseOf([{ ...RIGHT, gldUm: 5600, discDistanceUm: 600 }, LEFT]);

  test('has every figure of the plan, as it is in the record', async () => {
    const drug = instead('line', { kind: 'line', lineMl: 1.5, primedWith: 'drug' }, twoEyes);
    const record = recordAfter('line', drug);
    const words = await wordsOf(planSheet(record));
    const { plan, measured, line } = record;
    if (plan === null || measured === null || line === null) throw new Error('the session is not planned');
    const { infusate } = plan;
    for (const said of [
      `height, weight ${measured.heightCm.toFixed(1)} cm, ${measured.weightKg.toFixed(1)} kg`,
      `body surface area ${plan.bodySurfaceAreaM2.toFixed(2)} m² (Mosteller)`,
      `dose ${infusate.doseMg.toFixed(2)} mg (6 mg/m²)`,
      `drug, 2 mg/mL ${infusate.drugMlRounded.toFixed(2)} mL = ${infusate.doseAfterRoundingMg.toFixed(2)} mg`,
      `dextrose 5 % ${infusate.diluentMl.toFixed(2)} mL, to 30 mL`,
      'vials 1, 2.00 mL left over',
      'rate 3.00 mL/min = 180 mL/h',
      'line 1.5 mL, primed with the infusate',
      'pump ends 9.5 min after its start, 0.55 mg still in the line',
      'light 15 min after the START of the infusion',
      'second eye begun by 20 min after the start',
      'ordered by the ordering physician',
      'first MO',
      'second, alone TK, 2031-03-03 10:02',
      ...plan.light.flatMap((light) => [
        `light, ${light.eye} eye greatest linear dimension ${light.gldUm} µm spot on the retina ${light.spotUm} µm`,
        `${light.exposureS} s at ${light.irradianceMwPerCm2} mW/cm² = ${light.fluenceJPerCm2} J/cm²`,
        `${light.powerMw.toFixed(1)} mW, ${light.energyJ.toFixed(2)} J`,
      ]),
      ...plan.cautions,
      'Computed figures must be checked by a second qualified person',
    ]) {
      expect(words).toContain(said);
    }
    expect(plan.cautions).toHaveLength(2);
  });

  test('names where each figure comes from, and how sure it is', async () => {
    const words = await wordsOf(planSheet(planned(courseOf([RIGHT], 'half-dose-15')).context));
    for (const { text } of regimenById('half-dose-15').sources) expect(words).toContain(text);
    expect(words).toContain('(value from memory, verify)');
    expect(words).toContain('(found in the source named)');
    expect(words).toContain('(local practice)');
    expect(words).toContain('N Engl J Med 1987;317:1098');
  });

  test('has patient and marks at the foot of every page, and how many pages there are', async () => {
    const offLabelReason = 'nothing else is left to try. '.repeat(17).trim();
    const steps = bodyOf(courseOf([RIGHT, LEFT], 'half-dose-10', { offLabelReason }), 160, 100);
    const pages = await pagesOf(planSheet(practised(stepsBefore('prepare', steps))));
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((page, index) => {
      expect(page).toContain(`page ${index + 1} of ${pages.length}`);
      for (const said of ['K-2041 · born 1951-03-02', 'PRACTICE', 'off label: Half dose, light at 10 min']) {
        expect(page).toContain(said);
      }
    });
  });

  test.each<[string, SessionRecord]>([
    ['before anything is entered', opened().context],
    ['before a second person has computed it', readyFor('second-check').context],
    ['where the two differ', play([...stepsBefore('second-check'), ...differing()]).context],
    ['once height and weight were entered anew', play([...stepsBefore('prepare'), ...again('measure')]).context],
  ])('%s is not printed, and says when it is', (_what, early) => {
    expect(() => planSheet(early)).toThrow(NotYet);
    expect(() => planSheet(early)).toThrow('the plan sheet is printed once two people have computed the same plan');
  });
});

describe('both', () => {
  const SHEETS = [syringeLabel, planSheet];

  test('are marked in practice, and are not marked so otherwise', async () => {
    for (const sheet of SHEETS) {
      expect(await wordsOf(sheet(practised(stepsBefore('inspected'))))).toContain('PRACTICE, not for a patient');
      expect(await wordsOf(sheet(recordAfter('drug')))).not.toContain('PRACTICE');
    }
  });

  test('are marked off label where the regimen is, and are not otherwise', async () => {
    for (const sheet of SHEETS) {
      const half = await wordsOf(sheet(recordAfter('drug', courseOf([RIGHT], 'half-fluence'))));
      expect(half).toContain('off label: Half fluence');
      expect(await wordsOf(sheet(recordAfter('drug')))).not.toContain('off label');
    }
  });

  test('carry their own type, and none that the reader has to have', async () => {
    for (const sheet of SHEETS) {
      const pdf = (await pdfOf(sheet(recordAfter('drug')))).toString('latin1');
      const fonts = [...pdf.matchAll(/\/Type \/Font\b[^>]*?\/BaseFont \/([^\s/]+)/gs)].map(([, name]) => name);
      expect(fonts.length).toBeGreaterThan(0);
      for (const name of fonts) expect(name).toMatch(/^[A-Z]{6}\+B612/);
      const described = pdf.match(/\/Type \/FontDescriptor/g) ?? [];
      expect(pdf.match(/\/FontFile[23]? \d+ 0 R/g)).toHaveLength(described.length);
    }
  });

  test('have no sign that the type lacks', async () => {
    for (const sheet of SHEETS) {
      const made = sheet(recordAfter('line', courseOf([RIGHT, LEFT])));
      const inWords = JSON.stringify([made.marks, made.blocks]);
      const printed = await wordsOf(made);
      for (const sign of ['µ', '²', '·', '%', '=']) {
        if (inWords.includes(sign)) expect(printed).toContain(sign);
      }
      expect(printed).not.toContain('\u0000');
    }
  });
});

test('a sheet too long for one page goes on on the next, and what belongs together stays on one', async () => {
  const rows = Array.from({ length: 120 }, (_, n) => [`what ${n} is`, `value ${n}.`] as const);
  const sheet: Sheet = {
    fileName: 'long.pdf',
    title: 'a long sheet',
    size: 'page',
    marks: [],
    blocks: [{ kind: 'rows', rows }],
    code: null,
  };
  const pages = await pagesOf(sheet);
  expect(pages).toHaveLength(3);
  const said = pages.flatMap((page) => page.match(/what \d+ is value \d+\./g) ?? []);
  expect(said).toEqual(rows.map((row) => row.join(' ')));
});

describe('a station asked to print', () => {
  /** A desk on a ledger of its own, asked as a screen asks. */
  const ignore = (): void => {};

  function stationOf() {
    const folder = newFolder();
    const store = ledgerStore(openDatabase(join(folder, 'practice.sqlite3')));
    const ledger = steadfastLedger(store, emergencyFile(join(folder, 'emergency.jsonl')));
    onTestFinished(() => ledger.close());
    const clock = steppedClock(3_600_000, Date.UTC(2031, 2, 3, 8, 0));
    const desk = new Desk(ledger, clock, true, readHouse(folder));
    const emergencyFolder = folder;
    const settings = DEFAULT_SETTINGS;
    const beside = besideOf({
      ledgerFile: join(folder, 'practice.sqlite3'),
      emergencyFolder,
      settings,
      headSeq: () => 0,
    });
    onTestFinished(() => beside.stop());
    const reception = receptionOf({
      people: null,
      enter: ignore,
      nowMs: () => 0,
      idleMs: () => 0,
      tell: ignore,
      onChanged: ignore,
    });
    const ask = async (message: object): Promise<Message> => {
      const [reply] = answer(message, 'a-screen', { desk, ledger, beside, reception }).replies;
      if (reply === undefined) throw new Error('there is no answer');
      return reply;
    };
    return { ask, clock, desk };
  }
  const requestId = (n: number): string => `request-${String(n).padStart(4, '0')}`;
  const print = (sessionId: string, sheet: SheetName) => ({
    type: 'print',
    requestId: requestId(999),
    sessionId,
    sheet,
  });

  test('answers with the sheet once there is one, and until then with when there will be', async () => {
    const { ask, clock } = stationOf();
    const command = openSessionSchema.parse({ kind: 'open-session' });
    const open = await ask({ type: 'open', requestId: requestId(0), by: NURSE, command });
    if (open.type !== 'entered') throw new Error('no session was opened');
    const { sessionId } = open;
    let { seq } = open;

    for (const [index, step] of stepsBefore('inspected').entries()) {
      if (step.name === 'second-check') {
        const early = { type: 'error', says: expect.stringContaining('two people have computed the same plan') };
        expect(await ask(print(sessionId, 'plan sheet'))).toMatchObject(early);
      }
      if (step.name === 'prepare') {
        const early = { type: 'error', says: 'the syringe label is printed once the drug is made up' };
        expect(await ask(print(sessionId, 'syringe label'))).toMatchObject(early);
        const plan = await ask(print(sessionId, 'plan sheet'));
        expect(plan).toMatchObject({ type: 'printed', fileName: 'PRACTICE-plan-K-2041.pdf' });
      }
      clock.moveTo(step.atMs);
      const reply = await ask({
        type: 'command',
        requestId: requestId(index + 1),
        sessionId,
        seq,
        by: step.by,
        command: step.command,
      });
      if (reply.type !== 'entered') throw new Error(JSON.stringify(reply));
      seq = reply.seq;
    }
    const label = await ask(print(sessionId, 'syringe label'));
    if (label.type !== 'printed') throw new Error(JSON.stringify(label));
    expect(label.fileName).toBe('PRACTICE-syringe-label-K-2041.pdf');
    const pdf = Buffer.from(label.pdfBase64, 'base64');
    const { text } = await extractText(await getDocumentProxy(new Uint8Array(pdf)), { mergePages: true });
    expect(text).toContain('verteporfin 11.00 mg in 30 mL');
    expect(text).toContain('PRACTICE');
  });

  test('makes the card for the wall without any session', async () => {
    const card = await stationOf().ask({ type: 'print-quick-card', requestId: requestId(1) });
    expect(card).toMatchObject({ type: 'printed', fileName: 'dimroom-quick-card.pdf' });
  });

  test('in a language that it does not have is refused, and says which there are', async () => {
    const asked = { ...print('session-one', 'after-care sheet'), language: 'xx' };
    const refused = await stationOf().ask(asked);
    expect(refused).toMatchObject({ type: 'error', says: expect.stringMatching(/^not understood.*language.*"de"/) });
  });

  test('for a session that is not there says so', async () => {
    expect(await stationOf().ask(print('no-such-session', 'plan sheet'))).toMatchObject({
      type: 'error',
      says: 'there is no such session in this ledger',
    });
  });
});

function bodyOf(steps: readonly Step[], heightCm: number, weightKg: number): Step[] {
  return steps.map((step) =>
    step.command.kind === 'measure' || step.command.kind === 'second-check'
      ? { ...step, command: { ...step.command, heightCm, weightKg } }
      : step,
  );
}

function differing(): Step[] {
  const [second] = ONE_EYE.filter((step) => step.name === 'second-check');
  if (second?.command.kind !== 'second-check') throw new Error('there is no second computation');
  return [{ ...second, command: { ...second.command, weightKg: 81.5 } }];
}

const again = (name: string): Step[] =>
  ONE_EYE.filter((step) => step.name === name).map((step) => ({ ...step, atMs: T0_AT_MS - 310_000 }));

import { DOSE_CAUTION } from '../dosing/plan.ts';
import { FURTHER_KEYS, KEYS, type KeyBinding } from '../keys/key-table.ts';
import { CUE_IDS, CUE_TABLE, type CueId } from '../procedure/cue-table.ts';
import type { DueKind } from '../procedure/due.ts';
import { FLUSH_MS, IN_USE_MS } from '../procedure/spans.ts';
import { DEFAULT_REGIMEN_ID, type Regimen, regimenById } from '../regimen/regimens.ts';
import { SURE_WORDS } from '../regimen/source.ts';
import { calendarDate, minutesSeconds } from '../time/show.ts';
import type { Block, Sheet } from './sheet.ts';

/**
 * One page for the wall: what each key does, what each sound means and when it comes in the labelled regimen, what to
 * press when something is wrong, and the cautions. Made from the tables that the keyboard, the cues and the regimens
 * follow; it says which day it was made, since a later version may have other keys. In English, by sentences that
 * `inLanguage` finds again.
 */
export function quickCard({ wallMs, offsetMin }: { wallMs: number; offsetMin: number }): Sheet {
  const regimen = regimenById(DEFAULT_REGIMEN_ID);
  return {
    fileName: 'dimroom-quick-card.pdf',
    title: 'Dimroom: the procedure clock at a glance',
    size: 'wall',
    marks: [],
    foot: `made ${calendarDate(wallMs, offsetMin)}: print it anew after an update`,
    blocks: [
      { kind: 'heading', text: 'when something is wrong' },
      { kind: 'rows', rows: TROUBLE_KEYS },
      { kind: 'heading', text: 'sounds and moments, from the START of the pump' },
      { kind: 'line', text: 'labelled regimen, minutes and seconds; other regimens have their own' },
      { kind: 'rows', rows: [['0:00', 'pump on: both timers start'], ...momentsOf(regimen)] },
      { kind: 'line', text: 'from the reconstitution of the drug' },
      { kind: 'rows', rows: drugAges() },
      { kind: 'heading', text: 'keys' },
      { kind: 'rows', rows: [...FURTHER_KEYS, ...KEYS].map(keyRow) },
      { kind: 'heading', text: 'cautions' },
      { kind: 'list', items: CAUTIONS },
      { kind: 'heading', text: 'where the moments come from' },
      ...regimen.sources.map(({ text, sure }): Block => ({ kind: 'line', text: `${text} · ${SURE_WORDS[sure]}` })),
      { kind: 'line', text: 'sounds, and how often: local practice' },
    ],
    code: null,
  };
}

type Row = readonly [what: string, value: string];

const keyRow = ({ cap, words, more }: Pick<KeyBinding, 'cap' | 'words' | 'more'>): Row => [
  cap,
  more === undefined ? words : `${words} · ${more}`,
];

/** Three lines for the one moment in which nobody reads further. */
const TROUBLE_KEYS: readonly Row[] = [
  [capOf('trouble'), 'what to do, step by step. If the vein swells or hurts: pump off first, then press'],
  [capOf('hold'), 'hold the infusion: its timer waits, the light timer goes on'],
  [capOf('stop-early'), 'stop early: no further drug, no further light; after-care is owed all the same'],
];

function capOf(command: KeyBinding['needs']): string {
  const binding = KEYS.find(({ needs }) => needs === command);
  if (binding === undefined) throw new RangeError(`no key is bound to "${command}"`);
  return binding.cap;
}

const SECOND_MS = 1000;
const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** When each instant is due where all goes as planned, from the pump's start; null for what counts from elsewhere. */
const DUE_MS: Record<DueKind, (regimen: Regimen) => number | null> = {
  'infusion-due': ({ infusionMin }) => infusionMin * MINUTE_MS,
  'flush-due': ({ infusionMin }) => infusionMin * MINUTE_MS + FLUSH_MS,
  'light-due': ({ lightStartMin }) => lightStartMin * MINUTE_MS,
  'exposure-due': ({ lightStartMin, exposureS }) => lightStartMin * MINUTE_MS + exposureS * SECOND_MS,
  'second-eye-due': ({ secondEyeLimitMin }) => (secondEyeLimitMin === null ? null : secondEyeLimitMin * MINUTE_MS),
  'drug-expiry-due': () => null,
};

const momentsOf = (regimen: Regimen): Row[] =>
  CUE_IDS.flatMap((cue) => {
    const { of, aheadMs } = CUE_TABLE[cue];
    const dueMs = DUE_MS[of](regimen);
    return dueMs === null ? [] : [[minutesSeconds(dueMs - aheadMs).text, meaningOf(cue)] as const];
  });

const drugAges = (): Row[] =>
  CUE_IDS.filter((cue) => CUE_TABLE[cue].of === 'drug-expiry-due').map((cue) => [
    `${(IN_USE_MS - CUE_TABLE[cue].aheadMs) / HOUR_MS} h`,
    meaningOf(cue),
  ]);

/** What a sound says, whose it is to answer, and how often it comes again. */
function meaningOf(cue: CueId): string {
  const { words, answer, repeats } = CUE_TABLE[cue];
  const again = repeats === null ? [] : [`again every ${repeats.everyMs / SECOND_MS} s`];
  return [words, FOR[answer.by], ...again].join(' · ');
}

const FOR = { nurse: 'for the nurse', operator: 'for the operator' } as const;

const CAUTIONS: readonly string[] = [
  DOSE_CAUTION,
  'The current product text, local policy and the order of the physician go before this card.',
  'The light counts from the START of the infusion. A hold does not move it.',
  'Dextrose 5 % only, in syringe, line and flush: sodium chloride precipitates the drug.',
  'The sounds are no alarms: they are no substitute for watching the patient, the pump and the laser.',
  'This clock is not a certified medical device.',
];

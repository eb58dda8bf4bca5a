import { DOSE_CAUTION } from '../../dosing/plan.ts';
import { deviationsOf, ruleById } from '../../ledger/deviations.ts';
import { FIGURE_ON_PAPER, figureOf, figureRows, figureSvg } from '../../ledger/figure.ts';
import { measuresOf } from '../../ledger/measures.ts';
import { anchorText } from '../../ledger/verify.ts';
import type { SessionRecord } from '../../procedure/record.ts';
import { SURE_WORDS } from '../../regimen/source.ts';
import type { Limits } from '../../settings/limits.ts';
import { type Extract, readableOf, standingOf, Withheld, withheldIn } from '../extract.ts';
import { marksOf } from '../marks.ts';
import { type EntryLine, entryLines } from './entry-lines.ts';
import { summaryOf } from './summary.ts';

/** The whole record of a session for paper, as data: how it is set is for whoever draws it. */
export interface RecordSheet {
  readonly fileName: string;
  readonly title: string;
  readonly practice: boolean;
  /** Stand on every page. */
  readonly marks: readonly string[];
  /** Whose record it is and where it was taken from: at the foot of every page. */
  readonly foot: readonly string[];
  /** Of the last entry, so that the same entries give the same sheet. */
  readonly madeWallMs: number;
  /** What cannot be read, in words; empty where all can. */
  readonly trouble: readonly string[];
  readonly summary: readonly (readonly [what: string, value: string])[];
  /** The session's figure as SVG, black on white; null before there was a start. */
  readonly figureSvg: string | null;
  readonly figure: readonly {
    readonly what: string;
    readonly planned: string;
    readonly actual: string;
    readonly apart: string;
  }[];
  readonly deviations: readonly DeviationLine[];
  readonly entries: readonly EntryLine[];
  readonly cautions: readonly string[];
}

export interface DeviationLine {
  readonly seq: number;
  readonly title: string;
  readonly words: string;
  /** The limit with its unit, or nothing where there is none. */
  readonly limit: string;
  readonly source: string;
}

/** @throws Withheld where the session's order is not to be shown yet. @throws RangeError where nothing can be read. */
export function recordSheet(extract: Extract, limits: Limits): RecordSheet {
  const { sessionId, fileId, head, entries, stationEntries, practice } = extract;
  const standing = standingOf(extract);
  if (withheldIn(extract, standing)) throw new Withheld(sessionId);
  const { record, trouble } = standing;
  if (record === null)
    throw new RangeError(`session ${sessionId} cannot be read: ${trouble?.says ?? 'it has no entry'}`);
  const measures = measuresOf(readableOf(extract), stationEntries);
  const figure = measures.t0 === null ? null : figureOf(measures);
  const anchor = anchorText({ fileId, ...head });
  return {
    fileName: `record-${record.patient?.patientCode ?? sessionId}.pdf`,
    title: 'record of a session',
    practice,
    marks: marksOf(record),
    foot: [
      [`session ${sessionId}`, ...(record.patient === null ? [] : [`patient ${record.patient.patientCode}`])].join(
        ' · ',
      ),
      `anchor ${anchor}`,
      'What this paper shows is in the ledger whose anchor this is: ledger verify FILE --anchor TEXT says whether it still is.',
    ],
    madeWallMs: entries.at(-1)?.wallMs ?? 0,
    trouble: troubleWords(extract, trouble),
    summary: summaryOf(record, measures),
    figureSvg: figure === null ? null : figureSvg(figure, FIGURE_ON_PAPER),
    figure: figure === null ? [] : figureRows(figure),
    deviations: deviationsOf(measures, limits).map(({ ruleId, seq, words, limit, unit }) => {
      const { title, source } = ruleById(ruleId);
      return {
        seq,
        title,
        words,
        limit: limit === null ? '' : `limit ${Math.round(limit * 1000) / 1000} ${unit ?? ''}`.trim(),
        source: source.text === SURE_WORDS[source.sure] ? source.text : `${source.text} (${SURE_WORDS[source.sure]})`,
      };
    }),
    entries: entryLines(extract, record),
    cautions: cautionsOf(record),
  };
}

function troubleWords({ unreadable }: Extract, trouble: { seq: number; says: string } | null): string[] {
  const damaged = unreadable.map(({ seq, says }) => `entry ${seq} is damaged in the ledger: ${says}`);
  if (trouble === null) return damaged;
  return [
    `NOT SOUND: what is reckoned below is of the entries before ${trouble.seq} only: ${trouble.says}`,
    ...damaged.filter((words) => !words.includes(trouble.says)),
  ];
}

const cautionsOf = ({ plan }: SessionRecord): string[] => [
  ...(plan?.cautions ?? []),
  DOSE_CAUTION,
  'Doses that were given are computed from the time the pump ran and the flush, not measured.',
  'A cue that "sounded" was asked of the sound card; that somebody heard it, nothing here shows.',
  'Limits are those set when this was printed. The current product text, local policy and the physician go before it.',
];

import { deviationsOf, type FoundDeviation } from '../../ledger/deviations.ts';
import { type ExposureMeasure, measuresOf, type SessionMeasures } from '../../ledger/measures.ts';
import type { Eye } from '../../procedure/commands.ts';
import { STATE_WORDS } from '../../procedure/states.ts';
import type { Limits } from '../../settings/limits.ts';
import { isoTime } from '../../time/show.ts';
import { type Damaged, type Extract, readableOf, standingOf, WAITS, withheldIn } from '../extract.ts';
import type { Cell, Column } from './column.ts';
import { mark } from './entries-table.ts';

interface Line {
  readonly measures: SessionMeasures;
  readonly deviations: readonly FoundDeviation[];
  readonly extract: Extract;
  /** The order is not to be shown yet: what follows from it stays empty. */
  readonly withheld: boolean;
  readonly trouble: Damaged | null;
}

const seconds = (ms: number | null | undefined): Cell => (ms == null ? null : ms / 1000);
const listed = (items: readonly string[]): string => items.join('; ');

/** Empty while the session's order is withheld. */
const shown =
  (of: (measures: SessionMeasures) => Cell) =>
  ({ measures, withheld }: Line): Cell =>
    withheld ? null : of(measures);

const deviating =
  (of: (deviations: readonly FoundDeviation[]) => Cell) =>
  ({ deviations, withheld }: Line): Cell =>
    withheld ? null : of(deviations);

const exposure = (measures: SessionMeasures, eye: Eye): ExposureMeasure | undefined =>
  measures.exposures.find((one) => one.eye === eye);

const lightColumns = (eye: Eye): Column<Line>[] => [
  {
    name: `${eye}OrderedS`,
    says: `${eye} eye, light ordered, seconds`,
    of: shown((measures) => exposure(measures, eye)?.orderedS ?? null),
  },
  {
    name: `${eye}DeliveredS`,
    says: `${eye} eye, light delivered, seconds`,
    of: shown((measures) => exposure(measures, eye)?.deliveredS ?? null),
  },
  {
    name: `${eye}OrderedJPerCm2`,
    says: `${eye} eye, fluence ordered, J/cm²`,
    of: shown((measures) => exposure(measures, eye)?.orderedJPerCm2 ?? null),
  },
  {
    name: `${eye}DeliveredJPerCm2`,
    says: `${eye} eye, fluence delivered, J/cm²`,
    of: shown((measures) => exposure(measures, eye)?.deliveredJPerCm2 ?? null),
  },
];

/** One line a session. */
export const SESSION_COLUMNS: readonly Column<Line>[] = [
  {
    name: 'practice',
    says: 'PRACTICE where the session is practice, else empty',
    of: ({ measures }) => mark(measures.practice),
  },
  { name: 'sessionId', says: 'the session', of: ({ measures }) => measures.sessionId },
  {
    name: 'opened',
    says: 'when it was opened, ISO 8601 with offset',
    of: ({ measures }) => isoTime(measures.openedWallMs, measures.offsetMin),
  },
  { name: 'state', says: 'state after its last entry', of: ({ measures }) => STATE_WORDS[measures.state] },
  { name: 'patientCode', says: 'patient code', of: ({ measures }) => measures.patientCode },
  { name: 'regimenId', says: 'regimen ordered', of: shown(({ regimenId }) => regimenId) },
  { name: 'regimen', says: 'its name', of: shown(({ regimenName }) => regimenName) },
  { name: 'eyes', says: 'eyes ordered, in the order of treatment', of: shown(({ eyes }) => listed(eyes)) },
  { name: 'lots', says: 'lots of the vials', of: ({ measures }) => listed(measures.lots) },
  {
    name: 'people',
    says: 'who entered anything, with roles',
    of: ({ measures }) => listed(measures.people.map(({ initials, role }) => `${initials} ${role}`)),
  },
  {
    name: 't0',
    says: "the pump's start as finally stated, ISO 8601 with offset",
    of: ({ measures: { t0 } }) => (t0 === null ? null : isoTime(t0.wallMs, t0.offsetMin)),
  },
  {
    name: 'reconstitutionToInfusionEndMin',
    says: "reconstitution to the infusion's end, minutes",
    of: ({ measures }) => {
      const ms = measures.reconstitution?.toInfusionEndMs ?? null;
      return ms === null ? null : ms / 60_000;
    },
  },
  {
    name: 'infusionPlannedS',
    says: 'infusion planned, seconds',
    of: shown(({ infusion }) => seconds(infusion?.plannedMs)),
  },
  {
    name: 'infusionRanS',
    says: 'infusion ran, holds left out, seconds',
    of: ({ measures }) => seconds(measures.infusion?.ranMs),
  },
  { name: 'holds', says: 'how often the infusion was held', of: ({ measures }) => measures.holds.length },
  {
    name: 'heldS',
    says: 'seconds held, those that ended',
    of: ({ measures }) => seconds(measures.holds.reduce((sum, { heldMs }) => sum + (heldMs ?? 0), 0)),
  },
  { name: 'flushS', says: 'flush, seconds', of: ({ measures }) => seconds(measures.flush?.ranMs) },
  { name: 'flushMl', says: 'flush, mL', of: ({ measures }) => measures.flush?.flushMl ?? null },
  {
    name: 'notDeliveredMg',
    says: 'left in the line by the flush, mg, computed',
    of: ({ measures }) => measures.flush?.notDeliveredMg ?? null,
  },
  {
    name: 'lightStartFromDueS',
    says: 'first light against its due instant, seconds; negative is early',
    of: ({ measures }) => seconds(measures.light?.startOffsetMs),
  },
  {
    name: 'secondEyeFromLimitS',
    says: "second eye's light against its limit, seconds; negative is in time",
    of: ({ measures }) => seconds(measures.secondEye?.startOffsetMs),
  },
  ...lightColumns('right'),
  ...lightColumns('left'),
  {
    name: 'stoppedEarly',
    says: 'the reason, where it was stopped early',
    of: ({ measures }) => measures.stoppedEarly?.reason ?? null,
  },
  { name: 'deviations', says: 'how many', of: deviating((deviations) => deviations.length) },
  {
    name: 'deviationIds',
    says: 'kinds of deviation, each once',
    of: deviating((deviations) => listed([...new Set(deviations.map(({ ruleId }) => ruleId))])),
  },
  {
    name: 'deviationWords',
    says: 'each deviation in words, with the entry it points at',
    of: deviating((deviations) => listed(deviations.map(({ words, seq }) => `${words} (entry ${seq})`))),
  },
  { name: 'entries', says: 'how many entries can be read', of: ({ extract }) => extract.entries.length },
  { name: 'firstSeq', says: 'first entry', of: ({ measures }) => measures.firstSeq },
  { name: 'lastSeq', says: 'last entry', of: ({ extract }) => extract.entries.at(-1)?.seq ?? null },
  { name: 'lastHash', says: "last entry's SHA-256", of: ({ extract }) => extract.entries.at(-1)?.hash ?? null },
  { name: 'trouble', says: 'what cannot be read, or is withheld for now', of: troubleWords },
];

function troubleWords({ trouble, withheld }: Line): string | null {
  if (withheld) return WAITS;
  return trouble === null ? null : `read to the entry before ${trouble.seq}: ${trouble.says}`;
}

/** Sessions as a table, the header first. What is withheld is left empty, and its line says so. */
export function* sessionsTable(sessions: Iterable<Extract>, limits: Limits): Generator<readonly Cell[]> {
  yield SESSION_COLUMNS.map(({ name }) => name);
  for (const extract of sessions) {
    const line = lineOf(extract, limits);
    yield SESSION_COLUMNS.map(({ name, of }) => (line === null ? unreadableCell(name, extract) : of(line)));
  }
}

/** Null where not even the entry that opens it can be read. */
function lineOf(extract: Extract, limits: Limits): Line | null {
  const readable = readableOf(extract);
  if (readable.length === 0) return null;
  const standing = standingOf(extract);
  const measures = measuresOf(readable, extract.stationEntries);
  const deviations = deviationsOf(measures, limits);
  return { measures, deviations, extract, withheld: withheldIn(extract, standing), trouble: standing.trouble };
}

function unreadableCell(name: string, { sessionId, practice, unreadable }: Extract): Cell {
  if (name === 'practice') return mark(practice);
  if (name === 'sessionId') return sessionId;
  return name === 'trouble' ? `entry ${unreadable[0]?.seq}: ${unreadable[0]?.says}` : null;
}

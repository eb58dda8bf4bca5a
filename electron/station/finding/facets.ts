import { ANY_DEVIATION, type FindFilter } from '../../../core/ledger/find-filter.ts';
import type { SessionRow } from '../../../core/protocol/finding.ts';

/** A thing that sessions are marked with, so that they can be found by it. */
export interface Mark {
  readonly kind: string;
  readonly value: string;
}

interface Facet {
  readonly kind: string;
  /** What a filter asks for; undefined where it does not ask. */
  readonly asked: (filter: FindFilter) => string | undefined;
  /** What a session is marked with. */
  readonly has: (row: SessionRow) => readonly string[];
}

/** One row for each thing that is found by being equal. When it was opened and the patient's code are ranges. */
const FACETS: readonly Facet[] = [
  { kind: 'lot', asked: ({ lot }) => lot, has: ({ lots }) => lots },
  {
    kind: 'regimen',
    asked: ({ regimenId }) => regimenId,
    has: ({ regimen }) => (regimen === null ? [] : [regimen.id]),
  },
  { kind: 'eye', asked: ({ eye }) => eye, has: ({ eyes }) => eyes },
  { kind: 'person', asked: ({ person }) => person, has: ({ people }) => people.map(({ initials }) => initials) },
  { kind: 'state', asked: ({ state }) => state, has: ({ state }) => [state] },
  { kind: 'deviation', asked: ({ deviation }) => deviation, has: deviationMarks },
  { kind: 'practice', asked: practiceAsked, has: ({ practice }) => [practice ? 'practice' : 'real'] },
];

export const marksAsked = (filter: FindFilter): Mark[] =>
  FACETS.flatMap(({ kind, asked }) => {
    const value = asked(filter);
    return value === undefined ? [] : [{ kind, value }];
  });

/** Every mark of a session, each once, as the index compares them. */
export const marksOf = (row: SessionRow): Mark[] =>
  FACETS.flatMap(({ kind, has }) => {
    const values = new Map(has(row).map((value) => [value.toLowerCase(), value]));
    return [...values.values()].map((value) => ({ kind, value }));
  });

function deviationMarks({ deviations }: SessionRow): readonly string[] {
  return deviations.length === 0 ? [] : [ANY_DEVIATION, ...deviations];
}

function practiceAsked({ practice }: FindFilter): string | undefined {
  return practice === 'both' ? undefined : practice;
}

import { type FindFilter, findFilterSchema } from '../../../core/ledger/find-filter.ts';
import type { Errors, Values } from '../../parts/field.ts';
import { dayOf, readDays } from './days.ts';
import type { Nameable } from './filter-fields.ts';
import { matchWords, type Named } from './match-words.ts';

export type ReadFilter =
  | { readonly ok: true; readonly filter: FindFilter }
  | { readonly ok: false; readonly errors: Errors };

/** What was typed as a filter, or what is wrong with each field. An empty field asks for nothing. */
export function readFilter(values: Values, { regimens, states, deviations }: Nameable): ReadFilter {
  const errors: Record<string, string> = {};
  const typed = (name: string): string | undefined => values[name]?.trim() || undefined;

  function day(name: string): ReturnType<typeof readDays> {
    const text = typed(name);
    const span = text === undefined ? null : readDays(text);
    if (text !== undefined && span === null) errors[name] = 'write a day as 2026-03-02, or a month as 2026-03';
    return span;
  }

  function idOf(name: string, among: readonly Named[]): string | undefined {
    const text = typed(name);
    if (text === undefined) return undefined;
    const match = matchWords(text, among, name);
    if (match.ok) return match.one.id;
    errors[name] = match.says;
    return undefined;
  }

  const from = day('from');
  const to = day('to');
  if (from !== null && to !== null && from.fromWallMs >= to.toWallMs) errors.to = 'that is before the first day';
  const asked = {
    fromWallMs: from?.fromWallMs,
    toWallMs: to?.toWallMs,
    patientCode: typed('patientCode'),
    lot: typed('lot'),
    regimenId: idOf('regimen', regimens),
    eye: typed('eye'),
    person: typed('person'),
    state: idOf('state', states),
    deviation: idOf('deviation', deviations),
    practice: typed('practice'),
  };
  const read = findFilterSchema.safeParse(
    Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== undefined)),
  );
  const faults = read.success ? [] : read.error.issues.map(({ path, message }) => [String(path[0]), message] as const);
  const all = { ...Object.fromEntries(faults), ...errors };
  return read.success && Object.keys(errors).length === 0
    ? { ok: true, filter: read.data }
    : { ok: false, errors: all };
}

/** A filter as it would have been typed. */
export function typedOf(filter: FindFilter, { regimens, states, deviations }: Nameable): Values {
  const nameOf = (id: string | undefined, among: readonly Named[]): string =>
    among.find((one) => one.id === id)?.words ?? id ?? '';
  return {
    from: filter.fromWallMs === undefined ? '' : dayOf(filter.fromWallMs),
    to: filter.toWallMs === undefined ? '' : dayOf(filter.toWallMs - 1),
    patientCode: filter.patientCode ?? '',
    lot: filter.lot ?? '',
    regimen: nameOf(filter.regimenId, regimens),
    eye: filter.eye ?? '',
    person: filter.person ?? '',
    state: nameOf(filter.state, states),
    deviation: nameOf(filter.deviation, deviations),
    practice: filter.practice === 'both' ? '' : (filter.practice ?? ''),
  };
}

/** The same in plain words, one for each thing that is asked for; nothing where all sessions are. */
export function filterWords(filter: FindFilter, names: Nameable): string[] {
  const { from, to, patientCode, lot, regimen, eye, person, state, deviation, practice } = typedOf(filter, names);
  const when =
    from === '' ? to && `to ${to}` : to === '' ? `from ${from}` : from === to ? `on ${from}` : `${from} to ${to}`;
  const words = [
    when,
    deviation === 'any' ? 'with any deviation' : deviation,
    state,
    patientCode && `patient ${patientCode}…`,
    lot && `lot ${lot}`,
    regimen,
    eye && `${eye} eye`,
    person && `by ${person}`,
    practice === 'real' ? 'without practice' : practice && 'practice only',
  ];
  return words.filter((word): word is string => word !== undefined && word !== '');
}

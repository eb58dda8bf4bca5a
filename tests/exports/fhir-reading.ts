import type { Extract } from '../../core/report/extract.ts';
import { fhirBundle } from '../../core/report/fhir/bundle.ts';
import type { Resource } from '../../core/report/fhir/resource.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { atOf, NURSE, ONE_EYE, type Step, sha256, stepsBefore } from '../session-steps.ts';

/** A part of a resource as a reader of its JSON finds it. */
export type Part = Record<string, unknown>;

export const VERSION = '9.8.7';

export const bundleOf = (extract: Extract): Resource =>
  fhirBundle({ extract, limits: DEFAULT_LIMITS, version: VERSION, sha256 });

export const entriesOf = (bundle: Resource) => bundle.entry as unknown as { fullUrl: string; resource: Resource }[];

export const allOf = (bundle: Resource, type: string): Resource[] =>
  entriesOf(bundle)
    .map(({ resource }) => resource)
    .filter(({ resourceType }) => resourceType === type);

export function oneOf<T = Part>(bundle: Resource, type: string): T {
  const [one, ...more] = allOf(bundle, type);
  if (one === undefined || more.length > 0) throw new Error(`${more.length + (one ? 1 : 0)} of ${type}`);
  return one as unknown as T;
}

export const statusOf = (bundle: Resource, type: string): unknown => allOf(bundle, type)[0]?.status;

export function observationOf<T = Part>(bundle: Resource, text: string): T {
  const found = allOf(bundle, 'Observation').find(({ code }) => (code as Part).text === text);
  if (found === undefined) throw new Error(`there is no observation "${text}"`);
  return found as unknown as T;
}

export const step = (atMs: number, command: Step['command'], by = NURSE): Step => ({
  name: command.kind,
  atMs,
  by,
  command,
});

export const stop = (atMs: number): Step =>
  step(atMs, { kind: 'stop-early', reason: 'the physician stops the treatment' });

/** A course that is stopped just before one of its steps. */
export const stoppedBefore = (name: string, steps = ONE_EYE): Step[] => [
  ...stepsBefore(name, steps),
  stop(atOf(name, steps) - 1),
];

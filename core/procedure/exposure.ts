import type { Eye } from './commands.ts';

/** One eye's light, as data: what is ordered, and the pairs of beam on and off. */
export interface Exposure {
  readonly eye: Eye;
  readonly plannedMs: number;
  readonly irradianceMwPerCm2: number;
  readonly orderedJPerCm2: number;
  readonly beams: readonly Beam[];
}

export interface Beam {
  readonly onAtMs: number;
  /** When light ceased; null while the beam is on. */
  readonly offAtMs: number | null;
  /** By how much its presses were set back in all, seconds; absent where they were not. */
  readonly setBackS?: { readonly on: number; readonly off: number };
}

/** Share of the ordered seconds that counts as all of them: nominal 83 s and exact 83.33 s differ by 0.4 %. */
const WHOLE = 0.99;

export const beamIsOn = (exposure: Exposure): boolean => exposure.beams.some((beam) => beam.offAtMs === null);

/** The stretch of light that began last, over all eyes. */
export function lastBeam({ exposures }: { readonly exposures: readonly Exposure[] }): Beam | null {
  const beams = exposures.flatMap((exposure) => exposure.beams);
  return beams.reduce<Beam | null>((last, beam) => (last === null || beam.onAtMs >= last.onAtMs ? beam : last), null);
}

/** Milliseconds of light delivered up to `atMs`. */
export function deliveredMs(exposure: Exposure, atMs: number): number {
  return exposure.beams.reduce((sum, beam) => sum + Math.max(0, (beam.offAtMs ?? atMs) - beam.onAtMs), 0);
}

export const deliveredJPerCm2 = (exposure: Exposure, atMs: number): number =>
  (deliveredMs(exposure, atMs) / 1000) * (exposure.irradianceMwPerCm2 / 1000);

/** When the ordered seconds will have been delivered; null while the beam is off. */
export function exposureDueAtMs(exposure: Exposure): number | null {
  const running = exposure.beams.find((beam) => beam.offAtMs === null);
  if (running === undefined) return null;
  return running.onAtMs + exposure.plannedMs - deliveredMs(exposure, running.onAtMs);
}

export const isWhole = (exposure: Exposure, atMs: number): boolean =>
  deliveredMs(exposure, atMs) >= exposure.plannedMs * WHOLE;

export function beamOn(exposure: Exposure, atMs: number): Exposure {
  return { ...exposure, beams: [...exposure.beams, { onAtMs: atMs, offAtMs: null }] };
}

export function beamOff(exposure: Exposure, atMs: number): Exposure {
  return {
    ...exposure,
    beams: exposure.beams.map((beam) => (beam.offAtMs === null ? { ...beam, offAtMs: atMs } : beam)),
  };
}

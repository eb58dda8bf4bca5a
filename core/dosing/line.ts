import type { Infusate } from './infusate.ts';
import { mustNotBeNegative } from './plausible.ts';

/** What fills the infusion line before the pump starts: the infusate itself, or plain D5W. */
export type PrimedWith = 'drug' | 'diluent';

export interface Line {
  readonly infusate: Pick<Infusate, 'totalMl' | 'doseAfterRoundingMg' | 'rateMlPerMin'>;
  /** Measured volume from syringe tip to vein: extension set, filter, cannula. */
  readonly lineMl: number;
  readonly primedWith: PrimedWith;
}

export interface LineEffect {
  /** Pump start to the first drug reaching the vein. */
  readonly arrivalDelayS: number;
  /** Pump running time until the syringe is empty. */
  readonly pumpEndS: number;
  /** What the patient has had when the syringe is empty. */
  readonly doseAtPumpEndMg: number;
  /** What is still in the line then, and needs the flush. */
  readonly doseInLineMg: number;
}

/**
 * What the line does to the times and the dose.
 *
 * Primed with drug: the priming comes out of the infusate, so the syringe runs out early by lineMl / rate.
 * Primed with D5W: the pump runs its full time, and drug reaches the vein late by lineMl / rate.
 * Either way the line holds its volume of infusate when the syringe is empty.
 *
 * Assumes plug flow: volumes move along the line in order and do not mix. Computed; no published figure for
 * verteporfin. Throws RangeError when the line is negative or holds the whole infusate.
 */
export function lineEffect(line: Line): LineEffect {
  const { infusate, lineMl, primedWith } = line;
  const pumpEndS = secondsToPump(syringeMlAtStart(line), infusate.rateMlPerMin);
  const { inPatientMg, inLineMg } = dosesAt({ ...line, infusedS: pumpEndS });
  return {
    arrivalDelayS: primedWith === 'drug' ? 0 : secondsToPump(lineMl, infusate.rateMlPerMin),
    pumpEndS,
    doseAtPumpEndMg: inPatientMg,
    doseInLineMg: inLineMg,
  };
}

export interface DosesAt {
  readonly inPatientMg: number;
  readonly inLineMg: number;
  readonly inSyringeMg: number;
}

/**
 * Where the dose is after the pump has run for infusedS seconds, holds not counted. Past the end of the syringe
 * nothing moves any more. Assumes plug flow, as lineEffect does. Throws RangeError as lineEffect does, and on a
 * negative time.
 */
export function dosesAt({ infusedS, ...line }: Line & { readonly infusedS: number }): DosesAt {
  mustNotBeNegative('Infused time', infusedS, 's');
  const startMl = syringeMlAtStart(line);
  const { infusate, lineMl, primedWith } = line;
  // Share first: all of the infusate is then all of the dose, to the last digit.
  const mgIn = (volumeMl: number): number => (volumeMl / infusate.totalMl) * infusate.doseAfterRoundingMg;
  const pushedMl = Math.min(startMl, (infusate.rateMlPerMin * infusedS) / 60);
  const drugInLineMl = primedWith === 'drug' ? lineMl : Math.min(lineMl, pushedMl);
  const drugInPatientMl = primedWith === 'drug' ? pushedMl : pushedMl - drugInLineMl;
  return {
    inPatientMg: mgIn(drugInPatientMl),
    inLineMg: mgIn(drugInLineMl),
    inSyringeMg: mgIn(startMl - pushedMl),
  };
}

export interface FlushConsequence {
  readonly deliveredMg: number;
  readonly notDeliveredMg: number;
}

/**
 * What a flush of flushMl brings to the patient out of a line that holds doseInLineMg in lineMl; whatever a short
 * flush leaves behind is not delivered. Plug flow, so the share is linear and a flush of lineMl clears the line. Real
 * lines mix and need more.
 *
 * A flush through a side port clears only what lies between the port and the vein. Give the dose and the volume of
 * that part; what lies before the port is not delivered at all.
 *
 * Throws RangeError on a negative figure, or a dose in a line of no volume.
 */
export function flushConsequence({
  doseInLineMg,
  lineMl,
  flushMl,
}: {
  readonly doseInLineMg: number;
  readonly lineMl: number;
  readonly flushMl: number;
}): FlushConsequence {
  mustNotBeNegative('Dose in the line', doseInLineMg, 'mg');
  mustNotBeNegative('Line volume', lineMl, 'mL');
  mustNotBeNegative('Flush volume', flushMl, 'mL');
  if (lineMl === 0 && doseInLineMg > 0) {
    throw new RangeError(`A line of 0 mL cannot hold ${doseInLineMg} mg: check the line volume.`);
  }
  const shareFlushed = flushMl >= lineMl ? 1 : flushMl / lineMl;
  const deliveredMg = doseInLineMg * shareFlushed;
  return { deliveredMg, notDeliveredMg: doseInLineMg - deliveredMg };
}

function syringeMlAtStart({ infusate, lineMl, primedWith }: Line): number {
  mustNotBeNegative('Line volume', lineMl, 'mL');
  if (lineMl >= infusate.totalMl) {
    throw new RangeError(
      `A line of ${lineMl} mL holds the whole infusate of ${infusate.totalMl} mL: check the line volume.`,
    );
  }
  return primedWith === 'drug' ? infusate.totalMl - lineMl : infusate.totalMl;
}

function secondsToPump(volumeMl: number, rateMlPerMin: number): number {
  return (volumeMl / rateMlPerMin) * 60;
}

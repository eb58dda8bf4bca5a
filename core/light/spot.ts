import { mustLieWithin, type PlausibleRange } from '../dosing/plausible.ts';
import type { Source } from '../regimen/source.ts';

/** Added to the greatest linear dimension (GLD): 500 um of border all round. */
export const SPOT_BORDER_UM = 1000;

/** Largest spot used in the trials of the labelled regimen. A plan may exceed it, with a caution. */
export const TRIAL_LARGEST_SPOT_UM = 6400;

/** Least distance from the nasal edge of the spot to the temporal edge of the disc. */
export const DISC_CLEARANCE_UM = 200;

/** Magnification of the fundus camera that the product texts recommend. */
export const CAMERA_MAGNIFICATION_RECOMMENDED = { min: 2.4, max: 2.6 } as const satisfies PlausibleRange;

export const SPOT_SOURCES = {
  border: { text: 'US prescribing information: spot = GLD + 1000 um', sure: 'found' },
  trialLargest: { text: 'Review, PMC2274995: largest spot in the trials 6400 um', sure: 'found' },
  discClearance: {
    text: 'US prescribing information: nasal spot edge at least 200 um from the temporal disc edge',
    sure: 'found',
  },
  cameraMagnification: { text: 'US prescribing information, EU-SmPC: 2.4 to 2.6 times', sure: 'found' },
} as const satisfies Record<string, Source>;

/** Plausible figures; no clinical or published limits. They catch millimetres for micrometres and other slips. */
export const LIGHT_LIMITS = {
  gldUm: { min: 100, max: 12_000 },
  spotUm: { min: 50, max: 20_000 },
  lensFactor: { min: 0.5, max: 3 },
  imageMm: { min: 0.1, max: 60 },
  cameraMagnification: { min: 1, max: 5 },
} as const satisfies Record<string, PlausibleRange>;

/** Diameter of the treatment spot on the retina, in um, from the GLD on the retina. Throws RangeError. */
export function spotUm(gldUm: number): number {
  mustLieWithin('Greatest linear dimension', gldUm, LIGHT_LIMITS.gldUm, 'um');
  return gldUm + SPOT_BORDER_UM;
}

/**
 * Size on the retina, in um, of what measures imageMm on the camera's image plane. cameraMagnification is image size
 * over retinal size. Throws RangeError.
 */
export function lesionUmFromImage(imageMm: number, cameraMagnification: number): number {
  mustLieWithin('Size on the image', imageMm, LIGHT_LIMITS.imageMm, 'mm');
  mustLieWithin('Camera magnification', cameraMagnification, LIGHT_LIMITS.cameraMagnification, 'times');
  return (imageMm * 1000) / cameraMagnification;
}

/**
 * Spot diameter to set on the laser, in um, for a wanted diameter on the retina. lensFactor is retinal spot over set
 * spot, from the labelling of the contact lens itself: published factors run from 1.05 to 1.53
 * (Mainster et al, Br J Ophthalmol 1990;74:177-179) and a wrong one is a dose error. Throws RangeError.
 */
export function setSpotUm(retinalSpotUm: number, lensFactor: number): number {
  mustLieWithin('Spot', retinalSpotUm, LIGHT_LIMITS.spotUm, 'um');
  mustLieWithin('Lens factor', lensFactor, LIGHT_LIMITS.lensFactor, '');
  return retinalSpotUm / lensFactor;
}

/** Area of a round spot in cm2, from its diameter in um. Throws RangeError. */
export function spotAreaCm2(diameterUm: number): number {
  mustLieWithin('Spot', diameterUm, LIGHT_LIMITS.spotUm, 'um');
  const diameterCm = diameterUm / 10_000;
  return (Math.PI / 4) * diameterCm ** 2;
}

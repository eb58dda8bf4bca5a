import type { StateName } from './states.ts';

export const TROUBLE_IDS = ['extravasation', 'pain', 'chest-or-faint', 'pump', 'moved'] as const;

export type TroubleId = (typeof TROUBLE_IDS)[number];

/**
 * What to do when something goes wrong while drug or light is under way. Our own words for what the sources say; the
 * current product text, local policy and the physician decide.
 */
export interface TroubleCard {
  readonly id: TroubleId;
  readonly words: string;
  readonly states: readonly StateName[];
  /** In the order in which to do it. */
  readonly steps: readonly string[];
  /** What the record needs afterwards, before discharge. */
  readonly afterwards: string;
  readonly source: string;
}

const WITH_DRUG = ['infusing', 'flushing', 'waitingForLight', 'lightDelivery', 'afterCare'] as const;

/** Meeting any of these takes pump and beam off: the infusion is held, the light interrupted. */
export const TROUBLE: readonly TroubleCard[] = [
  {
    id: 'extravasation',
    words: 'swelling or leak at the vein (extravasation)',
    states: ['infusing', 'flushing'],
    steps: [
      'stop the pump at once',
      'cold compresses on the place',
      'cover it from all direct light until swelling and colour are gone',
      'pain relief by mouth may be given; call the physician',
      'go on only through another vein, and only if the physician says so',
    ],
    afterwards: 'where, how large, about how much went beside the vein, what was done, what the physician decided',
    source: 'US prescribing information: stop, cold compresses, protect from light, analgesia',
  },
  {
    id: 'pain',
    words: 'pain during the infusion (back, chest wall, arm)',
    states: ['infusing', 'flushing'],
    steps: [
      'stop the pump; look at the vein for swelling',
      'ask where it hurts; watch pulse, pressure and breathing',
      'back pain usually settles within minutes of stopping',
      'chest pain is another card: treat it as such',
      'the physician decides whether to go on; the light stays due from the start',
    ],
    afterwards: 'where it hurt, how long, what was done, whether the infusion went on',
    source:
      'Pece et al, Am J Ophthalmol 2006;141:593 (2.6 % of first treatments); French series: settled after stopping',
  },
  {
    id: 'chest-or-faint',
    words: 'chest pain, fainting, breathlessness, rash or flushing',
    states: WITH_DRUG,
    steps: [
      'stop pump and light; call for help by the local emergency plan',
      'lay flat, keep the airway free, watch pulse, pressure and breathing',
      'keep the vein open with dextrose 5 %',
      'the physician decides what follows; drug that was given still needs the light precautions',
    ],
    afterwards: 'what was seen, times, what was given, who decided, how the patient was afterwards',
    source:
      'US prescribing information: chest pain, vasovagal and hypersensitivity reactions; first steps: common practice, no source',
  },
  {
    id: 'pump',
    words: 'pump alarm, occlusion or stop',
    states: ['infusing'],
    steps: [
      'keep the pump off; look at vein, clamp, filter, connections',
      'release pressure in the line before starting again: a bolus may follow',
      'never flush or clear the line with sodium chloride',
      'start again when the cause is found; the light stays due from the start',
    ],
    afterwards: 'what the pump said, what was found, how long it stood still',
    source: 'common practice, no source; saline: EU package leaflet',
  },
  {
    id: 'moved',
    words: 'patient or eye moved during the light',
    states: ['lightDelivery'],
    steps: [
      'beam off',
      'steady the eye; find the spot again on its landmarks',
      'the physician decides whether to give the seconds that are left',
      'do not give more than what is left: excess light may harm healthy vessels',
    ],
    afterwards: 'how far the spot was off and for how long, what was decided',
    source:
      'no published rule for an interrupted exposure; overdose text of the US prescribing information (value from memory, verify)',
  },
];

export function troubleById(id: TroubleId): TroubleCard {
  const card = TROUBLE.find((one) => one.id === id);
  if (card === undefined) throw new RangeError(`there is no trouble card "${id}"`);
  return card;
}

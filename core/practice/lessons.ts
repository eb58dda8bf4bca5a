import type { StateName } from '../procedure/states.ts';

/** What matters in a state, and why: short, beside what the screen asks for. */
export interface Lesson {
  readonly words: readonly string[];
  readonly source: string;
}

/** The current product text, local policy and licensed practice go before anything here. */
export const LESSONS: Readonly<Record<StateName, Lesson>> = {
  planning: {
    words: [
      'Two identifiers, and never the room number.',
      'The second person computes alone: who has seen the first figures repeats their mistake.',
    ],
    source: 'identifiers: Joint Commission NPSG.01.01.01; double check: value from memory, verify',
  },
  prepared: {
    words: [
      'Dextrose 5 % and nothing else: sodium chloride precipitates the drug.',
      'The 4 h in use count from reconstitution, not from dilution.',
    ],
    source: 'EU package leaflet; PMC2274995, table 1; precipitation: value from memory, verify',
  },
  linePrimed: {
    words: [
      'Drug beside the vein is answered by stopping, cold and darkness: a free-flowing vein spares all that.',
      'What filter and line hold belongs to the dose: measure it for each set.',
    ],
    source: 'US prescribing information; free-flowing line: value from memory, verify; the line: computed',
  },
  infusing: {
    words: [
      'The light counts from the START of the infusion, never from its end.',
      'A hold stops the pump’s timer alone: no published rule re-times the light.',
      'Look at arm and patient, not at the screen.',
    ],
    source: 'EU-SmPC; supervision: US prescribing information',
  },
  flushing: {
    words: [
      'The flush brings what the line still holds: skipped, that part of the dose is missing.',
      'Dextrose 5 % here too.',
    ],
    source: 'EU package leaflet; what the line holds: computed; flush over about 60 s: common practice, no source',
  },
  waitingForLight: {
    words: [
      'One moment is given for the light, and no tolerance: not early, not late.',
      'A wrong lens factor is a wrong dose: set for 1.5 with 1.96 on the eye, it is 41 % too little.',
    ],
    source: 'EU-SmPC; lens: computed, irradiance goes with the square of the factor',
  },
  lightDelivery: {
    words: [
      'An eye that moves: beam off first, then look.',
      'Afterwards only the seconds that are left, and only if the physician says so: more may harm healthy vessels.',
    ],
    source: 'no published rule for an interrupted exposure; harm: value from memory, verify',
  },
  afterCare: {
    words: [
      'A date and a time on the sheet, not “some days”: 48 h by the EU text, 5 days by the US text.',
      'Room light helps to clear the skin; sun and bright lamps harm; sunscreen does not protect.',
    ],
    source: 'EU product text; US patient information',
  },
  discharged: {
    words: ['What was entered stays as it is. Whatever has to be put right is an addendum, with a reason.'],
    source: 'local practice',
  },
  stoppedEarly: {
    words: [
      'No more drug, no more light.',
      'Drug that was given keeps its light precautions: bracelet and sheet all the same.',
    ],
    source: 'US patient information; EU product text',
  },
};

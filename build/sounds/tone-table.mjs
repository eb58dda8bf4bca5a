/** Lengths of notes, seconds, with the release in them. */
const SHORT = 0.4;
const LONG = 0.65;
const HELD = 1;
const SLOW = 1.6;

/** From the end of a note to the next. Neither is as long as the pauses within a medical alarm, 0.125 to 0.25 s. */
const CLOSE = 0.06;
const APART = 0.3;

/**
 * Levels of the fundamental and its harmonics, each tone colour by its own. Strong harmonics, since hearing fades
 * first at either end of the range; none is needed above 4 kHz.
 */
const CLEAR = [1, 0.6, 0.45, 0.3, 0.2];
const REED = [1, 0, 0.7, 0, 0.5, 0, 0.35, 0, 0.25];
const BRIGHT = [1, 0.8, 0.7, 0.6, 0.5, 0.4];
const OCTAVE = [1, 0.9, 0.2, 0.6, 0.2, 0.4];

/**
 * The sounds: what the infusion is about has the colour of a reed, the light a clear or bright one, the second eye that
 * of octaves. A note is its length, the pause before it, and its pitch, or the pitches it glides through.
 *
 * A sound has 1, 2 or 4 notes and never three alike in a row: a burst of three or five pulses is a medical alarm.
 */
export const TONE_TABLE = [
  {
    id: 'sound-check',
    colour: CLEAR,
    notes: [
      { hz: [277.18], lengthS: SHORT, afterS: 0 },
      { hz: [415.3], lengthS: LONG, afterS: CLOSE },
      { hz: [622.25], lengthS: SHORT, afterS: CLOSE },
      { hz: [415.3], lengthS: LONG, afterS: CLOSE },
    ],
  },
  {
    id: 'late',
    colour: REED,
    notes: [{ hz: [587.33, 440, 587.33], lengthS: LONG, afterS: 0 }],
  },
  {
    id: 'infusion-end',
    colour: REED,
    notes: [
      { hz: [370], lengthS: SHORT, afterS: 0 },
      { hz: [246.94], lengthS: HELD, afterS: CLOSE },
    ],
  },
  {
    id: 'flush-end',
    colour: REED,
    notes: [
      { hz: [329.63, 220], lengthS: HELD, afterS: 0 },
      { hz: [293.66], lengthS: LONG, afterS: CLOSE },
    ],
  },
  {
    id: 'light-window-2min',
    colour: CLEAR,
    notes: [
      { hz: [392], lengthS: LONG, afterS: 0 },
      { hz: [392], lengthS: LONG, afterS: APART },
    ],
  },
  {
    id: 'light-window-1min',
    colour: CLEAR,
    notes: [{ hz: [493.88], lengthS: HELD, afterS: 0 }],
  },
  {
    id: 'light-window-open',
    colour: BRIGHT,
    notes: [
      { hz: [293.66], lengthS: SHORT, afterS: 0 },
      { hz: [392], lengthS: SHORT, afterS: CLOSE },
      { hz: [440], lengthS: LONG, afterS: CLOSE },
      { hz: [587.33], lengthS: LONG, afterS: CLOSE },
    ],
  },
  {
    id: 'exposure-end',
    colour: CLEAR,
    notes: [
      { hz: [659.26], lengthS: LONG, afterS: 0 },
      { hz: [554.37], lengthS: SHORT, afterS: CLOSE },
      { hz: [440], lengthS: SHORT, afterS: CLOSE },
      { hz: [329.63], lengthS: LONG, afterS: CLOSE },
    ],
  },
  {
    id: 'second-eye-1min',
    colour: OCTAVE,
    notes: [
      { hz: [349.23], lengthS: HELD, afterS: 0 },
      { hz: [523.25], lengthS: SHORT, afterS: CLOSE },
    ],
  },
  {
    id: 'second-eye-limit',
    colour: OCTAVE,
    notes: [
      { hz: [311.13, 415.3], lengthS: SHORT, afterS: 0 },
      { hz: [415.3, 622.25], lengthS: LONG, afterS: APART },
    ],
  },
  {
    id: 'drug-expiry',
    colour: BRIGHT,
    notes: [{ hz: [277.18, 196], lengthS: SLOW, afterS: 0 }],
  },
];

import type { Language } from '../settings/language.ts';
import type { CommandKind } from './commands.ts';
import type { DueKind } from './due.ts';

/** The cues, in the order of a treatment. */
export const CUE_IDS = [
  'drug-expiry-30min',
  'drug-expiry',
  'infusion-end',
  'flush-end',
  'light-window-2min',
  'light-window-1min',
  'light-window-open',
  'exposure-end',
  'second-eye-1min',
  'second-eye-limit',
] as const;

export type CueId = (typeof CUE_IDS)[number];

/** The sounds of cues, each told from the others by its rhythm and its tone. Two cues may share one. */
export const SOUNDS = [
  'infusion-end',
  'flush-end',
  'light-window-2min',
  'light-window-1min',
  'light-window-open',
  'exposure-end',
  'second-eye-1min',
  'second-eye-limit',
  'drug-expiry',
] as const;

export type SoundName = (typeof SOUNDS)[number];

/** What sounds beside the cues: the check before a session, and what stands before a cue that comes late. */
export const SIGNALS = ['sound-check', 'late'] as const;

export type SignalName = (typeof SIGNALS)[number];

export type Spoken = Readonly<Record<Language, string>>;

/** What is known of a cue: what it tells, when, how often, and who answers it. */
export interface CueRow {
  /** The instant it belongs to; it sounds `aheadMs` before that. */
  readonly of: DueKind;
  readonly aheadMs: number;
  readonly sound: SoundName;
  /** On the screens. Where an eye is meant, its name is put in front. */
  readonly words: string;
  /** Written to be spoken in a room where the patient is awake and listens: short, calm, no figure of a dose. */
  readonly spoken: Spoken;
  /** Sounded again after so long until it is answered or hushed, `mostTimes` with the first; null: once. */
  readonly repeats: { readonly everyMs: number; readonly mostTimes: number } | null;
  /** Whose it is to answer, and the step that answers it; then it is over. A repeating one can be hushed before that. */
  readonly answer: { readonly by: 'nurse' | 'operator'; readonly step: CommandKind };
  /** Where spans and repeats come from. */
  readonly source: string;
}

const LOCAL = 'local practice: no source asks for it';

const SECOND_MS = 1000;
const MINUTE_MS = 60_000;

const pumpOff = { by: 'nurse', step: 'begin-flush' } as const;
const beamOn = { by: 'operator', step: 'beam-on' } as const;

/**
 * What is known of every cue. One that tells of something still to come sounds once; one that asks for a step sounds
 * again until the step is entered, or somebody says that it was heard.
 */
export const CUE_TABLE: Readonly<Record<CueId, CueRow>> = {
  'drug-expiry-30min': {
    of: 'drug-expiry-due',
    aheadMs: 30 * MINUTE_MS,
    sound: 'drug-expiry',
    words: 'drug to be used within 30 min',
    spoken: {
      en: 'Thirty minutes left to use the drug.',
      de: 'Noch dreißig Minuten, um das Mittel zu verwenden.',
      es: 'Quedan treinta minutos para usar el fármaco.',
      fr: 'Encore trente minutes pour utiliser le produit.',
    },
    repeats: null,
    answer: pumpOff,
    source: LOCAL,
  },
  'drug-expiry': {
    of: 'drug-expiry-due',
    aheadMs: 0,
    sound: 'drug-expiry',
    words: 'drug has reached its 4 h in use',
    spoken: {
      en: 'The drug has reached its four hours.',
      de: 'Das Mittel hat seine vier Stunden erreicht.',
      es: 'El fármaco ha cumplido sus cuatro horas.',
      fr: 'Le produit a atteint ses quatre heures.',
    },
    repeats: null,
    answer: pumpOff,
    source: `4 h in use: EU-SmPC. That it sounds: ${LOCAL}`,
  },
  'infusion-end': {
    of: 'infusion-due',
    aheadMs: 0,
    sound: 'infusion-end',
    words: 'infusion at its end: pump off',
    spoken: {
      en: 'Infusion at its end. Pump off.',
      de: 'Infusion am Ende. Pumpe aus.',
      es: 'Fin de la perfusión. Apagar la bomba.',
      fr: 'Fin de la perfusion. Arrêter la pompe.',
    },
    repeats: { everyMs: 15 * SECOND_MS, mostTimes: 20 },
    answer: pumpOff,
    source: LOCAL,
  },
  'flush-end': {
    of: 'flush-due',
    aheadMs: 0,
    sound: 'flush-end',
    words: 'flush has run its time',
    spoken: {
      en: 'Flush has run its time.',
      de: 'Spülzeit ist um.',
      es: 'Fin del tiempo de lavado.',
      fr: 'Fin du temps de rinçage.',
    },
    repeats: { everyMs: 30 * SECOND_MS, mostTimes: 4 },
    answer: { by: 'nurse', step: 'end-flush' },
    source: LOCAL,
  },
  'light-window-2min': {
    of: 'light-due',
    aheadMs: 2 * MINUTE_MS,
    sound: 'light-window-2min',
    words: 'light window in 2 min',
    spoken: {
      en: 'Two minutes to the light window.',
      de: 'Zwei Minuten bis zum Lichtfenster.',
      es: 'Dos minutos para la ventana de luz.',
      fr: 'Deux minutes avant la fenêtre de lumière.',
    },
    repeats: null,
    answer: beamOn,
    source: LOCAL,
  },
  'light-window-1min': {
    of: 'light-due',
    aheadMs: MINUTE_MS,
    sound: 'light-window-1min',
    words: 'light window in 1 min',
    spoken: {
      en: 'One minute to the light window.',
      de: 'Eine Minute bis zum Lichtfenster.',
      es: 'Un minuto para la ventana de luz.',
      fr: 'Une minute avant la fenêtre de lumière.',
    },
    repeats: null,
    answer: beamOn,
    source: LOCAL,
  },
  'light-window-open': {
    of: 'light-due',
    aheadMs: 0,
    sound: 'light-window-open',
    words: 'light window is open',
    spoken: {
      en: 'The light window is open.',
      de: 'Das Lichtfenster ist offen.',
      es: 'La ventana de luz está abierta.',
      fr: 'La fenêtre de lumière est ouverte.',
    },
    repeats: { everyMs: 30 * SECOND_MS, mostTimes: 4 },
    answer: beamOn,
    source: LOCAL,
  },
  'exposure-end': {
    of: 'exposure-due',
    aheadMs: 0,
    sound: 'exposure-end',
    words: 'light at its end',
    spoken: {
      en: 'Light at its end.',
      de: 'Licht am Ende.',
      es: 'Fin de la luz.',
      fr: 'Fin de la lumière.',
    },
    repeats: { everyMs: 10 * SECOND_MS, mostTimes: 12 },
    answer: { by: 'operator', step: 'beam-off' },
    source: LOCAL,
  },
  'second-eye-1min': {
    of: 'second-eye-due',
    aheadMs: MINUTE_MS,
    sound: 'second-eye-1min',
    words: 'second eye to begin within 1 min',
    spoken: {
      en: 'One minute to begin the second eye.',
      de: 'Noch eine Minute für den Beginn am zweiten Auge.',
      es: 'Un minuto para empezar el segundo ojo.',
      fr: 'Une minute pour commencer le deuxième œil.',
    },
    repeats: null,
    answer: beamOn,
    source: LOCAL,
  },
  'second-eye-limit': {
    of: 'second-eye-due',
    aheadMs: 0,
    sound: 'second-eye-limit',
    words: 'last moment to begin the second eye',
    spoken: {
      en: 'Last moment to begin the second eye.',
      de: 'Letzter Zeitpunkt für den Beginn am zweiten Auge.',
      es: 'Último momento para empezar el segundo ojo.',
      fr: 'Dernier moment pour commencer le deuxième œil.',
    },
    repeats: null,
    answer: beamOn,
    source: `20 min from the infusion's start: EU-SmPC. That it sounds: ${LOCAL}`,
  },
};

/** What is spoken with a signal. `late` stands before the words of the cue that comes late. */
export const SIGNALS_SPOKEN = {
  'sound-check': { en: 'Sound check.', de: 'Tonprobe.', es: 'Prueba de sonido.', fr: 'Essai du son.' },
  late: { en: 'Late.', de: 'Verspätet.', es: 'Con retraso.', fr: 'En retard.' },
} as const satisfies Record<SignalName, Spoken>;

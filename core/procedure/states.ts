/** The states of a session, in the order of a full treatment; `stoppedEarly` may follow any of them. */
export const STATES = [
  'planning',
  'prepared',
  'linePrimed',
  'infusing',
  'flushing',
  'waitingForLight',
  'lightDelivery',
  'afterCare',
  'discharged',
  'stoppedEarly',
] as const;

export type StateName = (typeof STATES)[number];

/** The trade's words for each state. */
export const STATE_WORDS: Record<StateName, string> = {
  planning: 'planning',
  prepared: 'prepared',
  linePrimed: 'line primed',
  infusing: 'infusing',
  flushing: 'flushing',
  waitingForLight: 'waiting for light window',
  lightDelivery: 'light delivery',
  afterCare: 'after-care',
  discharged: 'discharged',
  stoppedEarly: 'stopped early',
};

/** The way through a full treatment, without the early stop. */
export const FULL_COURSE: readonly StateName[] = STATES.filter((state) => state !== 'stoppedEarly');

/** States in which drug or light is under way, or will be within minutes: leaving the app asks first. */
export const UNDER_WAY: readonly StateName[] = ['infusing', 'flushing', 'waitingForLight', 'lightDelivery'];

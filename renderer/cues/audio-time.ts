/** One instant on two clocks: what the audio clock had at `contextS` was heard when the page's clock read `pageMs`. */
export interface AudioMoment {
  readonly contextS: number;
  readonly pageMs: number;
}

/** Of so many moments the middle one is believed: one by itself may be off by a block of the sound card. */
const KEPT = 7;
/** Further off than this the sound card has stood still, and what was known before no longer counts. */
const STEP_MS = 60;

/**
 * Translates between the page's clock and the audio clock, both ways. The audio clock counts what the sound card has
 * taken: it drifts against the page's, and falls behind whenever the card, the machine or the page stood still.
 */
export class AudioTime {
  private offsetsMs: number[] = [];

  note({ contextS, pageMs }: AudioMoment): void {
    const offsetMs = contextS * 1000 - pageMs;
    if (this.known() && Math.abs(offsetMs - this.offsetMs()) > STEP_MS) this.offsetsMs = [];
    this.offsetsMs = [...this.offsetsMs, offsetMs].slice(-KEPT);
  }

  /** The audio clock is another from now on. */
  forget(): void {
    this.offsetsMs = [];
  }

  /** Whether anything is known yet. */
  known(): boolean {
    return this.offsetsMs.length > 0;
  }

  /** Where on the audio clock, in seconds, a sound has to begin that is to be heard at an instant of the page's. */
  contextSAt(pageMs: number): number {
    return (pageMs + this.offsetMs()) / 1000;
  }

  /** When, on the page's clock, what lies at an instant of the audio clock is heard. */
  pageMsAt(contextS: number): number {
    return contextS * 1000 - this.offsetMs();
  }

  private offsetMs(): number {
    const inOrder = [...this.offsetsMs].sort((one, other) => one - other);
    return inOrder[Math.floor(inOrder.length / 2)] ?? 0;
  }
}

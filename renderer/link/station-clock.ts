/** What one snapshot says of the station's clock, and when it was heard on the page's own. */
interface Sample {
  readonly heardAtMs: number;
  /** The station's time less the page's, at the pace of the station. Too small by what the message took. */
  readonly offsetMs: number;
}

/** Samples this old no longer count: two clocks drift, by a little. */
const KEPT_MS = 30_000;
/** A step back by less than this is waited out, standing still; by more, it is a different clock and is followed. */
const STAND_STILL_MS = 1_500;

/**
 * The station's continuous clock as a page knows it. Of the recent snapshots the one that came fastest is believed;
 * what it shows never steps back by a little, so that no second is counted twice.
 */
export class StationClock {
  private samples: Sample[] = [];
  private rate = 1;
  private boot: string | null = null;
  private offsetMs = 0;
  private shownMs = Number.NEGATIVE_INFINITY;

  /** Takes what a snapshot says. `heardAtMs` is the page's own clock at its arrival. */
  hear({ nowMs, rate, boot }: { nowMs: number; rate: number; boot: string }, heardAtMs: number): void {
    if (boot !== this.boot || rate !== this.rate) this.startAnew(boot, rate);
    const recent = this.samples.filter((sample) => heardAtMs - sample.heardAtMs < KEPT_MS);
    this.samples = [...recent, { heardAtMs, offsetMs: nowMs - heardAtMs * rate }];
    this.offsetMs = Math.max(...this.samples.map((sample) => sample.offsetMs));
  }

  /** The station's time when the page's own clock reads `pageMs`; 0 before the first snapshot. */
  at(pageMs: number): number {
    if (this.boot === null) return 0;
    const readMs = pageMs * this.rate + this.offsetMs;
    const behindMs = this.shownMs - readMs;
    this.shownMs = behindMs > 0 && behindMs < STAND_STILL_MS * this.rate ? this.shownMs : readMs;
    return this.shownMs;
  }

  private startAnew(boot: string, rate: number): void {
    this.samples = [];
    this.boot = boot;
    this.rate = rate;
    this.shownMs = Number.NEGATIVE_INFINITY;
  }
}

/** What a key confirms has to have stood still this long before the key confirms it. */
const ARM_AFTER_MS = 700;

export interface Arming {
  /** Says what the key would confirm now. Another thing than before disarms it. */
  see(thing: string): void;
  /** Something was typed since: that is what the key is pressed for. */
  touch(): void;
  press(): void;
  release(): void;
  armed(): boolean;
}

/** Guards a key: it confirms only what has stood for a while, and only when it was let go since that came up. */
export function createArming(nowMs: () => number = () => performance.now()): Arming {
  let seen: string | null = null;
  let sinceMs = Number.NEGATIVE_INFINITY;
  let down = false;
  let releasedSince = true;
  return {
    see: (thing) => {
      if (thing === seen) return;
      seen = thing;
      sinceMs = nowMs();
      releasedSince = !down;
    },
    touch: () => {
      sinceMs = Number.NEGATIVE_INFINITY;
    },
    press: () => {
      down = true;
    },
    release: () => {
      down = false;
      releasedSince = true;
    },
    armed: () => releasedSince && nowMs() - sinceMs >= ARM_AFTER_MS,
  };
}

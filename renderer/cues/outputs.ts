/** The devices that sound can go to. No permission is needed to count them; which they are is not told. */
export interface Outputs {
  /** Null where the page is not told. */
  count(): number | null;
  /** Whether devices came or went since somebody last listened. */
  changed(): boolean;
  /** Somebody listens now. */
  listenedTo(): void;
}

/** A page that has not the focus hears of no change: it counts again, this often. */
const COUNT_EVERY_MS = 2_000;

export function watchOutputs(onChange: () => void): Outputs {
  // Not every page is given this: it is there for pages that nobody between can have changed.
  const devices: MediaDevices | undefined = navigator.mediaDevices;
  let count: number | null = null;
  let changed = false;

  async function countNow(): Promise<void> {
    try {
      const all = await devices?.enumerateDevices();
      count = all?.filter(({ kind }) => kind === 'audiooutput').length ?? null;
    } catch {
      count = null;
    }
    onChange();
  }

  devices?.addEventListener('devicechange', () => {
    changed = true;
    void countNow();
  });
  setInterval(() => void countNow(), COUNT_EVERY_MS);
  void countNow();
  return {
    count: () => count,
    changed: () => changed,
    listenedTo: () => {
      changed = false;
      onChange();
    },
  };
}

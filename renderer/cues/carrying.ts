/** Which window sounds the cues: this one, another of this program, or none. */
export type Carrier = 'this' | 'another' | 'none';

/**
 * `take`: the site chose this screen. `wait`: it sounds where the chosen one is not there. `none`: nothing would come
 * out of it.
 */
export type Wish = 'take' | 'wait' | 'none';

export interface Carrying {
  carrier(): Carrier;
  wish(next: Wish): void;
}

/** Held by the one window that sounds. */
const SOUNDING = 'dimroom cues';
const LOOK_EVERY_MS = 1_000;
const AGAIN_MS = 50;

/**
 * One window alone sounds, of all that show Dimroom to this browser: by a lock that a window which is closed, or crashed,
 * lets go of by itself, so that the next takes over. Two windows of one screen take turns by a lock of their own first.
 */
export function carrying(screen: string, locks: LockManager, onChange: () => void): Carrying {
  let present: Carrier = 'none';
  let wished: Wish = 'none';
  let leave = (): void => {};

  function set(next: Carrier): void {
    if (next === present) return;
    present = next;
    onChange();
  }

  /** Queues for the lock, or takes it, until it is called off. */
  function seek(wish: 'take' | 'wait'): () => void {
    const calledOff = new AbortController();
    const { signal } = calledOff;
    const until = new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve()));
    const hold = async (): Promise<void> => {
      if (signal.aborted) return;
      set('this');
      await until;
    };
    const sound = async (): Promise<void> => {
      if (wish === 'take') await locks.request(SOUNDING, { steal: true }, hold).catch(ignored);
      // Taken by the screen that the site chose: this one waits until that is gone.
      while (!signal.aborted) {
        set('another');
        await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
        await locks.request(SOUNDING, { signal }, hold).catch(ignored);
      }
    };
    void locks.request(`${SOUNDING}, ${screen}`, { signal }, sound).catch(ignored);
    return () => calledOff.abort();
  }

  const isMine = (): boolean => present === 'this';

  async function look(): Promise<void> {
    const { held = [] } = await locks.query();
    if (!isMine()) set(held.some(({ name }) => name === SOUNDING) ? 'another' : 'none');
  }
  setInterval(() => void look(), LOOK_EVERY_MS);

  return {
    carrier: () => present,
    wish(next) {
      if (next === wished) return;
      wished = next;
      leave();
      if (isMine()) set('none');
      leave = next === 'none' ? () => {} : seek(next);
    },
  };
}

/** A request that was called off, or a lock that was taken, is no error. */
const ignored = (): void => {};

import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { type Cue, cuesOf } from '../../core/procedure/cues.ts';
import { stationNow, useSnapshot } from '../link/store.ts';
import { type CueClock, cueClock } from './cue-clock.ts';
import { openPlayer, type Player, type SoundState } from './player.ts';

let opened: Player | null = null;

const player = (): Player => {
  opened ??= openPlayer();
  return opened;
};

/**
 * Sounds the cues of every session. Used by the console alone: one window plays. Gives the cue that was last due, for
 * the eye beside the ear.
 */
export function useCues(): Cue | null {
  const snapshot = useSnapshot();
  const clock = useRef<CueClock | null>(null);
  const rate = useRef(1);
  const [last, setLast] = useState<Cue | null>(null);
  useEffect(() => {
    clock.current = cueClock({
      nowMs: stationNow,
      rate: () => rate.current,
      sound: (cue) => {
        setLast(cue);
        return player().play(cue.sound);
      },
      after: (delayMs, call) => {
        const timer = setTimeout(call, delayMs);
        return () => clearTimeout(timer);
      },
    });
    return () => clock.current?.stop();
  }, []);
  useEffect(() => {
    if (snapshot === null) return;
    rate.current = snapshot.rate;
    clock.current?.keep(snapshot.sessions.flatMap(cuesOf));
  }, [snapshot]);
  return last;
}

/** Sounds the check. False where nothing could be sounded: then `useSoundState` says why. */
export const playSoundCheck = (): Promise<boolean> => player().playCheck();

export const useSoundState = (): SoundState =>
  useSyncExternalStore(
    (hear) => player().onChange(hear),
    () => player().soundState(),
  );

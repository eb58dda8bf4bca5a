import type { Launch, StationProcess } from '../../electron/carrier/station-process.ts';

interface Pretended {
  readonly heard: unknown[];
  says(frame: unknown): void;
  ends(how: string): void;
  killed(): boolean;
}

/** Stations that are no processes: a test says their lines. */
export function pretendStations(): { launch: Launch; last(): Pretended; started(): number } {
  const stations: Pretended[] = [];

  function launch(): StationProcess {
    const heard: unknown[] = [];
    let tell: (frame: unknown) => void = () => {};
    let end: (how: string) => void = () => {};
    let killed = false;
    stations.push({ heard, says: (frame) => tell(frame), ends: (how) => end(how), killed: () => killed });
    return {
      send: (frame) => heard.push(frame),
      kill: () => {
        killed = true;
        end('SIGKILL');
      },
      onFrame: (hear) => {
        tell = hear;
      },
      onEnd: (hear) => {
        end = hear;
      },
    };
  }

  return {
    launch,
    last: () => {
      const last = stations.at(-1);
      if (last === undefined) throw new Error('no station was started');
      return last;
    },
    started: () => stations.length,
  };
}

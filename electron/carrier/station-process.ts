/** A station process, however it was started: a pipe for frames, and its end. */
export interface StationProcess {
  send(frame: unknown): void;
  /** Ends it at once, without asking. */
  kill(): void;
  onFrame(hear: (frame: unknown) => void): void;
  /** Hears once that it has ended, or could not be started, and how. */
  onEnd(hear: (how: string) => void): void;
}

export type Launch = () => StationProcess;

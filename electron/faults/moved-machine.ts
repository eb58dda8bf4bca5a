import { z } from 'zod';
import type { MachineTime } from '../station/clock.ts';

/** How far a machine's time has been moved from the real one, and which boot of it this is. */
export const machineStateSchema = z.strictObject({
  boot: z.string().min(1),
  /** Real monotonic time at which this boot began. */
  bootedAtMs: z.number(),
  /** Time that went by, awake, without anybody having waited for it. */
  awakeMs: z.number().nonnegative(),
  sleptMs: z.number().nonnegative(),
  /** What wall time is ahead of what it would be, had nobody set it. */
  wallStepMs: z.number(),
  /** Null for the zone of the machine that runs this. */
  zone: z.string().nullable(),
});

export type MachineState = z.infer<typeof machineStateSchema>;

export const freshMachine = (boot: string): MachineState => ({
  boot,
  bootedAtMs: 0,
  awakeMs: 0,
  sleptMs: 0,
  wallStepMs: 0,
  zone: null,
});

/** A machine whose time is the real one, moved. Two processes with the same state read the same. */
export class MovedMachine implements MachineTime {
  state: MachineState;

  constructor(state: MachineState) {
    this.state = state;
  }

  monotonicMs(): number {
    return realMs() + this.state.awakeMs - this.state.bootedAtMs;
  }

  uptimeMs = (): number => this.monotonicMs() + this.state.sleptMs;

  wallMs(): number {
    return Date.now() + this.state.awakeMs + this.state.sleptMs + this.state.wallStepMs;
  }

  /** What has truly gone by, sleep and every boot included: the truth that everything is measured by. */
  trueMs(): number {
    return realMs() + this.state.awakeMs + this.state.sleptMs;
  }
}

const realMs = (): number => Number(process.hrtime.bigint()) / 1e6;

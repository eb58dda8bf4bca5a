import { randomUUID } from 'node:crypto';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { canonicalJson, type Entry, entrySchema } from '../../core/ledger/entry.ts';
import { replay } from '../../core/ledger/replay.ts';
import { viewOf } from '../../core/procedure/view.ts';
import type { Request, Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { readEntries } from '../station/read-file.ts';
import { sha256 } from '../station/sha256.ts';
import type { Chance } from './chance.ts';
import type { Disk, DiskState } from './disk.ts';
import { type FaultedStation, startStation } from './faulted-station.ts';
import { must } from './loss.ts';
import { freshMachine, type MachineState, MovedMachine } from './moved-machine.ts';

export type Asked = Extract<Request, { type: 'open' | 'command' }>;

/** A command that the station said is entered. */
export interface Acknowledged {
  readonly request: Asked;
  readonly seq: number;
  /** True time when it was first sent, and when the answer came. */
  readonly sentMs: number;
  readonly heardMs: number;
}

/** A machine with a disk and a station on it, everything that can befall them, and what the station has promised. */
export class Bench {
  readonly chance: Chance;
  readonly disk: Disk;
  readonly emergency = mkdtempSync(join(tmpdir(), 'dimroom-emergency-'));
  readonly machine = new MovedMachine(freshMachine(`boot-${randomUUID()}`));
  /** Every boot, with the true time at which its continuous clock was at zero. */
  readonly boots = new Map<string, number>();
  readonly acknowledged: Acknowledged[] = [];
  diskState: DiskState = 'well';
  private running: FaultedStation | null = null;

  constructor(chance: Chance, disk: Disk) {
    this.chance = chance;
    this.disk = disk;
    this.boots.set(this.machine.state.boot, 0);
  }

  get station(): FaultedStation {
    if (this.running === null) throw new Error('no station runs');
    return this.running;
  }

  get database(): string {
    return join(this.disk.data, 'ledger.sqlite3');
  }

  async start(): Promise<void> {
    this.running = await startStation(this.machine.state, this.disk.data, this.emergency);
    if (this.diskState !== 'well' && this.disk.set(this.diskState)) await this.station.setDisk(this.diskState);
  }

  /** Moves the machine's time. */
  async move(change: Partial<MachineState>): Promise<void> {
    this.machine.state = { ...this.machine.state, ...change };
    await this.running?.setMachine(this.machine.state);
  }

  /** Moves the machine's time while no station runs to see it. */
  moveUnseen(change: Partial<MachineState>): void {
    this.machine.state = { ...this.machine.state, ...change };
  }

  /** The machine is started anew: its continuous clock begins again, wall time goes on. */
  reboot(): void {
    const boot = `boot-${randomUUID()}`;
    // Its continuous clock counts every sleep of the machine, those before this boot included.
    const bootedAtMs = this.machine.trueMs() - this.machine.state.sleptMs - this.chance.below(3_600_000);
    this.machine.state = { ...this.machine.state, boot, bootedAtMs };
    this.boots.set(boot, bootedAtMs);
  }

  async setDisk(state: DiskState): Promise<void> {
    this.diskState = state;
    if (this.disk.set(state) || state === 'well') await this.station.setDisk(state);
  }

  /** True time of a continuous instant of a boot. */
  trueMs(atMs: number, boot: string): number {
    return atMs + (this.boots.get(boot) ?? Number.NaN);
  }

  view(snapshot: Snapshot, sessionId: string): SessionView {
    const view = snapshot.sessions.find((one) => one.sessionId === sessionId);
    must(view !== undefined, () => `session ${sessionId} is not shown any more`);
    return view as SessionView;
  }

  /** Everything that was entered: in the ledger, and behind it what waits in the emergency file. */
  entries(): Entry[] {
    const stored = readEntries(this.database);
    const last = stored.at(-1)?.seq ?? 0;
    return [...stored, ...this.waiting().filter((entry) => entry.seq > last)];
  }

  waiting(): Entry[] {
    const file = join(this.emergency, `${sha256(this.database).slice(0, 16)}.jsonl`);
    if (!existsSync(file)) return [];
    const lines = readFileSync(file, 'utf8').split('\n');
    return lines.filter((line) => line !== '').map((line) => entrySchema.parse(JSON.parse(line)));
  }

  /** What is shown is what folding the entries gives, to the last field. */
  async compareShown(): Promise<void> {
    const snapshot = await this.station.look();
    const { nowMs, wallMs, offsetMin, boot } = snapshot;
    const entries = this.entries();
    for (const shown of snapshot.sessions) {
      const own = entries.filter((entry) => entry.sessionId === shown.sessionId && entry.seq <= shown.seq);
      const at = { continuousMs: nowMs, wallMs, offsetMin, boot };
      const folded = viewOf(replay(own).context, own.at(-1)?.seq ?? 0, at);
      const same = canonicalJson(shown) === canonicalJson(folded);
      must(same, () => `session ${shown.sessionId} is shown otherwise than its entries say`);
    }
  }

  /** Copies what the run left to a folder that stays, for those who look into it. */
  keep(): string {
    const folder = mkdtempSync(join(tmpdir(), 'dimroom-lost-'));
    cpSync(this.disk.data, join(folder, 'data'), { recursive: true });
    cpSync(this.emergency, join(folder, 'emergency'), { recursive: true });
    return folder;
  }

  async remove(): Promise<void> {
    await this.running?.kill();
    this.disk.remove();
    rmSync(this.emergency, { recursive: true, force: true });
  }
}

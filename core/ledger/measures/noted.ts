import type { Eye } from '../../procedure/commands.ts';
import { openOccurrences, SAME_INSTANT_MS } from '../../procedure/cue-occurrences.ts';
import { CUE_TABLE, type CueId } from '../../procedure/cue-table.ts';
import type { CueSounded } from '../../procedure/due.ts';
import { OVER } from '../../procedure/dues.ts';
import type { Author } from '../../procedure/person.ts';
import { type SessionRecord, shiftInstants, stateOf } from '../../procedure/record.ts';
import type { Entry } from '../entry.ts';
import type {
  ClockEventMeasure,
  DoubleCheckMeasure,
  LatePressMeasure,
  OverrideMeasure,
  PersonMeasure,
  StatedMeasure,
} from './shape.ts';

/** What became of a cue, and the entry that says so. */
export type CueReport = Omit<CueSounded, 'kind'> & { readonly seq: number };

/** An instant that came due while its cue was waited for. */
export interface AwaitedCue {
  readonly seq: number;
  readonly cue: CueId;
  readonly dueAtMs: number;
}

type ClockNote = Omit<ClockEventMeasure, 'fromT0Ms'> & { readonly atMs: number };

/**
 * What is noted beside the record while a session's entries are folded: which entry brought what, and what the record
 * does not keep. Instants stand under names that end in `AtMs`, as in the record, so that a re-basing moves them too.
 */
export class Noted {
  readonly people = new Map<string, PersonMeasure>();
  readonly lots = new Set<string>();
  readonly latePresses: LatePressMeasure[] = [];
  readonly overrides: OverrideMeasure[] = [];
  readonly stated: StatedMeasure[] = [];
  readonly doubleChecks: DoubleCheckMeasure[] = [];
  readonly holdSeqs: number[] = [];
  readonly beamSeqs = { right: [], left: [] } as Record<Eye, { onSeq: number; offSeq: number | null }[]>;
  cueReports: CueReport[] = [];
  awaitedCues: AwaitedCue[] = [];
  clocks: ClockNote[] = [];
  /** Whether windows that tell what became of cues were in use: sessions written before that know nothing of it. */
  cuesAreTold = false;
  reconstitutedSeq: number | null = null;
  t0Seq: number | null = null;
  pumpOffSeq: number | null = null;
  flushBeganSeq: number | null = null;
  flushEndedSeq: number | null = null;
  lightOverSeq: number | null = null;
  stopSeq: number | null = null;
  /** The last entry before an addendum. */
  endSeq = 0;

  /** Takes the next entry, with the record before and after it. */
  take(entry: Entry, before: SessionRecord | null, after: SessionRecord): void {
    this.whoEver(entry.author);
    this.step(entry, before, after);
    this.missed(entry);
    if (before !== null) this.turns(entry.seq, before, after);
    if (entry.kind !== 'addendum') this.endSeq = entry.seq;
  }

  private whoEver({ initials, role }: Author): void {
    if (role !== 'station') this.people.set(`${initials} ${role}`, { initials, role });
  }

  private step(entry: Entry, before: SessionRecord | null, after: SessionRecord): void {
    const { seq, payload, author, continuousMs: atMs } = entry;
    switch (entry.kind) {
      case 'open-session':
        this.cuesAreTold = (payload.settings as { cuesPlayedBy?: string } | undefined)?.cuesPlayedBy !== undefined;
        break;
      case 'second-check':
        if (before !== null) this.secondCheck(entry, before, after);
        break;
      case 'prepare':
        this.reconstitutedSeq = seq;
        break;
      case 'drug':
        if (after.drug !== null) this.lots.add(after.drug.lot);
        break;
      case 'set-back':
        this.latePresses.push({ seq, what: 'pump on', agoS: Number(payload.agoS) });
        break;
      case 'beam-set-back':
        this.latePresses.push({ seq, what: `beam ${payload.edge as 'on' | 'off'}`, agoS: Number(payload.agoS) });
        break;
      case 'deviation':
        this.stated.push({ seq, words: String(payload.words), reason: String(payload.reason), by: author.initials });
        break;
      case 'stop-early':
        this.stopSeq = seq;
        break;
      case 'slept':
        this.clocks.push({ seq, what: 'slept', byMs: Math.round(Number(payload.sleptMs)), atMs });
        break;
      case 'rebase':
        this.rebase(Number(payload.shiftMs));
        this.clocks.push({ seq, what: 're-based', byMs: Math.round(Number(payload.shiftMs)), atMs });
        break;
      case 'cue-sounded':
        this.cueReports.push(...after.cuesSounded.slice(-1).map((told) => ({ seq, ...told })));
        this.cuesAreTold = true;
        break;
      default:
        if (entry.kind.endsWith('-due') && before !== null) this.ring(entry, before);
    }
  }

  private rebase(shiftMs: number): void {
    this.cueReports = shiftInstants(this.cueReports, shiftMs);
    this.awaitedCues = shiftInstants(this.awaitedCues, shiftMs);
    this.clocks = shiftInstants(this.clocks, shiftMs);
  }

  private secondCheck({ seq, author, payload }: Entry, before: SessionRecord, after: SessionRecord): void {
    const found = payload.found as { afterDifference?: boolean } | undefined;
    const first = [before.order, before.measured].flatMap((entered) => (entered === null ? [] : [entered.by.initials]));
    this.doubleChecks.push({
      seq,
      by: author.initials,
      firstBy: [...new Set(first)],
      sameHands: first.includes(author.initials),
      agrees: after.secondCheck?.agrees === true,
      afterDifference: found?.afterDifference === true,
    });
  }

  private ring({ seq, kind, payload }: Entry, before: SessionRecord): void {
    const dueAtMs = Number(payload.dueAtMs);
    const cue = awaitedCue(kind, dueAtMs, before);
    if (cue !== null) this.awaitedCues.push({ seq, cue, dueAtMs });
  }

  /** A step that went on with a reason although something was missing. */
  private missed({ seq, kind, payload }: Entry): void {
    const override = payload.override as { reason?: string } | undefined;
    const missing = (payload.found as { missing?: readonly string[] } | undefined)?.missing ?? [];
    if (override?.reason === undefined || missing.length === 0) return;
    this.overrides.push({ seq, step: kind, missing: missing.map(String), reason: override.reason });
  }

  /** Which entry brought what changed in the course, whatever its kind: trouble and an early stop end things too. */
  private turns(seq: number, before: SessionRecord, after: SessionRecord): void {
    const { course } = after;
    if (course === null) return;
    this.t0Seq ??= seq;
    if (course.infusion.pumpOffAtMs !== null) this.pumpOffSeq ??= seq;
    if (course.flush !== null) this.flushBeganSeq ??= seq;
    if (course.flush !== null && course.flush.endedAtMs !== null) this.flushEndedSeq ??= seq;
    if (OVER.includes(stateOf(after))) this.lightOverSeq ??= seq;
    for (let held = before.course?.infusion.holds.length ?? 0; held < course.infusion.holds.length; held += 1) {
      this.holdSeqs.push(seq);
    }
    for (const { eye, beams } of course.exposures) {
      const seqs = this.beamSeqs[eye];
      beams.forEach(({ offAtMs }, index) => {
        const seen = seqs[index] ?? { onSeq: seq, offSeq: null };
        seqs[index] = offAtMs === null || seen.offSeq !== null ? seen : { ...seen, offSeq: seq };
      });
    }
  }
}

/** The cue that tells of an instant as it comes, where nobody had answered it before. */
function awaitedCue(kind: string, dueAtMs: number, record: SessionRecord): CueId | null {
  const open = openOccurrences(record).find(
    ({ cue, firstAtMs }) => CUE_TABLE[cue].of === kind && Math.abs(firstAtMs - dueAtMs) <= SAME_INSTANT_MS,
  );
  return open?.cue ?? null;
}

import { UNDER_WAY } from '../../core/procedure/states.ts';
import type { Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView, TimerView } from '../../core/protocol/view.ts';
import { clockTime, minutesSeconds } from '../../core/time/show.ts';
import { notSafeWords } from '../parts/not-safe-words.ts';

/** A line below the board's arc, with the shape drawn before it. */
export interface Notice {
  readonly shape: 'warning' | 'broken line' | 'other session' | 'restart' | 'rule' | 'keys';
  readonly words: string;
}

interface Present {
  readonly snapshot: Snapshot | null;
  readonly front: SessionView | null;
  /** No word has come from the station for too long. */
  readonly silent: boolean;
  /** What keeps the station from working, in words. */
  readonly trouble: string | null;
  readonly nowMs: number;
  /** Says English in the reader's words. */
  readonly say?: Say;
}

type Say = (text: string) => string;

/** With the line that was asked for, where it was: that keeps a place among them. */
export function withAsked(notices: readonly Notice[], asked: Notice | null, say: Say): readonly Notice[] {
  return asked === null ? notices : [...atMost(NOTICE_LINES - 1, notices, say), asked];
}

const inEnglish: Say = (text) => text;

/** What is to be known beside the count, weightiest first, in the reader's words. */
export function boardNotices({ snapshot, front, silent, trouble, nowMs, say = inEnglish }: Present): Notice[] {
  const notices: Notice[] = [];
  if (trouble !== null) notices.push({ shape: 'broken line', words: inOneLine(say(trouble)) });
  if (silent) notices.push({ shape: 'broken line', words: say(silence(snapshot, front)) });
  const station = stationWords(snapshot, say);
  if (station !== null) notices.push({ shape: 'warning', words: station });
  const others = (snapshot?.sessions ?? []).filter(({ sessionId }) => sessionId !== front?.sessionId);
  const elsewhere = elsewhereWords(others, nowMs, say);
  if (elsewhere !== null) notices.push({ shape: 'other session', words: elsewhere });
  if (front?.rebased) {
    notices.push({ shape: 'restart', words: say('times re-based after a restart: check against a watch') });
  }
  return notices;
}

/** More would take the room of the number. */
export const NOTICE_LINES = 3;

/** No more lines than there is room for: the last says how many more there are. The console shows them all. */
export function atMost(lines: number, notices: readonly Notice[], say: Say = inEnglish): Notice[] {
  const shown = notices.slice(0, lines);
  const last = shown.at(-1);
  const left = notices.length - shown.length;
  if (last === undefined || left === 0) return shown;
  return [...shown.slice(0, -1), { ...last, words: `${last.words} · ${say(`${left} more on the console`)}` }];
}

/** What is wrong with the station or its files, in one line: the console says all of it. */
function stationWords(snapshot: Snapshot | null, say: Say): string | null {
  if (snapshot === null) return null;
  const { notYetSafe, trouble } = snapshot;
  const all = [...(notYetSafe === null ? [] : [notSafeWords(notYetSafe)]), ...trouble];
  const [first, ...others] = all;
  if (first === undefined) return null;
  const words = inOneLine(say(first));
  return others.length > 0 ? `${words} · ${say(`and ${others.length} more`)}` : words;
}

/** Cut between words where there is a place for it. */
function inOneLine(words: string): string {
  if (words.length <= LINE_LETTERS) return words;
  const space = words.lastIndexOf(' ', LINE_LETTERS);
  return `${words.slice(0, space > LINE_LETTERS / 2 ? space : LINE_LETTERS)} …`;
}

/** What a line of the board has room for. */
const LINE_LETTERS = 72;

function silence(snapshot: Snapshot | null, front: SessionView | null): string {
  if (snapshot === null) return 'no word from the station yet';
  const since = `no word from the station since ${clockTime(snapshot.wallMs, snapshot.offsetMin, true)}`;
  return front?.board.main ? `${since} · counting on by itself` : since;
}

/** Due this soon in a session that is not in front is told. */
const SOON_MS = 120_000;

/** Of the sessions that are not in front, the one that comes due next, in a line; null while none is under way. */
function elsewhereWords(others: readonly SessionView[], nowMs: number, say: Say): string | null {
  const told = others.flatMap((view) => toldOf(view, nowMs, say) ?? []);
  const [first] = told.sort((one, other) => one.dueAtMs - other.dueAtMs);
  if (first === undefined) return null;
  return told.length > 1 ? `${first.words} · ${say(`and ${told.length - 1} more`)}` : first.words;
}

function toldOf(view: SessionView, nowMs: number, say: Say): { words: string; dueAtMs: number } | null {
  const name = view.patient?.patientCode ?? say('a session without a patient');
  const { main } = view.board;
  if (UNDER_WAY.includes(view.state) && main !== null) {
    const dueAtMs = main.dueAtMs ?? nowMs + (main.leftMs ?? 0);
    const { over, text } = minutesSeconds(dueAtMs - nowMs);
    const words = over ? `${main.pastWords} +${text}` : `${text} ${main.words}`;
    return { words: `${name}: ${say(words)}`, dueAtMs };
  }
  const soon = view.timers.find((timer) => dueSoon(timer, nowMs));
  if (soon === undefined || soon.dueAtMs === null) return null;
  const words = say(`${soon.name}, ${minutesSeconds(soon.dueAtMs - nowMs).text} left`);
  return { words: `${name}: ${words}`, dueAtMs: soon.dueAtMs };
}

function dueSoon({ phase, dueAtMs }: TimerView, nowMs: number): boolean {
  return phase === 'running' && dueAtMs !== null && dueAtMs > nowMs && dueAtMs - nowMs <= SOON_MS;
}

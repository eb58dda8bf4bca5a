import type { Command, CommandKind } from '../procedure/commands.ts';
import type { SessionView } from '../protocol/view.ts';

/** The forms that a key opens by itself. */
export type KeyForm =
  | 'addendum'
  | 'beam-set-back'
  | 'deviation'
  | 'hands'
  | 'hold'
  | 'note'
  | 'open-session'
  | 'print'
  | 'recover'
  | 'reactions'
  | 'set-back'
  | 'stop-early'
  | 'trouble-told';

/** What a key does beside confirming a task or the way on. */
export type Doing =
  | { readonly does: 'form'; readonly form: KeyForm }
  | { readonly does: 'give'; readonly command: Command }
  | {
      readonly does:
        | 'override'
        | 'trouble'
        | 'keys'
        | 'dim'
        | 'sound check'
        | 'other session'
        | 'ledger'
        | 'settings'
        | 'people'
        | 'swap displays'
        | 'louder'
        | 'softer'
        | 'hush';
    };

export interface KeyBinding {
  /** `KeyboardEvent.key` in small letters. */
  readonly key: string;
  readonly shift?: boolean;
  readonly cap: string;
  readonly words: string;
  /** In the list of keys, where more can be said. */
  readonly more?: string;
  /** `here`: listed while the command is open. `foot`: always at the foot. `quiet`: only in the list of keys. */
  readonly place: 'here' | 'foot' | 'quiet';
  /** Shown and answered only while this command is open, or may go on with a reason. */
  readonly needs?: CommandKind;
  /** What else has to be so, of a session. */
  readonly when?: (view: SessionView) => boolean;
  readonly doing: Doing;
}

/** Every key that is bound, once. The screen, the list of keys, the card on the wall and the keyboard follow this table. */
export const KEYS: readonly KeyBinding[] = [
  {
    key: 't',
    cap: 'T',
    words: 'trouble: what to do',
    more: 'the cards of this state by number; Enter on a card enters it',
    place: 'here',
    needs: 'trouble',
    when: ({ troubleCards }) => troubleCards.length > 0,
    doing: { does: 'trouble' },
  },
  {
    key: 'c',
    cap: 'C',
    words: 'trouble: tell what was done',
    more: 'owed before discharge',
    place: 'here',
    needs: 'trouble-told',
    when: ({ troubles }) => troubles.some(({ told }) => told === null),
    doing: { does: 'form', form: 'trouble-told' },
  },
  {
    key: 'h',
    cap: 'H',
    words: 'hold the infusion',
    more: 'then the reason by its number; the light timer goes on',
    place: 'here',
    needs: 'hold',
    doing: { does: 'form', form: 'hold' },
  },
  {
    key: 'r',
    cap: 'R',
    words: 'resume the infusion',
    more: 'after extravasation with a reason',
    place: 'here',
    needs: 'resume',
    doing: { does: 'give', command: { kind: 'resume' } },
  },
  {
    key: 'l',
    cap: 'L',
    words: 'pump was started earlier than pressed',
    more: 'sets T0 back, once',
    place: 'here',
    needs: 'set-back',
    doing: { does: 'form', form: 'set-back' },
  },
  {
    key: 'b',
    cap: 'B',
    words: 'beam off by hand',
    more: 'before the end it holds the light; the rest may be given later',
    place: 'here',
    needs: 'beam-off',
    doing: { does: 'give', command: { kind: 'beam-off', endedByLaser: false } },
  },
  {
    key: 'm',
    cap: 'M',
    words: 'beam was on or off earlier than pressed',
    more: 'sets the last stretch of light back',
    place: 'here',
    needs: 'beam-set-back',
    doing: { does: 'form', form: 'beam-set-back' },
  },
  {
    key: 'f',
    cap: 'F',
    words: 'end the light here',
    more: 'with a reason: not all of it was given',
    place: 'here',
    needs: 'end-light',
    when: ({ wayOn }) => wayOn?.command !== 'end-light',
    doing: { does: 'give', command: { kind: 'end-light' } },
  },
  {
    key: 'p',
    cap: 'P',
    words: 'reaction seen or told',
    place: 'here',
    needs: 'reactions',
    doing: { does: 'form', form: 'reactions' },
  },
  {
    key: 'a',
    cap: 'A',
    words: 'addendum',
    more: 'the one thing that may be added after discharge',
    place: 'here',
    needs: 'addendum',
    doing: { does: 'form', form: 'addendum' },
  },
  {
    key: 'q',
    cap: 'Q',
    words: 'cue heard: do not repeat it',
    more: 'hushes its repeats; what it asks for is still to be done',
    place: 'here',
    needs: 'cue-heard',
    doing: { does: 'hush' },
  },
  {
    key: 'e',
    cap: 'E',
    words: 'go on with a reason',
    more: 'although something is missing: entered as a deviation',
    place: 'quiet',
    doing: { does: 'override' },
  },
  { key: '?', cap: '?', words: 'keys', place: 'foot', doing: { does: 'keys' } },
  {
    key: 'n',
    cap: 'N',
    words: 'note',
    place: 'foot',
    needs: 'note',
    doing: { does: 'form', form: 'note' },
  },
  {
    key: 'v',
    cap: 'V',
    words: 'deviation',
    more: 'what happened otherwise than planned, and why',
    place: 'foot',
    needs: 'deviation',
    doing: { does: 'form', form: 'deviation' },
  },
  {
    key: 'w',
    cap: 'W',
    words: 'hands',
    more: 'who is at the keyboard',
    place: 'foot',
    doing: { does: 'form', form: 'hands' },
  },
  {
    key: 'w',
    shift: true,
    cap: 'Shift W',
    words: 'a new PIN by the recovery code',
    more: 'for an administrator who cannot sign in',
    place: 'quiet',
    doing: { does: 'form', form: 'recover' },
  },
  { key: 'd', cap: 'D', words: 'dim', more: 'three levels, on all screens', place: 'foot', doing: { does: 'dim' } },
  {
    key: 's',
    cap: 'S',
    words: 'sound check',
    place: 'foot',
    doing: { does: 'sound check' },
  },
  {
    key: '+',
    cap: '+',
    words: 'louder',
    more: 'the cues, with a sound to hear how loud',
    place: 'quiet',
    doing: { does: 'louder' },
  },
  { key: '-', cap: '−', words: 'softer', more: 'never silent', place: 'quiet', doing: { does: 'softer' } },
  {
    key: 'i',
    cap: 'I',
    words: 'louder',
    more: 'where + shares its key with a digit',
    place: 'quiet',
    doing: { does: 'louder' },
  },
  {
    key: 'i',
    shift: true,
    cap: 'Shift I',
    words: 'softer',
    more: 'where − shares its key with a digit',
    place: 'quiet',
    doing: { does: 'softer' },
  },
  {
    key: 'o',
    cap: 'O',
    words: 'other session',
    more: 'brings the next open session in front, here and on the board',
    place: 'foot',
    doing: { does: 'other session' },
  },
  {
    key: 'o',
    shift: true,
    cap: 'Shift O',
    words: 'open another session',
    more: 'for a further patient',
    place: 'quiet',
    doing: { does: 'form', form: 'open-session' },
  },
  {
    key: 'k',
    cap: 'K',
    words: 'print',
    more: 'a sheet or a label, as a PDF file',
    place: 'foot',
    doing: { does: 'form', form: 'print' },
  },
  { key: 'g', cap: 'G', words: 'ledger', place: 'foot', doing: { does: 'ledger' } },
  {
    key: 'j',
    cap: 'J',
    words: 'settings',
    more: 'what the site decides for itself, each with its source',
    place: 'quiet',
    doing: { does: 'settings' },
  },
  {
    key: 'u',
    cap: 'U',
    words: 'people',
    more: 'the roster, who may do what, your own PIN',
    place: 'quiet',
    doing: { does: 'people' },
  },
  {
    key: 'y',
    cap: 'Y',
    words: 'swap the monitors',
    more: 'console and board change places, for later starts too',
    place: 'quiet',
    doing: { does: 'swap displays' },
  },
  {
    key: 'x',
    cap: 'X',
    words: 'stop early',
    place: 'foot',
    needs: 'stop-early',
    doing: { does: 'form', form: 'stop-early' },
  },
];

/** A key as it is told to people. */
export type ToldKey = Pick<KeyBinding, 'cap' | 'words' | 'more'>;

/** Keys that every screen hears, whatever lies over it. */
export const KEYS_EVERYWHERE: readonly ToldKey[] = [
  { cap: 'Tab', words: 'go to everything in turn; Enter or space presses it' },
  { cap: 'Ctrl Q', words: 'close Dimroom; asked first while something is under way' },
];

/** Keys that the table does not bind one by one, for the list of keys and the card on the wall. */
export const FURTHER_KEYS: readonly ToldKey[] = [
  { cap: 'Enter', words: 'the framed line: the way on, or the form' },
  { cap: '1 … 9', words: 'confirm that task, or open its form' },
  { cap: 'Shift 1 … 9', words: 'take a confirmation back, with a reason' },
  { cap: 'Esc', words: 'leave a form or a list, without effect' },
  ...KEYS_EVERYWHERE,
];

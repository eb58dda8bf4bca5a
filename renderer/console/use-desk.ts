import { useEffect, useEffectEvent, useRef, useState } from 'react';
import type { Doing, KeyBinding } from '../../core/keys/key-table.ts';
import type { Command } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { TroubleId } from '../../core/procedure/trouble.ts';
import type { SessionView, TaskView } from '../../core/protocol/view.ts';
import { playSoundCheck, soundNow } from '../cues/follow-cues.ts';
import { stepVolume, volumeWords } from '../cues/volume.ts';
import { askAboutPeople, type PeopleRequest, whyNotDone } from '../link/people.ts';
import { askQuickCard, askSheet, bringForward, give, openSession } from '../link/requests.ts';
import { saveFile } from '../link/save-file.ts';
import { snapshotNow, useDim } from '../link/store.ts';
import { swapDisplays } from '../link/swap-displays.ts';
import { dimFurther } from '../parts/dim-further.ts';
import { openKeyHelp, useKeyHelp } from '../parts/key-help.ts';
import { useOneAtATime } from '../parts/use-one-at-a-time.ts';
import { createArming } from './arming.ts';
import type { Asked, FormId, Printing } from './forms/form.ts';
import { FORM_IDS } from './forms/form.ts';
import { takeHands, useHands } from './hands.ts';
import { isOffered } from './keys.ts';
import { confirmed, type FormPanelState, type Panel } from './panel.ts';
import { refusalOf } from './refusal.ts';
import { useArming } from './use-arming.ts';
import { commandOf, formOf } from './way-on-command.ts';

/** What is said below the way on. `refused`: what a command waits for; else a quiet word. */
export interface Said {
  readonly sentences: readonly string[];
  readonly refused: boolean;
}

const NOTHING: Said = { sentences: [], refused: false };
/** Forms that enter nothing under anybody's initials. */
const NEEDS_NO_HANDS: readonly FormId[] = ['hands', 'print', 'recover'];
const JUST_CHANGED = 'that has just changed: look, then press again';
const CHECK_WORDS: Partial<Record<Awaited<ReturnType<typeof playSoundCheck>>, string>> = {
  sounding: 'sounding now: is it heard where the operator stands?',
  near: 'a cue sounds now, or is about to: press again after it',
};

/** What the keys of the console do, on the session in front. Nothing here knows a rule: the station decides. */
export function useDesk(view: SessionView | null) {
  const hands = useHands();
  const dim = useDim();
  const giving = useOneAtATime();
  const [panel, setPanel] = useState<Panel>(null);
  const [said, setSaid] = useState<Said>(NOTHING);
  const underList = useKeyHelp() !== null;
  const enter = useArming(underList ? 'keys' : confirmed(panel, view));
  const digits = useSettled(`${view?.sessionId} ${view?.tasks.map(({ id }) => id).join(' ')}`);
  useSessionChange(view, () => {
    setSaid(NOTHING);
    setPanel((now) => (now?.kind === 'form' || now?.kind === 'trouble' ? null : now));
  });
  useQuietWordsGoing(said, () => setSaid(NOTHING));

  const say = (...sentences: string[]) => setSaid({ sentences, refused: false });
  const refuse = (sentences: readonly string[]) => setSaid({ sentences, refused: sentences.length > 0 });

  function openForm(asked: FormId, more: Partial<FormPanelState> = {}): void {
    setSaid(NOTHING);
    setPanel(formPanel(asked, view, more));
  }

  /** What was wanted is opened once somebody has signed in: nobody presses a key twice to tell of a hold. */
  function askHands(form: FormId | null = null, more: Partial<FormPanelState> = {}): void {
    openForm('hands', { wanted: form === null ? null : formPanel(form, view, { ...more, openedBy: '' }) });
    say('first, whose hands are at the keyboard');
  }

  async function givenOrWhy(command: Command, by: Person | null = hands): Promise<readonly string[]> {
    if (view === null || by === null) return ['sign in first: Esc, then W'];
    return refusalOf(await giving.run(() => give(view, command, by)));
  }

  async function giveNow(command: Command): Promise<void> {
    if (hands === null) askHands();
    else refuse(await givenOrWhy(command));
  }

  /** A step beside the way on: at once where it is open, else with a reason. */
  function giveOrReason(command: Command, words: string, openedBy: string): void {
    const opening = view?.commands[command.kind];
    if (opening?.open === true || hands === null) void giveNow(command);
    else openForm('go-on', { overriding: true, going: { command, words }, openedBy });
  }

  async function open(): Promise<readonly string[]> {
    return hands === null ? ['sign in first: Esc, then W'] : refusalOf(await giving.run(() => openSession(hands)));
  }

  /** The framed line. */
  function goOn(): void {
    if (giving.busy || panel !== null) return;
    if (snapshotNow() === null) say('nothing can be written yet: waiting for the station');
    else if (!enter.armed()) say(JUST_CHANGED);
    else if (hands === null) askHands();
    else if (view === null || view.state === 'discharged') void open().then(refuse);
    else if (view.wayOn?.open === true) goOnTo(view.wayOn);
    else say('it waits for what is named above');
  }

  function goOnTo(wayOn: NonNullable<SessionView['wayOn']>): void {
    const form = formOf(wayOn);
    const command = commandOf(wayOn);
    if (form !== null) openForm(form, { openedBy: 'Enter' });
    else if (command !== null) void giveNow(command);
  }

  function override(): void {
    const wayOn = view?.wayOn ?? null;
    if (wayOn === null || wayOn.open || !wayOn.withReason) say('there is nothing to go on to with a reason');
    else if (hands === null) askHands(formOf(wayOn) ?? 'go-on', { overriding: true });
    else openForm(formOf(wayOn) ?? 'go-on', { overriding: true, openedBy: 'e' });
  }

  function pressTask(task: TaskView, takeBack: boolean): void {
    if (!digits.armed()) say(JUST_CHANGED);
    else if (hands === null) askHands(takeBack ? null : formOfTask(task), { eye: task.eye });
    else if (takeBack) takeTaskBack(task);
    else doTask(task);
  }

  function doTask(task: TaskView): void {
    const { item, eye, done } = task;
    const form = formOfTask(task);
    if (form !== null) openForm(form, { eye, openedBy: numberOf(task) });
    else if (done !== null) say(`confirmed already: Shift ${numberOf(task)} takes it back`);
    else if (item !== null) void giveNow({ kind: 'check', item, ...(eye === null ? {} : { eye }) });
  }

  function takeTaskBack(task: TaskView): void {
    const { item, eye, done } = task;
    if (item === null || done === null) say('only what was confirmed can be taken back');
    else openForm('uncheck', { item, eye, openedBy: numberOf(task) });
  }

  const numberOf = ({ id }: TaskView): string => String((view?.tasks.findIndex((task) => task.id === id) ?? 0) + 1);

  function otherSession(): void {
    const sessions = snapshotNow()?.sessions ?? [];
    const at = sessions.findIndex(({ sessionId }) => sessionId === view?.sessionId);
    const next = sessions[(at + 1) % sessions.length];
    if (next === undefined || sessions.length < 2) say('no other session is open: Shift O opens one');
    else bringForward(next.sessionId);
  }

  async function soundCheck(): Promise<void> {
    say(CHECK_WORDS[await playSoundCheck()] ?? `nothing could be sounded: ${soundNow().words}`);
  }

  async function turnVolume(by: 1 | -1): Promise<void> {
    const words = volumeWords(stepVolume(by));
    say((await playSoundCheck()) === 'cannot' ? `${words}; nothing could be sounded: ${soundNow().words}` : words);
  }

  function hush(): void {
    const [repeating] = view?.hushable ?? [];
    if (repeating !== undefined) void giveNow({ kind: 'cue-heard', cue: repeating.cue });
  }

  const offered = (binding: KeyBinding): boolean => {
    if (binding.doing.does === 'other session') return (snapshotNow()?.sessions.length ?? 0) > 1;
    return isOffered(binding, view);
  };

  function press(binding: KeyBinding): void {
    const { doing, needs, when, words, key } = binding;
    if ((needs ?? when) !== undefined && !offered(binding)) say(`${words}: not open here`);
    else if (doing.does === 'give') giveOrReason(doing.command, words, key);
    else if (doing.does !== 'form') doings[doing.does]();
    else if (hands === null && !NEEDS_NO_HANDS.includes(doing.form)) askHands(doing.form);
    else openForm(doing.form, { openedBy: key });
  }

  const doings: Record<Exclude<Doing['does'], 'form' | 'give'>, () => void> = {
    override,
    trouble: openTrouble,
    keys: openKeyHelp,
    ledger: () => setPanel({ kind: 'ledger' }),
    settings: () => setPanel({ kind: 'settings' }),
    people: () => setPanel({ kind: 'people' }),
    dim: () => dimFurther(dim),
    'other session': otherSession,
    'sound check': () => void soundCheck(),
    louder: () => void turnVolume(1),
    softer: () => void turnVolume(-1),
    hush,
    'swap displays': () => void swapDisplays().then((whyNot) => say(whyNot ?? 'console and board have changed places')),
  };

  /** The cards of this state; where there is but one, that one. Read before anybody has to sign in. */
  function openTrouble(): void {
    const cards = view?.troubleCards ?? [];
    const only = cards.length === 1 ? cards[0] : undefined;
    setSaid(NOTHING);
    setPanel({ kind: 'trouble', sessionId: view?.sessionId ?? null, card: only?.id ?? null });
  }

  function chooseTrouble(card: TroubleId | null): void {
    setSaid(NOTHING);
    setPanel({ kind: 'trouble', sessionId: view?.sessionId ?? null, card });
  }

  async function meetTrouble(card: TroubleId): Promise<void> {
    if (giving.busy) return;
    if (!enter.armed()) say(JUST_CHANGED);
    else refuse(await carryOut({ kind: 'command', command: { kind: 'trouble', card } }));
  }

  /** Makes a sheet and hands it over as a file. Gives back why not. */
  async function print(printing: Printing, from: Panel): Promise<readonly string[]> {
    const answer =
      printing.sheet === 'quick card' ? await askQuickCard() : view && (await askSheet(view.sessionId, printing));
    if (answer === null) return ['there is no session to print of'];
    if (answer.type === 'error') return [answer.says];
    saveFile(answer.fileName, answer.pdfBase64);
    leaveIfStill(from);
    say(`${answer.fileName} is made: look where downloads are kept`);
    return [];
  }

  /** Carries out what a form asks for; the form stays, with its values, while there is a reason why not. */
  async function carryOut(asked: Asked): Promise<readonly string[]> {
    const from = panel;
    if (asked.kind === 'people') return carryOutPeople(asked.request, from);
    if (asked.kind === 'print') return print(asked.printing, from);
    if (asked.kind === 'hands') takeHands(asked.hands);
    const why = asked.kind === 'hands' ? [] : asked.kind === 'open-session' ? await open() : await givenBySecond(asked);
    if (why.length === 0) leaveIfStill(from);
    return why;
  }

  /** Signing in, and the roster's beginning. A code for the safe is shown before anything else is. */
  async function carryOutPeople(request: PeopleRequest, from: Panel): Promise<readonly string[]> {
    const answer = await askAboutPeople(request);
    const why = whyNotDone(answer);
    if (why.length > 0) return why;
    leaveIfStill(from);
    if (answer.type === 'people-done' && answer.recoveryCode !== null)
      setPanel({ kind: 'recovery code', code: answer.recoveryCode });
    return [];
  }

  /** Given by other hands than those at the keyboard, who sign in for this one command. */
  async function givenBySecond({ command, by, pin }: Extract<Asked, { kind: 'command' }>): Promise<readonly string[]> {
    if (by !== undefined && pin !== undefined) {
      const why = whyNotDone(await askAboutPeople({ type: 'sign-in', initials: by.initials, pin, as: 'second' }));
      if (why.length > 0) return why;
    }
    return givenOrWhy(command, by ?? hands);
  }

  function leave(): void {
    setPanel(null);
    setSaid(NOTHING);
  }

  /** An answer may come after its form was left: another that has been opened since stays, with what was typed. */
  function leaveIfStill(from: Panel): void {
    const wanted = from?.kind === 'form' ? from.wanted : null;
    setPanel((now) => (now === from ? wanted : now));
    setSaid(NOTHING);
  }

  function asking(): void {
    setPanel((now) => (now?.kind === 'form' ? { ...now, asked: now.asked + 1 } : now));
  }

  const whyNotEnter = (): string | null => (enter.armed() ? null : JUST_CHANGED);
  const touch = (): void => enter.touch();
  return {
    hands,
    panel,
    said,
    busy: giving.busy,
    goOn,
    override,
    press,
    pressTask,
    offered,
    carryOut,
    leave,
    asking,
    openTrouble,
    chooseTrouble,
    meetTrouble,
    whyNotEnter,
    touch,
  };
}

export type Desk = ReturnType<typeof useDesk>;

function formPanel(asked: FormId, view: SessionView | null, more: Partial<FormPanelState>): FormPanelState {
  const begins = snapshotNow()?.whoMay.kind === 'first run' && asked === 'hands';
  return {
    kind: 'form',
    form: begins ? 'first-administrator' : asked,
    sessionId: view?.sessionId ?? null,
    eye: null,
    item: null,
    overriding: false,
    going: null,
    openedBy: '',
    asked: 0,
    wanted: null,
    ...more,
  };
}

/** The form that a task is told by; null where one key confirms it. */
const formOfTask = ({ command }: TaskView): FormId | null => FORM_IDS.find((id) => id === command) ?? null;

/** Whether what the digits stand for has stood still for a while. */
function useSettled(thing: string) {
  const [settling] = useState(createArming);
  useEffect(() => settling.see(thing), [settling, thing]);
  return settling;
}

/** What was opened or said is of no use to another session. */
function useSessionChange(view: SessionView | null, changed: () => void): void {
  const present = view?.sessionId ?? null;
  const before = useRef(present);
  useEffect(() => {
    if (before.current !== present) changed();
    before.current = present;
  });
}

const QUIET_WORD_MS = 6_000;

/** A quiet word goes by itself; a refusal stays until something is entered. */
function useQuietWordsGoing(said: Said, clear: () => void): void {
  const go = useEffectEvent(clear);
  useEffect(() => {
    if (said.refused || said.sentences.length === 0) return;
    const timer = setTimeout(go, QUIET_WORD_MS);
    return () => clearTimeout(timer);
  }, [said]);
}

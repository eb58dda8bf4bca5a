import type { ReactNode } from 'react';
import { FURTHER_KEYS, KEYS, type ToldKey } from '../../core/keys/key-table.ts';
import type { Guide } from '../../core/practice/guide-schema.ts';
import { UNDER_WAY } from '../../core/procedure/states.ts';
import type { Snapshot } from '../../core/protocol/messages.ts';
import type { WhoMay } from '../../core/protocol/people.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { clockTime } from '../../core/time/show.ts';
import { CueLine } from '../cues/cue-line.tsx';
import { useSoundState } from '../cues/follow-cues.ts';
import { HIGHEST, useVolume } from '../cues/volume.ts';
import { GuideLesson } from '../guide/guide-lesson.tsx';
import { GuideReview } from '../guide/guide-review.tsx';
import { GuideStrip } from '../guide/guide-strip.tsx';
import { stationNow, useBoardPlace, useFront, useLink, useLinkTrouble, useNow, useSnapshot } from '../link/store.ts';
import { DayArc } from '../parts/day-arc.tsx';
import type { KeysHere } from '../parts/key-help.ts';
import { KeyList } from '../parts/key-list.tsx';
import { BoardStrip, needsStrip } from './board-strip.tsx';
import { Counts } from './counts.tsx';
import { Differences } from './differences.tsx';
import { Elsewhere } from './elsewhere.tsx';
import { Cautions, Facts } from './facts.tsx';
import { Foot } from './foot.tsx';
import { FormPanel } from './form-panel.tsx';
import type { FormContext } from './forms/form.ts';
import { FORMS } from './forms/forms.ts';
import { Head } from './head.tsx';
import { isHeardInRoom } from './keys.ts';
import { Middle } from './middle.tsx';
import { type FormPanelState, roomIn } from './panel.ts';
import { RecoveryCode } from './recovery-code.tsx';
import { RoomInside } from './rooms.tsx';
import { StationNotices } from './station-notices.tsx';
import { TroublePanel } from './trouble/trouble-panel.tsx';
import { type Desk, useDesk } from './use-desk.ts';
import { useKeyboard } from './use-keyboard.ts';
import { WayThrough } from './way-through.tsx';
import './console.css';
import './crowded.css';
import './narrow.css';

/** The nurse's screen: what is next, what is missing, and one key that goes on. */
export function Console() {
  const snapshot = useSnapshot();
  const view = useFront();
  const link = useLink();
  const trouble = useTroubleWords(snapshot, link);
  const desk = useDesk(view);
  const sound = useSoundState();
  const volume = useVolume();
  const boardPlace = useBoardPlace();
  const strip = needsStrip(boardPlace) ? boardPlace : null;
  useKeyboard(desk, view);
  const { panel } = desk;
  const room = roomIn(panel);
  const unseeing = panel?.kind === 'form' && FORMS[panel.form].unseeing === true;
  const others = (snapshot?.sessions ?? []).filter(({ sessionId }) => sessionId !== view?.sessionId);
  const other = KEYS.find(({ doing }) => doing.does === 'other session');
  const guide = guideOf(snapshot, view);
  const right = (
    <Right view={view} snapshot={snapshot} unseeing={unseeing} silent={link.stale} counted={strip !== null} />
  );
  return (
    <div className="console" data-silent={link.stale}>
      <Head snapshot={snapshot} view={view} hands={desk.hands} trouble={trouble} unseeing={unseeing} />
      {strip !== null && <BoardStrip place={strip} view={view} silent={link.stale} />}
      <StationNotices snapshot={snapshot} />
      {guide !== null && <GuideStrip guide={guide} />}
      <Elsewhere
        others={others.filter(({ state }) => state !== 'discharged')}
        onPress={() => other && desk.press(other)}
      />
      {snapshot?.sessions.some(mayCue) && <CueLine />}
      <main className="columns">
        {room !== null ? (
          <RoomInside name={room} onLeave={desk.leave} />
        ) : (
          <>
            <Left view={view} unseeing={unseeing} guide={guide} />
            {panel?.kind === 'form' ? (
              <OpenForm
                key={`${panel.form}, ${snapshot?.whoMay.kind}`}
                panel={panel}
                desk={desk}
                view={view}
                snapshot={snapshot}
                right={right}
              />
            ) : (
              <div className="middle">
                {panel?.kind === 'recovery code' ? (
                  <RecoveryCode code={panel.code} onWritten={desk.leave} />
                ) : panel?.kind === 'trouble' && view !== null ? (
                  <TroublePanel view={view} chosen={panel.card} desk={desk} />
                ) : (
                  <Middle view={view} desk={desk} heard={snapshot !== null}>
                    {guide?.review != null && <GuideReview review={guide.review} />}
                  </Middle>
                )}
              </div>
            )}
          </>
        )}
        {panel?.kind !== 'form' && right}
      </main>
      <Foot
        offered={desk.offered}
        onPress={desk.press}
        boardPlace={boardPlace}
        sound={sound.state === 'ready' ? `+ − volume ${volume} of ${HIGHEST}` : sound.words}
      />
      <KeyList own={(here) => ownKeys(desk, here)} />
      <p className="unseen" role="status">
        {[view?.board.title, view?.course?.windowOpen === true ? 'light window open' : '', trouble]
          .filter(Boolean)
          .join('. ')}
      </p>
    </div>
  );
}

/** The keys of the console that are heard over what lies in the place of the tasks, which has its own keys first. */
function ownKeys({ panel, offered }: Desk, { keys, inField }: KeysHere): readonly ToldKey[] {
  if (panel === null) return [...FURTHER_KEYS, ...KEYS];
  if (roomIn(panel) === null || inField) return [];
  const taken = keys.map(({ key }) => key);
  return KEYS.filter(
    (binding) => isHeardInRoom(binding) && offered(binding) && (binding.shift === true || !taken.includes(binding.key)),
  );
}

const AS_TYPED: WhoMay = { kind: 'as typed' };

/** The line of cues has its place before the first one is due, so that nothing moves when it is. */
const mayCue = ({ cues, state }: SessionView): boolean => cues.length > 0 || UNDER_WAY.includes(state);

/** What is wrong with the link; null while nothing is. What is shown counts on all the while. */
function useTroubleWords(snapshot: Snapshot | null, link: { up: boolean; stale: boolean }): string | null {
  const trouble = useLinkTrouble();
  if (trouble !== null) return trouble;
  if (link.up && !link.stale) return null;
  if (snapshot === null) return 'no word from the station yet';
  return `no word from the station since ${clockTime(snapshot.wallMs, snapshot.offsetMin, true)}: counting on by itself`;
}

interface LeftProps {
  readonly view: SessionView | null;
  readonly unseeing: boolean;
  readonly guide: Guide | null;
}

/** In guided practice, what is told of the session that this console shows. */
const guideOf = (snapshot: Snapshot | null, view: SessionView | null): Guide | null =>
  snapshot?.guide != null && snapshot.guide.sessionId === view?.sessionId ? snapshot.guide : null;

function Left({ view, unseeing, guide }: LeftProps) {
  if (view === null) return <div className="left" />;
  const { deviations, notes, rebased } = view;
  const told = [
    ...(deviations.length > 0 ? [`${deviations.length} ${deviations.length === 1 ? 'deviation' : 'deviations'}`] : []),
    ...(notes > 0 ? [`${notes} ${notes === 1 ? 'note' : 'notes'}`] : []),
  ];
  return (
    <div className="left">
      <WayThrough view={view} />
      {guide !== null && <GuideLesson guide={guide} />}
      <div className="left-end">
        {!unseeing && <Cautions cautions={view.cautions} />}
        {rebased && <p className="left-rebased">times re-based after a restart: check against a watch</p>}
        {told.length > 0 && <p>{told.join(' · ')}</p>}
      </div>
    </div>
  );
}

interface OpenFormProps {
  readonly panel: FormPanelState;
  readonly desk: Desk;
  readonly view: SessionView | null;
  readonly snapshot: Snapshot | null;
  readonly right: ReactNode;
}

function OpenForm({ panel, desk, view, snapshot, right }: OpenFormProps) {
  const { form, eye, item, overriding, going } = panel;
  const context = (): FormContext => {
    const { wallMs, offsetMin, nowMs } = snapshot ?? { wallMs: 0, offsetMin: 0, nowMs: 0 };
    const site = snapshot?.settings ?? DEFAULT_SETTINGS;
    const settings = view === null ? site : { ...view.settings, language: site.language };
    const regimens = snapshot?.regimens ?? REGIMENS;
    const whoMay = snapshot?.whoMay ?? AS_TYPED;
    const about = { eye, item, overriding, going };
    return { view, settings, regimens, whoMay, wallMs: Math.round(wallMs + stationNow() - nowMs), offsetMin, ...about };
  };
  const opening = going === null ? view?.wayOn : view?.commands[going.command.kind];
  const missing = overriding ? (opening?.missing ?? []).map(({ text }) => text) : [];
  return (
    <FormPanel
      form={FORMS[form]}
      context={context}
      missing={missing}
      openedBy={panel.openedBy}
      busy={desk.busy}
      whyNotEnter={desk.whyNotEnter}
      onTouch={desk.touch}
      onAsked={desk.carryOut}
      onAsking={desk.asking}
      onLeave={desk.leave}
      right={right}
    />
  );
}

interface RightProps {
  readonly view: SessionView | null;
  readonly snapshot: Snapshot | null;
  readonly unseeing: boolean;
  readonly silent: boolean;
  /** The counts stand larger elsewhere on this screen. */
  readonly counted: boolean;
}

function Right({ view, snapshot, unseeing, silent, counted }: RightProps) {
  if (view === null || snapshot === null) return <div className="right" />;
  if (unseeing) {
    return (
      <div className="right">
        <p className="right-hidden">hidden while the second person computes</p>
      </div>
    );
  }
  return (
    <div className="right">
      {!counted && <Counts view={view} silent={silent} />}
      {view.state === 'planning' && view.differences.length > 0 ? (
        <Differences differences={view.differences} />
      ) : (
        <Facts view={view} offsetMin={snapshot.offsetMin} />
      )}
      {(view.course === null || UNDER_WAY.includes(view.state)) && (
        <div className="right-arc">
          <Arc view={view} />
        </div>
      )}
    </div>
  );
}

function Arc({ view }: { view: SessionView }) {
  const nowMs = useNow(1000);
  return (
    <DayArc
      course={view.course}
      nowMs={nowMs}
      eyes={view.eyes}
      compact
      lightStartMin={view.regimen?.lightStartMin ?? null}
    />
  );
}

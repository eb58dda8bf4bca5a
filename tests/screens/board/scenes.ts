import type { Session } from '../../../core/procedure/session.ts';
import { viewOf } from '../../../core/procedure/view.ts';
import { PROTOCOL, type Snapshot } from '../../../core/protocol/messages.ts';
import type { SessionView } from '../../../core/protocol/view.ts';
import { REGIMENS } from '../../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../../core/settings/settings.ts';
import { clockTime } from '../../../core/time/show.ts';
import { keysNotice } from '../../../renderer/board/board-keys.ts';
import { boardNotices, type Notice, withAsked } from '../../../renderer/board/notices.ts';
import {
  after,
  beamOff,
  beamOn,
  courseOf,
  discharged,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  momentAt,
  OPENED_AT_MS,
  OPERATOR,
  opened,
  planned,
  prepared,
  primed,
  RIGHT,
  ring,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../../session-steps.ts';
import type { ShownFace } from './board-page.tsx';

/** What a board shows at one moment of a session. */
export interface Scene {
  readonly name: string;
  readonly face: ShownFace;
  /** The face's notices, said in a reader's words. */
  readonly noticesSaid: (say: (text: string) => string) => Notice[];
}

interface Circumstances {
  /** Seconds from T0; before T0 it is less than nothing. */
  readonly atS: number;
  readonly change?: (view: SessionView) => SessionView;
  readonly silent?: boolean;
  readonly trouble?: string;
  readonly station?: Partial<Pick<Snapshot, 'trouble' | 'notYetSafe'>>;
  readonly others?: readonly Session[];
  readonly cue?: string;
  /** `?` was pressed. */
  readonly asked?: boolean;
}

const minute = (minutes: number): number => minutes * 60;
const LONG_CODE = 'EXTRAORDINARILY-LONG-042';
const REASON = 'chronic disease of the central retina, half of the drug has to be enough, by agreement';

const withLongWords = (view: SessionView): SessionView => ({
  ...view,
  practice: true,
  rebased: true,
  patient: { patientCode: LONG_CODE, birthDate: '1951-03-02' },
  regimen: view.regimen && { ...view.regimen, onLabel: false },
  offLabelReason: REASON,
});

const heldAgain = (): Session =>
  give(beamOn(TWO_EYES), { kind: 'beam-off', endedByLaser: false }, T0_AT_MS + 936_000, OPERATOR);

const EVERYTHING_WRONG: Circumstances = {
  atS: 400,
  cue: '12 s late: infusion at its end: pump off',
  change: withLongWords,
  silent: true,
  trouble: 'the station does not answer: it is being started again (third time)',
  station: {
    trouble: ['settings.json, line 3: there is no such field. The file is not used.'],
    notYetSafe: {
      entries: 12,
      sinceWallMs: momentAt(T0_AT_MS).wallMs,
      why: 'the disk is full: make room on it, nothing is lost meanwhile',
      keptAt: '/var/log/dimroom',
    },
  },
  others: [infusing(), infusing(TWO_EYES)],
};

/** Every state a board can be in, with what may be wrong beside it. */
export const SCENES: readonly Scene[] = [
  { name: 'station not heard yet', ...unheard() },
  { name: 'no session', ...withoutSession() },
  scene('planning', opened(), { atS: -600 }),
  scene('planned', planned(), { atS: -350 }),
  scene('planned, two eyes', planned(TWO_EYES), { atS: -350, change: withLongWords }),
  scene('drug made up', prepared(), { atS: -280 }),
  scene('line primed', primed(), { atS: -100 }),
  scene('infusing', infusing(), { atS: 143 }),
  scene('infusing, two eyes', infusing(TWO_EYES), { atS: 6 }),
  scene('infusing, light after 10 min', infusing(courseOf([RIGHT], 'half-dose-10')), { atS: 300 }),
  scene('infusion held', held(), { atS: 200 }),
  scene('infusion held over its time', held(), { atS: 1300 }),
  scene('infusion over its time', infusing(), { atS: 630 }),
  scene('flushing', flushing(TWO_EYES), { atS: 629 }),
  scene('flush over its time', flushing(), { atS: 700 }),
  scene('waiting', waiting(), { atS: minute(13) }),
  scene('window in a few seconds', waiting(TWO_EYES), { atS: 894 }),
  scene('window open', waiting(), { atS: 908, cue: 'light window is open' }),
  scene('window long open', waiting(TWO_EYES), { atS: minute(35) + 8 }),
  scene('light on', beamOn(), { atS: 936 }),
  scene('light on, two eyes', beamOn(TWO_EYES), { atS: 936 }),
  scene('ordered light given', beamOn(), { atS: 1001 }),
  scene('light held', heldAgain(), { atS: 960 }),
  scene('second eye next', beamOff(TWO_EYES), { atS: 1010 }),
  scene('too late for the second eye', beamOff(TWO_EYES), { atS: 1320 }),
  scene('light on, second eye', after('beam-on:left', TWO_EYES), { atS: 1060 }),
  scene('light done', beamOff(), { atS: 1100 }),
  scene('after-care', inAfterCare(), { atS: 1160 }),
  scene('after-care, two eyes', inAfterCare(TWO_EYES), { atS: 1260, change: withLongWords }),
  scene('discharged', discharged(), { atS: 1290 }),
  scene('stopped early', stopped(infusing(), T0_AT_MS + 90_000), { atS: 100 }),
  scene('station silent', infusing(), { atS: 143, silent: true }),
  scene('keys asked for', infusing(), { atS: 143, asked: true }),
  scene('everything wrong, and keys asked for', held(TWO_EYES), { ...EVERYTHING_WRONG, asked: true }),
  scene('everything wrong', held(TWO_EYES), EVERYTHING_WRONG),
  scene('light with long words', beamOn(TWO_EYES), { atS: 1003, change: withLongWords, others: [waiting()] }),
  scene('second eye with long words', beamOff(TWO_EYES), {
    atS: 1010,
    change: withLongWords,
    silent: true,
    cue: 'second eye to begin within 1 min',
  }),
];

function scene(name: string, session: Session, circumstances: Circumstances): Scene {
  const {
    atS,
    change = (view) => view,
    silent = false,
    trouble = null,
    station,
    others = [],
    cue = null,
    asked = false,
  } = circumstances;
  const nowMs = T0_AT_MS + atS * 1000;
  const view = change(viewAt(session, nowMs));
  const snapshot: Snapshot = {
    ...emptySnapshot(nowMs),
    ...station,
    sessions: [view, ...others.map((one, index) => other(viewAt(one, nowMs), index))],
    front: view.sessionId,
  };
  const noticesSaid: Scene['noticesSaid'] = (say) => [
    ...withAsked(
      boardNotices({ snapshot, front: view, silent, trouble, nowMs, say }),
      asked ? keysNotice(say) : null,
      say,
    ),
  ];
  const notices = noticesSaid((words) => words);
  return { name, face: { view, nowMs, clock: clockAt(nowMs), notices, placed: DEFAULT_SETTINGS, cue }, noticesSaid };
}

function viewAt(session: Session, atMs: number): SessionView {
  return viewOf(ring(session, atMs).context, 1, momentAt(atMs));
}

function other(view: SessionView, index: number): SessionView {
  const patient = { patientCode: `K-30${index}7`, birthDate: '1950-01-01' };
  return { ...view, sessionId: `session-other-${index}`, patient };
}

function clockAt(atMs: number): string {
  const { wallMs, offsetMin } = momentAt(atMs);
  return clockTime(wallMs, offsetMin);
}

function emptySnapshot(nowMs: number): Snapshot {
  const { wallMs, offsetMin, boot } = momentAt(nowMs);
  return {
    ...{ type: 'snapshot', protocol: PROTOCOL, nowMs, wallMs, offsetMin, boot, rate: 1, practice: false },
    ...{ settings: DEFAULT_SETTINGS, regimens: [...REGIMENS], trouble: [], notYetSafe: null, written: null },
    ...{ settingsSeq: 1, whoMay: { kind: 'as typed' }, sessions: [], front: null, guide: null },
  };
}

type Unnamed = Omit<Scene, 'name'>;

function withoutSession(): Unnamed {
  const snapshot = emptySnapshot(OPENED_AT_MS);
  const noticesSaid: Scene['noticesSaid'] = (say) =>
    boardNotices({ snapshot, front: null, silent: false, trouble: null, nowMs: OPENED_AT_MS, say });
  const face = { view: null, nowMs: OPENED_AT_MS, clock: clockAt(OPENED_AT_MS), placed: DEFAULT_SETTINGS, cue: null };
  return { face: { ...face, notices: noticesSaid((words) => words) }, noticesSaid };
}

function unheard(): Unnamed {
  const noticesSaid: Scene['noticesSaid'] = (say) =>
    boardNotices({ snapshot: null, front: null, silent: true, trouble: null, nowMs: 0, say });
  const face = { view: null, nowMs: 0, clock: null, placed: null, cue: null };
  return { face: { ...face, notices: noticesSaid((words) => words) }, noticesSaid };
}

export function sceneOf(name: string): Scene {
  const scene = SCENES.find((one) => one.name === name);
  if (scene === undefined) throw new Error(`there is no scene "${name}"`);
  return scene;
}

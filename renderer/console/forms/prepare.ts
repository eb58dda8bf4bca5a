import { DOSE_CAUTION } from '../../../core/dosing/plan.ts';
import { clockTime } from '../../../core/time/show.ts';
import { figureReader } from './entries.ts';
import { type Form, readCommand } from './form.ts';
import { reasonField, reasonGiven } from './reason.ts';

const DAY_MIN = 24 * 60;
/** A time that lies ahead was meant for yesterday only around midnight. */
const LONGEST_AGO_MIN = 12 * 60;

export const prepareForm: Form = {
  title: () => 'drug reconstituted, infusate made',
  lead: () => DOSE_CAUTION,
  enter: 'drug reconstituted, infusate made',
  start: ({ wallMs, offsetMin }) => ({ reconstituted: clockTime(wallMs, offsetMin), override: '' }),
  fields: (_values, context) => [
    { kind: 'text', name: 'reconstituted', words: 'reconstituted at', letters: 5, hint: 'hour:minute, today' },
    ...reasonField(context),
  ],
  read: (values, context) => {
    const reader = figureReader();
    const agoMin = minutesAgo(values.reconstituted ?? '', clockTime(context.wallMs, context.offsetMin));
    if (agoMin === null) reader.wrong('reconstituted', 'write the time as hour:minute, for example 13:48');
    else if (agoMin > LONGEST_AGO_MIN)
      reader.wrong('reconstituted', 'that lies ahead: enter when it was reconstituted');
    const reconstitutedAgoS = (agoMin ?? 0) * 60 + (agoMin === null ? 0 : secondsOf(context.wallMs));
    return readCommand({ kind: 'prepare', reconstitutedAgoS, ...reasonGiven(values, context) }, reader.errors);
  },
  sums: (_values, { view }) => {
    const infusate = view?.plan?.infusate;
    if (infusate === undefined) return [];
    return [
      ['dose', `${infusate.doseMg.toFixed(2)} mg`],
      [
        'draw up',
        `${infusate.drugMlRounded.toFixed(1)} mL of reconstituted drug, ${infusate.doseAfterRoundingMg.toFixed(1)} mg`,
      ],
      ['add dextrose 5 %', `${infusate.diluentMl.toFixed(1)} mL, to ${infusate.totalMl} mL in all`],
      ['vials', String(infusate.vials)],
    ];
  },
};

/** Minutes from a typed time of day to the present one, across midnight; null where it is no time of day. */
function minutesAgo(typed: string, now: string): number | null {
  const then = minuteOfDay(typed);
  const present = minuteOfDay(now);
  return then === null || present === null ? null : (present - then + DAY_MIN) % DAY_MIN;
}

function minuteOfDay(typed: string): number | null {
  const parts = /^\s*(\d{1,2})[:.,h ]?(\d{2})\s*$/.exec(typed);
  const hour = Number(parts?.[1]);
  const minute = Number(parts?.[2]);
  return parts === null || hour > 23 || minute > 59 ? null : hour * 60 + minute;
}

/** The minute named is taken from its beginning: the drug is then never younger than it is. */
const secondsOf = (wallMs: number): number => Math.floor((wallMs % 60_000) / 1000);

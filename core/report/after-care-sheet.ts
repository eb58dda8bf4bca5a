import { type LightCare, lightCareOf } from '../after-care/light-care.ts';
import { say } from '../after-care/say.ts';
import type { SentenceId } from '../after-care/sentences.ts';
import { birthWords, dayWords, whenWords } from '../after-care/when.ts';
import type { SessionRecord } from '../procedure/record.ts';
import type { Language } from '../settings/language.ts';
import { notComingTwice } from '../time/in-zone.ts';
import { sheetFileName } from './file-name.ts';
import { type Block, NotYet, type Sheet } from './sheet.ts';

/** For whom a sheet is made: in which words, how large, and by the clocks of which place. */
export interface Reader {
  readonly language: Language;
  readonly largePrint: boolean;
  /** IANA name of the zone that the patient lives by. */
  readonly zone: string;
}

/**
 * The sheet that goes home with the patient: what was given, until when bright light is to be kept away and how, and
 * when to call. It is owed wherever drug was given, also where the treatment was stopped early. It names the patient by
 * code and date of birth, as the ledger does, and leaves a line for the clinic's telephone number.
 *
 * @throws NotYet before the pump is off.
 */
export function afterCareSheet(record: SessionRecord, reader: Reader): Sheet {
  const { language, largePrint } = reader;
  const { patient } = record;
  const lightCare = lightCareToPrint(record, 'the after-care sheet');
  const heading = (id: Titled): Block => ({ kind: 'heading', text: say(language, id, {}) });
  const list = (...ids: readonly Plain[]): Block => ({ kind: 'list', items: ids.map((id) => say(language, id, {})) });
  const line = (id: Plain): Block => ({ kind: 'line', text: say(language, id, {}) });
  const patientWords =
    patient === null
      ? null
      : say(language, 'patient', { code: patient.patientCode, born: birthWords(patient.birthDate, language) });
  return {
    fileName: sheetFileName(record, `after-care-${language}${largePrint ? '-large' : ''}`),
    title: say(language, 'title', {}),
    size: largePrint ? 'large handout' : 'handout',
    language,
    marks: record.practice ? [say(language, 'practice', {})] : [],
    ...(patientWords === null ? {} : { foot: patientWords }),
    blocks: [
      ...(patientWords === null ? [] : [{ kind: 'line', text: patientWords, strong: true } as const]),
      heading('given-title'),
      { kind: 'line', text: say(language, 'given', whenWords(lightCare.fromWallMs, reader.zone, language)) },
      line(lightGiven(record)),
      heading('until-title'),
      { kind: 'big', text: say(language, 'until', untilWords(lightCare, reader)) },
      { kind: 'line', text: say(language, 'hours', { hours: String(lightCare.hours) }) },
      heading('avoid-title'),
      list('sun', 'lamps', 'clinic-lamps', 'oximeter'),
      heading('outside-title'),
      list('cover', 'sun-cream'),
      heading('indoors-title'),
      line('indoors'),
      heading('also-title'),
      list('wristband', 'driving'),
      heading('surgery-title'),
      line('surgery'),
      heading('call-title'),
      { kind: 'to fill in', text: say(language, 'phone', {}) },
      list('call-sight', 'call-vein', 'call-skin', 'call-emergency'),
      heading('review-title'),
      review(record, language),
      line('doctor-first'),
      { kind: 'line', text: hoursFrom(lightCare, language) },
    ],
    code: null,
  };
}

/** The light precautions once they are sure: drug has run, and the pump is off. */
export function lightCareToPrint({ course, settings }: SessionRecord, sheet: string): LightCare {
  if (course === null || course.infusion.pumpOffAtMs === null)
    throw new NotYet(`${sheet} is printed once the pump is off: the hours count from there`);
  return lightCareOf(course, settings, course.infusion.pumpOffAtMs);
}

/** Until when, in words that can be read in one way only. */
export const untilWords = ({ untilWallMs }: LightCare, { zone, language }: Reader) =>
  whenWords(notComingTwice(untilWallMs, zone), zone, language);

/** Sentences into which nothing is filled. */
type Plain = Exclude<SentenceId, 'patient' | 'given' | 'until' | 'hours' | 'review' | `hours-${string}`>;
type Titled = Extract<Plain, `${string}-title`>;

/** Light that was begun was given: how much of it is no matter of this sheet. */
function lightGiven({ course }: SessionRecord): Plain {
  const eyes = (course?.exposures ?? []).filter(({ beams }) => beams.length > 0).map(({ eye }) => eye);
  const [first, second] = eyes;
  if (first === undefined) return 'light-none';
  return second === undefined ? `light-${first}` : 'light-both';
}

const review = ({ review: agreed }: SessionRecord, language: Language): Block =>
  agreed === null
    ? { kind: 'to fill in', text: say(language, 'review-open', {}) }
    : { kind: 'line', text: say(language, 'review', { day: dayWords(agreed.reviewDate, language) }), strong: true };

function hoursFrom({ hours, productHours, by }: LightCare, language: Language): string {
  const figures = { hours: String(hours), productHours: String(productHours) };
  return by === 'site' ? say(language, 'hours-site', figures) : say(language, `hours-${by}`, figures);
}

import { say } from '../after-care/say.ts';
import type { SessionRecord } from '../procedure/record.ts';
import { lightCareToPrint, type Reader, untilWords } from './after-care-sheet.ts';
import { sheetFileName } from './file-name.ts';
import type { Sheet } from './sheet.ts';

/**
 * The label of the wristband: the drug, until when bright light is to be kept away, the patient's code alone, and a line
 * for the clinic's telephone number. Source: US patient information, which asks for a wristband; what stands on it:
 * common practice, no source.
 *
 * @throws NotYet before the pump is off.
 */
export function bracelet(record: SessionRecord, reader: Reader): Sheet {
  const { language } = reader;
  const lightCare = lightCareToPrint(record, 'the bracelet');
  return {
    fileName: sheetFileName(record, `bracelet-${language}`),
    title: say(language, 'title', {}),
    size: 'wrist',
    language,
    marks: record.practice ? [say(language, 'practice', {})] : [],
    blocks: [
      { kind: 'line', text: say(language, 'band-title', {}), strong: true },
      { kind: 'big', text: say(language, 'until', untilWords(lightCare, reader)) },
      ...(record.patient === null ? [] : [{ kind: 'line', text: record.patient.patientCode } as const]),
      { kind: 'to fill in', text: say(language, 'band-phone', {}) },
    ],
    code: null,
  };
}

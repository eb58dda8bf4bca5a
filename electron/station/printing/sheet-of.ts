import type { SessionRecord } from '../../../core/procedure/record.ts';
import type { Request, SheetName } from '../../../core/protocol/messages.ts';
import { afterCareSheet, type Reader } from '../../../core/report/after-care-sheet.ts';
import { bracelet } from '../../../core/report/bracelet.ts';
import { planSheet } from '../../../core/report/plan-sheet.ts';
import type { Sheet } from '../../../core/report/sheet.ts';
import { syringeLabel } from '../../../core/report/syringe-label.ts';

type Asked = Pick<Extract<Request, { type: 'print' }>, 'sheet' | 'language' | 'largePrint'>;

/**
 * The sheet of a session that was asked for, in the language asked for; where none was, in the site's. Times are those
 * of the zone that the session was opened with, else of this machine.
 *
 * @throws NotYet where the session has not come to what the sheet tells.
 */
export function sheetOf(record: SessionRecord, { sheet, language, largePrint }: Asked): Sheet {
  const { settings } = record;
  return SHEETS_BY_NAME[sheet](record, {
    language: language ?? settings.language,
    largePrint: largePrint ?? false,
    zone: settings.zone ?? new Intl.DateTimeFormat().resolvedOptions().timeZone,
  });
}

const SHEETS_BY_NAME: Record<SheetName, (record: SessionRecord, reader: Reader) => Sheet> = {
  'syringe label': syringeLabel,
  'plan sheet': planSheet,
  'after-care sheet': afterCareSheet,
  bracelet,
};

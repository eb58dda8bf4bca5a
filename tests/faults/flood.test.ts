import { expect, test } from 'vitest';
import { brokenAt, entriesIn } from '../station/independent-reading.ts';
import { newFolder, newRequestId, startFaultable } from '../station/station-under-test.ts';
import { entered, NURSE, open, requestOf, treat, upTo } from '../station/treatment.ts';

const MESSAGES = 5000;
/** Of which every so many is a note to be entered; the others ask, or say what nobody understands. */
const EACH_NOTE = 10;
const BEFORE_DUE_MS = 150;

test('five thousand messages while an instant comes due: it is entered in its turn, and every note once', async () => {
  const station = await startFaultable(newFolder());
  const { sessionId } = await open(station);
  await treat(station, sessionId, upTo('start-pump'));
  const { infusionDueAtMs = null } = station.view(sessionId).course ?? {};
  const { nowMs } = await station.look();
  const dueAtMs = infusionDueAtMs ?? 0;
  await station.move({ awakeMs: dueAtMs - nowMs - BEFORE_DUE_MS });

  const note = { ...requestOf(station, sessionId, { by: NURSE, command: { kind: 'note', words: 'calm' } }), seq: 1e9 };
  const malformed: unknown[] = [
    { ...note, command: { kind: 'note', words: 'no' } },
    { ...note, requestId: '' },
    { ...note, command: null },
    { ...note, more: 'x'.repeat(2000) },
    'hello',
    null,
  ];
  const others: unknown[] = [
    ...malformed,
    { type: 'hello', protocol: 1, screen: 'board' },
    ...malformed,
    { type: 'entries', requestId: newRequestId(), sessionId, after: 0, limit: 500 },
    ...malformed,
    { type: 'find', requestId: newRequestId(), filter: {}, cursor: null, limit: 200 },
    ...malformed,
    { type: 'front', sessionId },
  ];
  const sent: string[] = [];
  for (let count = 0; count < MESSAGES; count += 1) {
    if (count % EACH_NOTE !== 0) station.tell(others[count % others.length]);
    else {
      sent.push(newRequestId());
      station.tell({ ...note, requestId: sent.at(-1) });
    }
  }
  const last = requestOf(station, sessionId, { by: NURSE, command: { kind: 'note', words: 'the last one' } });
  entered(await station.ask({ ...last, seq: 1e9 }));

  const entries = entriesIn(station.database);
  const at = entries.findIndex(({ kind }) => kind === 'infusion-due');
  const before = entries.slice(0, at).filter(({ kind }) => kind === 'note');
  const after = entries.slice(at + 1).filter(({ kind }) => kind === 'note');
  expect(entries[at]?.payload).toStrictEqual({ dueAtMs });
  expect(before.filter(({ continuousMs }) => continuousMs >= dueAtMs)).toStrictEqual([]);
  expect(after.filter(({ continuousMs }) => continuousMs < dueAtMs)).toStrictEqual([]);
  expect(after.length).toBeGreaterThan(0);
  expect(
    entries.flatMap(({ commandId }) => (commandId !== null && sent.includes(commandId) ? [commandId] : [])),
  ).toStrictEqual(sent);
  expect(brokenAt(entries)).toStrictEqual([]);
});

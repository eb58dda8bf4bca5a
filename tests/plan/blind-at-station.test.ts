import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { newFolder, newRequestId, type StationUnderTest, startStation } from '../station/station-under-test.ts';
import { NURSE, OTHER_NURSE, open, refused, requestOf, treat, upTo } from '../station/treatment.ts';

/** Figures that stand nowhere else, so that whatever shows them shows what was entered first. */
const order: Command = {
  kind: 'order',
  regimenId: 'half-fluence',
  lesions: [{ eye: 'left', gldUm: 2731 }],
  orderedBy: 'an unmistakable physician',
  offLabelReason: 'an unmistakable reason',
};
const measure: Command = {
  kind: 'measure',
  heightCm: 171.3,
  weightKg: 83.7,
  typed: { height: '171,3 cm', weight: '83,7 kg' },
};
const second: Command = {
  kind: 'second-check',
  heightCm: 171.3,
  weightKg: 84.7,
  regimenId: 'half-fluence',
  lesions: [{ eye: 'left', gldUm: 2731 }],
};
/** 171.3 cm and 83.7 kg come to 1.9957 m2, 11.974 mg, 5.987 mL; 6.0 mL drawn up; a lesion of 2731 um to 3731 um. */
const FIRST = /171[.,]3|83[.,]7|2731|3731|1\.9957|11\.974|5\.987|unmistakable/;

const first = upTo('measure').map((step) =>
  step.command.kind === 'order'
    ? { ...step, command: order }
    : step.command.kind === 'measure'
      ? { ...step, command: measure }
      : step,
);

/** All that a screen can ask a station for. */
async function everythingShown(station: StationUnderTest, sessionId: string): Promise<string> {
  const requestId = newRequestId();
  const answers: Message[] = [
    await station.look(),
    await station.ask({ type: 'entries', requestId, sessionId, after: 0, limit: 500 }),
    await station.reply({ type: 'find', requestId, filter: {}, cursor: null, limit: 10 }),
    await station.reply({ type: 'reading', requestId, sessionId }),
  ];
  return JSON.stringify(answers);
}

test('no answer of a station has what was entered first, until a second computation stands beside it', async () => {
  const station = await startStation(newFolder(), '--practice', '--stepped');
  const { sessionId } = await open(station);
  await treat(station, sessionId, first);
  expect(await everythingShown(station, sessionId)).not.toMatch(FIRST);

  const own = refused(await station.ask(requestOf(station, sessionId, { by: NURSE, command: second })));
  expect(JSON.stringify(own)).not.toMatch(FIRST);
  const early: Command = { kind: 'prepare', reconstitutedAgoS: 60 };
  const prepare = refused(await station.ask(requestOf(station, sessionId, { by: OTHER_NURSE, command: early })));
  expect(JSON.stringify(prepare)).not.toMatch(FIRST);

  await treat(station, sessionId, [{ atS: 0, by: OTHER_NURSE, command: second }]);
  const shown = await everythingShown(station, sessionId);
  for (const figure of ['171.3', '83.7', '2731', '3731', 'unmistakable']) expect(shown).toContain(figure);

  await treat(station, sessionId, [{ atS: 0, by: NURSE, command: measure }]);
  expect(await everythingShown(station, sessionId), 'entered anew').not.toMatch(FIRST);
  await station.stop();
});

describe('a station that was started again', () => {
  test('withholds as before', async () => {
    const folder = newFolder();
    const before = await startStation(folder, '--practice', '--stepped');
    const { sessionId } = await open(before);
    await treat(before, sessionId, first);
    await before.kill();
    const station = await startStation(folder, '--practice', '--stepped');
    expect(await everythingShown(station, sessionId)).not.toMatch(FIRST);
    await station.stop();
  });
});

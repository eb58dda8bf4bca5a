import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { type AnyStep, anyStep } from './anything-said.ts';
import { brokenAt, entriesIn } from './independent-reading.ts';
import { newFolder, startStation } from './station-under-test.ts';
import { NURSE, open, requestOf, sentences, TREATMENT, treat } from './treatment.ts';

test('whatever is commanded at any point of a treatment is entered or refused, and a station started anew takes it up', async () => {
  const course = fc.record({
    done: fc.integer({ min: 0, max: TREATMENT.length - 1 }),
    next: fc.array(anyStep, { minLength: 40, maxLength: 60, size: 'max' }),
  });
  await fc.assert(fc.asyncProperty(course, holds), { numRuns: 3, endOnFailure: true });
});

async function holds({ done, next }: { done: number; next: AnyStep[] }) {
  const data = newFolder();
  const station = await startStation(data, '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of TREATMENT.slice(0, done)) {
    await station.advanceTo(step.atS * 1000);
    await treat(station, sessionId, [step]);
  }
  for (const { afterS, by, command } of next) {
    await station.advanceTo(station.latest().nowMs + afterS * 1000);
    const reply = await station.ask(requestOf(station, sessionId, { by, command }));
    expect(['entered', 'refused']).toContain(reply.type);
  }
  const { state } = station.view(sessionId);
  await station.kill();
  expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  const again = await startStation(data, '--practice', '--stepped');
  if (state !== 'discharged') expect(again.view(sessionId).state).toBe(state);
  await again.stop();
}

test('a regimen that is not on offer is refused by name, and the session is shown and taken up as before', async () => {
  const data = newFolder();
  const station = await startStation(data);
  const { sessionId } = await open(station);
  const lesions = [{ eye: 'right' as const, gldUm: 2600 }];
  const order: Command = { kind: 'order', regimenId: 'no-such-regimen', lesions, orderedBy: 'the physician' };
  const reply = await station.ask(requestOf(station, sessionId, { by: NURSE, command: order }));
  expect(sentences(reply)).toMatch(/No regimen is called "no-such-regimen"/);
  await station.kill();
  const again = await startStation(data);
  expect(again.view(sessionId)).toMatchObject({ state: 'planning', regimen: null });
});

import { describe, expect, test } from 'vitest';
import { LESSONS } from '../../core/practice/lessons.ts';
import { madeUpById } from '../../core/practice/made-up-troubles.ts';
import { nextStepOf } from '../../core/practice/next-step.ts';
import type { Session } from '../../core/procedure/session.ts';
import { STATES } from '../../core/procedure/states.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  after,
  beamOn,
  discharged,
  give,
  held,
  infusing,
  momentAt,
  ONE_EYE,
  opened,
  planned,
  readyFor,
  ring,
  T0_AT_MS,
  waiting,
} from '../session-steps.ts';

const nextAt = (session: Session, atMs: number) => nextStepOf(viewOf(ring(session, atMs).context, 7, momentAt(atMs)));

describe('the next thing to press', () => {
  test('is the first task that is not done, by its number', () => {
    expect(nextAt(opened(), T0_AT_MS - 590_000)).toMatchObject({ key: '1', words: 'patient, by two identifiers' });
    expect(nextAt(after('consent'), T0_AT_MS - 570_000)).toMatchObject({
      key: '3',
      words: 'regimen, eye and lesion, as ordered',
    });
  });

  test('is a task that is done but does not agree, and why', () => {
    const second = ONE_EYE.find(({ name }) => name === 'second-check');
    if (second?.command.kind !== 'second-check') throw new Error('a course has a second check');
    const differs = give(readyFor('second-check'), { ...second.command, weightKg: 75.1 }, second.atMs, second.by);
    expect(nextAt(differs, second.atMs + 1_000)).toMatchObject({
      key: '6',
      why: expect.stringContaining('differs'),
    });
  });

  test('is Enter once all is there', () => {
    expect(nextAt(planned(), T0_AT_MS - 300_000)).toMatchObject({
      key: 'Enter',
      words: 'drug reconstituted, infusate made',
    });
  });

  test('is nothing while there is only waiting, with what it waits for', () => {
    expect(nextAt(infusing(), T0_AT_MS + 60_000)).toEqual({
      key: null,
      words: 'the pump has not reached its end',
      why: null,
    });
    expect(nextAt(readyFor('beam-on:right'), T0_AT_MS + 880_000)).toMatchObject({
      key: null,
      words: 'the light window is not open',
    });
    expect(nextAt(beamOn(), T0_AT_MS + 910_000)).toMatchObject({ key: null, words: 'the light is being given' });
  });

  test('is the key that resumes while the pump stands still', () => {
    expect(nextAt(held(), T0_AT_MS + 130_000)).toMatchObject({ key: 'R', words: 'resume the infusion' });
  });

  test('is what was done about trouble, once nothing else keeps the patient', () => {
    const met = give(waiting(), { kind: 'trouble', card: 'chest-or-faint' }, T0_AT_MS + 700_000);
    expect(nextAt(met, T0_AT_MS + 701_000)).toMatchObject({ key: '1' });
    const over = ONE_EYE.filter(({ atMs, name }) => atMs > T0_AT_MS + 701_000 && name !== 'discharge');
    const ready = over.reduce((session, { command, atMs, by }) => give(session, command, atMs, by), met);
    expect(nextAt(ready, T0_AT_MS + 1_275_000)).toMatchObject({
      key: 'C',
      why: 'chest pain, fainting, breathlessness, rash or flushing',
    });
  });

  test('is the key for made-up trouble before everything else, where there is one to press', () => {
    const view = viewOf(infusing().context, 7, momentAt(T0_AT_MS + 60_000));
    expect(nextStepOf(view, madeUpById('swelling'))).toMatchObject({ key: 'T', words: 'trouble: what to do' });
    const shining = viewOf(beamOn().context, 7, momentAt(T0_AT_MS + 910_000));
    expect(nextStepOf(shining, madeUpById('moved-eye'))).toMatchObject({ key: 'B', words: 'beam off by hand' });
    const closed = viewOf(readyFor('beam-on:right').context, 7, momentAt(T0_AT_MS + 880_000));
    expect(nextStepOf(closed, madeUpById('early-operator'))).toMatchObject({
      key: null,
      words: 'the light window is not open',
    });
  });

  test('is none when the session is over', () => {
    expect(nextAt(discharged(), T0_AT_MS + 1_300_000)).toBeNull();
  });
});

test('every state has a lesson of one to three sentences, with where it comes from', () => {
  for (const state of STATES) {
    const { words, source } = LESSONS[state];
    expect(words.length).toBeGreaterThanOrEqual(1);
    expect(words.length).toBeLessThanOrEqual(3);
    for (const sentence of words) expect(sentence).toMatch(/^[A-Z].*\.$/);
    expect(source).not.toBe('');
  }
});

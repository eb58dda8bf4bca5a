import { describe, expect, test } from 'vitest';
import type { Extract } from '../../core/report/extract.ts';
import { entriesTable } from '../../core/report/tables/entries-table.ts';
import { atOf, instead, NURSE, SECOND_NURSE, type Step, stepsBefore } from '../session-steps.ts';
import { extractOfSteps } from './ledger-of.ts';

describe('while a session is planned', () => {
  const withheld = (steps: readonly Step[]): void => {
    expect(() => [...entriesTable(extractOfSteps(steps))]).toThrow(/is not exported yet: .* withheld/);
  };

  test('its entries are not exported once one person has entered what the other is to compute', () => {
    withheld(stepsBefore('second-check'));
    withheld(stepsBefore('screen'));
    withheld([
      ...stepsBefore('prepare'),
      {
        name: 'measure',
        atMs: atOf('prepare') - 1,
        by: NURSE,
        command: { kind: 'measure', heightCm: 170, weightKg: 80 },
      },
    ]);
  });

  test('its entries are exported before that, and once the other has computed it, alike or not', () => {
    const differing = {
      kind: 'second-check',
      heightCm: 150,
      weightKg: 50,
      regimenId: 'label',
      lesions: [{ eye: 'right', gldUm: 900 }],
    } as const;
    for (const steps of [
      stepsBefore('order'),
      stepsBefore('prepare'),
      [
        ...stepsBefore('second-check'),
        {
          name: 'second-check',
          atMs: atOf('second-check'),
          by: SECOND_NURSE,
          command: { ...differing, lesions: [...differing.lesions] },
        },
      ],
    ]) {
      expect([...entriesTable(extractOfSteps(steps))].length).toBeGreaterThan(2);
    }
  });

  test('its entries are exported once it was stopped', () => {
    const stop: Step = {
      name: 'stop-early',
      atMs: atOf('second-check'),
      by: NURSE,
      command: { kind: 'stop-early', reason: 'the patient asks to stop' },
    };
    expect([...entriesTable(extractOfSteps([...stepsBefore('second-check'), stop]))].at(-1)).toContain('stop-early');
  });

  test('a damaged entry does not open what is withheld', () => {
    const steps = instead('measure', { kind: 'measure', heightCm: 168, weightKg: 71.5 }, stepsBefore('second-check'));
    const whole = extractOfSteps(steps);
    const torn: Extract = {
      ...whole,
      unreadable: [{ seq: whole.entries.at(-1)?.seq ?? 0, says: 'not JSON' }],
      entries: whole.entries.slice(0, -1),
    };
    expect(() => [...entriesTable(torn)]).toThrow(/withheld/);
  });

  test('a damaged beginning does not open what is withheld', () => {
    const whole = extractOfSteps(stepsBefore('second-check'));
    const [first, ...rest] = whole.entries;
    const torn: Extract = { ...whole, unreadable: [{ seq: first?.seq ?? 0, says: 'not JSON' }], entries: rest };
    expect(() => [...entriesTable(torn)]).toThrow(/withheld/);
  });
});

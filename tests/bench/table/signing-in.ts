import { rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Roster } from '../../../core/people/roster.ts';
import { People } from '../../../electron/station/people/people.ts';
import { peopleFile } from '../../../electron/station/people/people-file.ts';
import { newFolder } from '../../screens/browser-carrier.ts';
import { medianOf, type Row, rowOf } from './row.ts';

const TIMES = 40;
/** Longer than any wait for wrong ones. */
const LATER_MS = 600_000;

/** How long a sign-in is looked at: the right PIN, a wrong one, and initials nobody has, turn by turn. Told apart, they would tell. */
export async function signingIn(): Promise<Row[]> {
  const folder = newFolder();
  let roster: Roster | null = null;
  const time = { nowMs: 0 };
  const people = new People({
    file: peopleFile(join(folder, 'people.json')),
    ledger: {
      roster: () => roster,
      enter: (kind, payload) => {
        if (kind === 'roster') roster = payload.people as Roster;
      },
    },
    wallMs: () => time.nowMs,
  });
  await people.begin({ name: 'who administers', initials: 'AD', role: 'nurse' }, '284159');
  const timed = async (initials: string, pin: string): Promise<number> => {
    time.nowMs += LATER_MS;
    const startedMs = performance.now();
    await people.signIn(initials, pin).catch(() => {});
    return performance.now() - startedMs;
  };
  const all: Record<'right' | 'wrong' | 'nobody', number[]> = { right: [], wrong: [], nobody: [] };
  for (let count = 0; count < TIMES; count += 1) {
    all.wrong.push(await timed('AD', '907163'));
    all.nobody.push(await timed('ZZ', '907163'));
    all.right.push(await timed('AD', '284159'));
  }
  rmSync(folder, { recursive: true, force: true });
  return [
    rowOf('a wrong PIN is answered', 'ms', all.wrong, {
      beside: { what: 'initials nobody has', median: medianOf(all.nobody) },
    }),
    rowOf('a right PIN is answered', 'ms', all.right),
  ];
}

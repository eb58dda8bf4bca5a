import { execFileSync, spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { newFolder } from '../../screens/browser-carrier.ts';
import type { Lacking, Row } from './row.ts';

const FINDING = resolve(import.meta.dirname, '../finding.mjs');
const GENERATED = resolve(import.meta.dirname, '../../generated/main.ts');
const FILTER = 'person, eye, deviation, half a year';

interface Measured {
  readonly medianMs: number;
  readonly p95Ms: number;
  readonly cpuMs: number;
  readonly shell?: { readonly cpuMs: number };
}

interface Findings {
  readonly finding: Readonly<Record<string, Measured>>;
  readonly opening: { readonly entries: Measured; readonly reading: Measured };
  readonly clinic: { readonly all: Measured };
  readonly verifying: { readonly cpuSeconds: number; readonly bareSha256: { readonly cpuSeconds: number } };
}

/** Searching and verifying a generated ledger, and one ten times as large. Processor time, since machines are shared. */
export function atScale(sessions: number): (Row | Lacking)[] {
  if (spawnSync('sqlite3', ['--version']).status !== 0)
    return [{ what: 'search and verify at scale', why: 'no sqlite3 shell here to stand beside' }];
  const [usual, tenfold] = [measured(sessions), measured(sessions * 10)];
  const of = `${sessions * 10} sessions`;
  const row = (what: string, pick: (all: Findings) => Measured): Row => {
    const [one, ten] = [pick(usual), pick(tenfold)];
    return {
      what: `${what}, ${sessions} sessions`,
      unit: 'ms cpu',
      times: 25,
      median: one.cpuMs,
      p95: one.p95Ms,
      ...(one.shell === undefined ? {} : { beside: { what: 'sqlite3 shell', median: one.shell.cpuMs } }),
      tenfold: { of, ratio: ten.cpuMs / one.cpuMs },
    };
  };
  const verifyMs = (all: Findings): number => all.verifying.cpuSeconds * 1000;
  return [
    row('first page', ({ finding }) => measureNamed(finding, 'the first page of all')),
    row('filtered search', ({ finding }) => measureNamed(finding, FILTER)),
    row('open a session', ({ opening }) => opening.entries),
    row('clinic figures', ({ clinic }) => clinic.all),
    {
      what: `verify the whole ledger, ${sessions} sessions`,
      unit: 'ms cpu',
      times: 1,
      median: verifyMs(usual),
      p95: verifyMs(usual),
      beside: { what: 'bare SHA-256', median: usual.verifying.bareSha256.cpuSeconds * 1000 },
      tenfold: { of, ratio: verifyMs(tenfold) / verifyMs(usual) },
    },
  ];
}

function measured(sessions: number): Findings {
  const folder = newFolder();
  const file = join(folder, 'ledger.sqlite3');
  const run = (...words: string[]): string =>
    execFileSync(process.execPath, words, {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      maxBuffer: 2 ** 28,
    });
  run(GENERATED, String(sessions), file);
  const findings = JSON.parse(run(FINDING, file)) as Findings;
  rmSync(folder, { recursive: true, force: true });
  return findings;
}

function measureNamed(finding: Findings['finding'], name: string): Measured {
  const one = finding[name];
  if (one === undefined) throw new Error(`"${name}" was not measured`);
  return one;
}

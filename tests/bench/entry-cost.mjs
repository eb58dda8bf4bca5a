import { closeSync, fsyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { emergencyFile } from '../../electron/station/emergency-file.ts';
import { ledgerStore } from '../../electron/station/ledger.ts';
import { openDatabase } from '../../electron/station/open-database.ts';
import { steadfastLedger } from '../../electron/station/steadfast-ledger.ts';

// What one entry costs, beside a bare write and fsync of as many bytes on the same disk in the same run, turn by turn:
// `node_modules/.bin/node tests/bench/entry-cost.mjs [ENTRIES] [FOLDER]`. Prints milliseconds; judges nothing.
const entries = Number(process.argv[2] ?? 500);
const folder = mkdtempSync(join(resolve(process.argv[3] ?? tmpdir()), 'dimroom-bench-'));

const ledger = steadfastLedger(
  ledgerStore(openDatabase(join(folder, 'ledger.sqlite3'))),
  emergencyFile(join(folder, 'emergency.jsonl')),
);
const bare = openSync(join(folder, 'bare'), 'a');
const by = { initials: 'MO', role: 'nurse' };

const draft = (count) => ({
  sessionId: null,
  kind: 'note',
  payload: { words: 'patient is calm, nothing is felt at the vein' },
  at: { continuousMs: performance.now(), boot: 'bench', wallMs: Date.now(), offsetMin: 60 },
  by,
  commandId: `command-${count}`,
});

function timed(work) {
  const startedMs = performance.now();
  work();
  return performance.now() - startedMs;
}

const appendMs = [];
const bareMs = [];
for (let count = 0; count < entries; count += 1) {
  const line = Buffer.from(JSON.stringify(draft(count)));
  appendMs.push(timed(() => ledger.append(draft(count))));
  bareMs.push(
    timed(() => {
      writeSync(bare, line);
      fsyncSync(bare);
    }),
  );
}
closeSync(bare);
ledger.close();
rmSync(folder, { recursive: true });

const share = (all, part) => [...all].sort((one, other) => one - other)[Math.floor((all.length - 1) * part)];
const told = (all) => ({ medianMs: share(all, 0.5), p99Ms: share(all, 0.99), mostMs: share(all, 1) });
const ratio = share(appendMs, 0.5) / share(bareMs, 0.5);
console.log(
  JSON.stringify({ entries, append: told(appendMs), bareWriteAndSync: told(bareMs), ratioOfMedians: ratio }, null, 2),
);

import { readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { app, crashReporter } from 'electron';

/** As many as a clinic's technician may want to look at. Each is some megabytes. */
const MOST_KEPT = 20;

/**
 * Keeps what the system writes down of a process that crashed, in a folder of this machine, and sends it nowhere. A
 * report holds pieces of the process's memory, and with them perhaps a patient code: it is kept as the ledger is.
 */
export function keepCrashReports(folder: string): void {
  forgetOldest(folder);
  app.setPath('crashDumps', folder);
  crashReporter.start({ uploadToServer: false });
}

function forgetOldest(folder: string): void {
  try {
    const newestFirst = reportsIn(folder).sort((a, b) => b.writtenAtMs - a.writtenAtMs);
    for (const { path } of newestFirst.slice(MOST_KEPT)) rmSync(path, { force: true });
  } catch (error) {
    console.error(`old crash reports in ${folder} could not be cleared: ${String(error)}`);
  }
}

/** Where in the folder they are put differs from system to system. */
function reportsIn(folder: string): { path: string; writtenAtMs: number }[] {
  if (!statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return [];
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return reportsIn(path);
    return entry.name.endsWith('.dmp') ? [{ path, writtenAtMs: statSync(path).mtimeMs }] : [];
  });
}

import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** A program to start, with its words. */
export interface Started {
  readonly program: string;
  readonly words: readonly string[];
}

/**
 * Makes or removes the file that has a Linux desktop start a program at login.
 *
 * @throws Error of the file system where the folder cannot be written to; the file is then as it was.
 * Source: freedesktop.org, Desktop Application Autostart Specification.
 */
export function setAutostart(path: string, started: Started | null): void {
  const text = started === null ? null : autostartEntry(started);
  if (contentOf(path) === text) return;
  if (text === null) {
    rmSync(path);
    return;
  }
  mkdirSync(dirname(path), { recursive: true });
  const aside = `${path}.new`;
  writeFileSync(aside, text);
  renameSync(aside, path);
}

/** The file's text. `TryExec` has the desktop pass it over once the program is gone. */
export const autostartEntry = ({ program, words }: Started): string =>
  [
    '[Desktop Entry]',
    'Type=Application',
    'Name=Dimroom',
    'Comment=Procedure clock',
    `TryExec=${escaped(program)}`,
    `Exec=${[program, ...words].map(quoted).map(escaped).join(' ')}`,
    'Terminal=false',
    '',
  ].join('\n');

/** One argument of `Exec`, always in quotes. Source: freedesktop.org, Desktop Entry Specification, "The Exec key". */
const quoted = (word: string): string => `"${word.replace(/["`$\\]/g, '\\$&').replaceAll('%', '%%')}"`;

/** Any string value. Source: the same, "Possible value types". */
const escaped = (value: string): string =>
  value.replaceAll('\\', '\\\\').replaceAll('\n', '\\n').replaceAll('\t', '\\t').replaceAll('\r', '\\r');

function contentOf(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}

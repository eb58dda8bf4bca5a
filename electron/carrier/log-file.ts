import { join } from 'node:path';
import { inspect } from 'node:util';
import log from 'electron-log/node';

/** The log of one carrier; the one before it lies beside it as `dimroom.old.log`, and nothing older is kept. */
const FILE = 'dimroom.log';
const MOST_BYTES = 1024 * 1024;
/** An error may quote a whole file. */
const MOST_LETTERS = 2000;

/**
 * From here on, what this process writes to its console is kept in a folder of this machine as well. Only technical
 * lines are written there, of this process and of its station: no message, no entry and no patient's code.
 */
export function keepLog(folder: string): void {
  const { file, console: terminal } = log.transports;
  file.resolvePathFn = () => join(folder, FILE);
  file.maxSize = MOST_BYTES;
  file.format = '{iso} {level} {text}';
  file.writeOptions = { flag: 'a', mode: 0o600, encoding: 'utf8' };
  terminal.format = '{text}';
  log.hooks.push((message) => ({ ...message, data: [message.data.map(inWords).join(' ')] }));
  Object.assign(console, log.functions);
  // A terminal that was closed takes no more lines. The file still does.
  for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {});
}

function inWords(written: unknown): string {
  const words = typeof written === 'string' ? written : inspect(written, { depth: 3 });
  return words.length > MOST_LETTERS ? `${words.slice(0, MOST_LETTERS)} …` : words;
}

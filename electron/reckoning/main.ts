import { text } from 'node:stream/consumers';
import { BadRequest, reckon } from '../../core/dosing/reckon.ts';

/** Exit code for a request that cannot be computed. */
const BAD_REQUEST = 2;

const input = await text(process.stdin);
try {
  print(reckon(parsed(input)));
} catch (error) {
  if (!(error instanceof BadRequest)) throw error;
  const { field, value, allowed, message } = error;
  print({ error: { field, value: value ?? null, allowed, says: message } });
  process.exitCode = BAD_REQUEST;
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    throw new BadRequest('request', json.slice(0, 200), 'one JSON object on standard input');
  }
}

function print(value: object): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

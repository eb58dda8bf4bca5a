import { hash as digest } from 'node:crypto';
import { CHAIN_START } from '../../core/ledger/entry.ts';
import type { Connection } from '../../electron/station/open-database.ts';
import type { Stamped } from './stamping.ts';

/** An entry as it goes into the file: where it stands, and when people saw it. */
export interface Placed extends Stamped {
  readonly wallMs: number;
  readonly offsetMin: number;
}

/**
 * Writes entries in their order, each chained to the one before it, into a ledger's own tables with its triggers in
 * place. The text that is hashed is put together by hand, for speed: its names are in the order of RFC 8785 already.
 */
export class ChainWriter {
  seq = 0;
  hash = CHAIN_START;
  /** Bytes that were hashed, in all. */
  hashedBytes = 0;
  private readonly insert;
  private readonly insertSession;

  constructor(db: Connection) {
    this.insert = db.prepare('INSERT INTO entries VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)');
    this.insertSession = db.prepare('INSERT INTO sessions VALUES (?, ?, ?)');
  }

  /** Returns the sequence it was given. */
  write(entry: Placed): number {
    this.seq += 1;
    const { seq, hash: prevHash } = this;
    const text = hashedText(entry, seq, prevHash);
    const hash = digest('sha256', text, 'hex');
    const { sessionId, kind, payload, wallMs, offsetMin, continuousMs, boot, author, role, commandId } = entry;
    if (kind === 'open-session') {
      this.insertSession.run(sessionId, seq, payload.includes('"practice":true') ? 1 : 0);
    }
    this.insert.run(
      ...[seq, sessionId, kind, payload, wallMs, offsetMin, continuousMs, boot, author, role],
      ...[commandId, prevHash, hash],
    );
    this.hash = hash;
    this.hashedBytes += text.length;
    return seq;
  }
}

function hashedText(entry: Placed, seq: number, prevHash: string): string {
  const { sessionId, kind, payload, wallMs, offsetMin, continuousMs, boot, author, role, commandId } = entry;
  const word = (text: string | null): string => (text === null ? 'null' : `"${text}"`);
  return (
    `dimroom ledger entry 1\n{"author":{"initials":"${author}","role":"${role}"},"boot":"${boot}",` +
    `"commandId":${word(commandId)},"continuousMs":${continuousMs},"kind":"${kind}","offsetMin":${offsetMin},` +
    `"payload":${payload},"prevHash":"${prevHash}","seq":${seq},"sessionId":${word(sessionId)},"wallMs":${wallMs}}`
  );
}

import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { extractText, getDocumentProxy } from 'unpdf';
import { describe, expect, test } from 'vitest';
import type { Message } from '../../core/protocol/messages.ts';
import { canScan, scanned } from '../printed/scanned.ts';
import { newFolder, newRequestId, type StationUnderTest, startFaultable } from '../station/station-under-test.ts';
import { open, treat, upTo } from '../station/treatment.ts';
import { behindItsBack } from './finished-ledger.ts';
import { ledgerCommand } from './ledger-command.ts';

const slipOf = async (station: StationUnderTest): Promise<Message> =>
  station.askAndWait({ type: 'print-anchor', requestId: newRequestId() });

function bytesOf(printed: Message): Uint8Array {
  if (printed.type !== 'printed') throw new Error(`no slip: ${JSON.stringify(printed)}`);
  return new Uint8Array(Buffer.from(printed.pdfBase64, 'base64'));
}

describe('the anchor that is printed from the screen', () => {
  async function treated() {
    const station = await startFaultable(newFolder());
    const { sessionId } = await open(station);
    await treat(station, sessionId, upTo('prepare'));
    await station.look();
    return { station, sessionId };
  }

  test('says which file, which entry and which hash, as the screens do', async () => {
    const { station } = await treated();
    const { written } = station.latest();
    const pdf = bytesOf(await slipOf(station));
    const { text, totalPages } = await extractText(await getDocumentProxy(pdf));
    expect(totalPages).toBe(1);
    const words = text.join(' ').replace(/\s+/g, '');
    for (const part of [String(written?.seq), written?.hash ?? '?', written?.anchor?.split(':')[1] ?? '?']) {
      expect(words).toContain(part);
    }
    const { json } = await ledgerCommand('anchor', station.database);
    expect(json.anchor).toBe(written?.anchor);
  });

  test.skipIf(!canScan)('can be scanned, and finds a tail that was cut since', async () => {
    const { station, sessionId } = await treated();
    const kept = scanned(bytesOf(await slipOf(station)));
    expect(kept).toBe(station.latest().written?.anchor);
    await treat(station, sessionId, [
      { atS: 0, by: { initials: 'NU', role: 'nurse' }, command: { kind: 'note', words: 'one more' } },
    ]);
    await station.stop();
    expect(await ledgerCommand('verify', station.database, '--anchor', kept)).toMatchObject({ code: 0 });
    const cut = join(newFolder(), 'cut.sqlite3');
    cpSync(station.database, cut);
    behindItsBack(cut, (db) => db.exec('DELETE FROM entries WHERE seq > 5'));
    expect(await ledgerCommand('verify', cut, '--anchor', kept)).toMatchObject({ code: 1 });
  });

  test('is not given while entries wait for the disk: an anchor says what is safe', async () => {
    const { station } = await treated();
    await station.setDisk('read-only');
    await open(station);
    expect(await slipOf(station)).toMatchObject({ type: 'error', says: /waiting for the disk/ });
  });
});

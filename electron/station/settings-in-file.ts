import { entryOf, type Row } from './ledger.ts';
import { openToRead } from './read-file.ts';
import { type SettingsInForce, settingsInForce } from './settings-in-force.ts';

/** The settings in force in a ledger's file, read by a connection that cannot write. @throws Unreadable */
export function settingsInFile(file: string): SettingsInForce {
  const db = openToRead(file);
  try {
    const row = db
      .prepare<[], Row>("SELECT * FROM entries WHERE session IS NULL AND kind = 'settings' ORDER BY seq DESC LIMIT 1")
      .get();
    return settingsInForce(row === undefined ? null : entryOf(row));
  } catch {
    // An entry that can no longer be read decides nothing.
    return settingsInForce(null);
  } finally {
    db.close();
  }
}

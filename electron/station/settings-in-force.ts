import { z } from 'zod';
import type { Entry } from '../../core/ledger/entry.ts';
import type { LastChange, ReadSettings, SettingsChangeAsked, SettingsHistory } from '../../core/protocol/settings.ts';
import { type SettingName, settingChanges, settingsWith } from '../../core/settings/names.ts';
import { DEFAULT_SETTINGS, type Settings, settingsSchema } from '../../core/settings/settings.ts';
import type { HouseRules } from './house.ts';
import { readSettingsFile } from './settings-file.ts';

/** The settings in force are the last that the ledger has: files and screens only propose others. */
export interface SettingsInForce {
  readonly settings: Settings;
  /** The entry that says so; 0 in a ledger that has none. */
  readonly seq: number;
  /** SHA-256 of the settings file that was taken last; null where none was. */
  readonly fileSha256: string | null;
}

/** An entry that was changed behind the ledger's back decides nothing. */
export function settingsInForce(last: Entry | null): SettingsInForce {
  if (last === null) return { settings: DEFAULT_SETTINGS, seq: 0, fileSha256: null };
  const read = payloadSchema.safeParse(last.payload);
  return read.success
    ? { settings: read.data.settings, seq: last.seq, fileSha256: read.data.fileSha256 ?? null }
    : { settings: DEFAULT_SETTINGS, seq: last.seq, fileSha256: null };
}

/** What is to be entered of the site's files at a start; null where nothing is. */
export function settingsAtStart(
  before: SettingsInForce,
  { settings, fileSha256 }: HouseRules,
): Entry['payload'] | null {
  const file = fileSha256 === undefined ? {} : { fileSha256 };
  if (before.seq === 0) return { settings, from: 'the start', ...file };
  if (fileSha256 === undefined) return null;
  return { settings, from: 'the settings file', changes: settingChanges(before.settings, settings), ...file };
}

export type Proposed =
  | { readonly ok: true; readonly settings: Settings; readonly payload: Entry['payload'] }
  | { readonly ok: false; readonly says: string };

/** What a person asks for as an entry's payload; nothing is written here. `last` is the entry of the settings in force. */
export function settingsProposed({ to, seenSeq, reason }: SettingsChangeAsked, last: Entry | null): Proposed {
  const before = settingsInForce(last);
  if (seenSeq !== before.seq) {
    return refused(`the settings were changed by ${last?.author.initials ?? 'somebody'} meanwhile: look, then change`);
  }
  const read = to.kind === 'file' ? proposedBy(to) : settingsOf(settingsWith(before.settings, to.values));
  if (!read.ok) return read;
  const changes = settingChanges(before.settings, read.settings);
  if (changes.length === 0) return refused('that is what is in force already: nothing to change');
  const payload = {
    settings: read.settings,
    from: to.kind === 'file' ? 'a file, on the settings screen' : 'the settings screen',
    changes,
    ...read.file,
    ...(reason !== undefined && { reason }),
    // Carried on, so that the last entry alone says which file was taken last.
    ...(before.fileSha256 !== null && { fileSha256: before.fileSha256 }),
  };
  return { ok: true, settings: read.settings, payload };
}

/** What a file would change; nothing is changed here. */
export function settingsRead(
  { fileName, base64 }: { fileName: string; base64: string },
  before: Settings,
): ReadSettings {
  const read = readSettingsFile(Buffer.from(base64, 'base64'));
  const { sha256 } = read;
  if (!read.ok) return { sha256, faults: read.faults.map((fault) => `${fileName}${fault}`), changes: [] };
  return { sha256, faults: [], changes: settingChanges(before, read.value) };
}

/** Who changed which setting last: from all entries of settings, oldest first. */
export function settingsHistory(entries: readonly Entry[]): SettingsHistory {
  const changed: Partial<Record<SettingName, LastChange>> = {};
  let before = DEFAULT_SETTINGS;
  for (const entry of entries) {
    const { settings } = settingsInForce(entry);
    for (const { name } of settingChanges(before, settings)) changed[name] = lastChange(entry);
    before = settings;
  }
  return { changed };
}

const payloadSchema = z.looseObject({
  settings: settingsSchema.prefault({}),
  fileSha256: z.string().optional(),
});

type ReadProposal =
  | { readonly ok: true; readonly settings: Settings; readonly file?: { file: { name: string; sha256: string } } }
  | { readonly ok: false; readonly says: string };

function proposedBy({ fileName, base64 }: { fileName: string; base64: string }): ReadProposal {
  const read = readSettingsFile(Buffer.from(base64, 'base64'));
  if (!read.ok) return refused(`${fileName}${read.faults.join('; ')}. The file is not used`);
  return { ok: true, settings: read.value, file: { file: { name: fileName, sha256: read.sha256 } } };
}

function settingsOf(proposed: unknown): ReadProposal {
  const read = settingsSchema.safeParse(proposed);
  if (read.success) return { ok: true, settings: read.data };
  return refused(read.error.issues.map(({ path, message }) => `${path.join('.')}: ${message}`).join('; '));
}

const refused = (says: string) => ({ ok: false, says }) as const;

const saidSchema = z.looseObject({ from: z.string().catch('the station'), reason: z.string().nullable().catch(null) });

function lastChange({ author, wallMs, offsetMin, payload }: Entry): LastChange {
  const { from, reason } = saidSchema.parse({ from: payload.from, reason: payload.reason ?? null });
  return { by: author, wallMs, offsetMin, from, reason };
}

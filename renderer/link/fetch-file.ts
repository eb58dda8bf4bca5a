import type { Exported, Wanted, WholeFile } from '../../core/protocol/exporting.ts';
import { askExport, askExportPart, letGoOfExport } from './requests.ts';
import { bytesOf, saveParts } from './save-file.ts';

/** What became of a file. */
export type Fetched =
  | { readonly came: 'whole'; readonly file: WholeFile }
  | { readonly came: 'refused'; readonly says: string }
  | { readonly came: 'cancelled' };

/**
 * Has the station make a file, fetches it part by part and, once every byte of it is there, hands it over. Before that
 * nothing is saved: cancelled, refused or broken off, no half a file is left anywhere.
 */
export async function fetchFile(
  wanted: Wanted,
  onShare: (share: number | null) => void,
  signal: AbortSignal,
): Promise<Fetched> {
  const exportId = crypto.randomUUID();
  const parts: Uint8Array<ArrayBuffer>[] = [];
  try {
    for (;;) {
      const answer = await (parts.length === 0 ? askExport(exportId, wanted) : askExportPart(exportId, parts.length));
      if (signal.aborted) return { came: 'cancelled' };
      if (answer.type === 'error') return { came: 'refused', says: answer.says };
      onShare(answer.share);
      if (isMade(answer)) parts.push(bytesOf(answer.base64));
      if (answer.whole !== null) return await kept(answer.whole, parts);
    }
  } finally {
    letGoOfExport(exportId);
  }
}

/** A part that is still being made is asked for again. */
const isMade = ({ base64, whole }: Exported): boolean => base64 !== '' || whole !== null;

/** Saved only if it is, to the last byte, what the station made. */
async function kept(file: WholeFile, parts: readonly Uint8Array<ArrayBuffer>[]): Promise<Fetched> {
  const bytes = new Uint8Array(await new Blob([...parts]).arrayBuffer());
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  const sha256 = [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  if (bytes.length !== file.bytes || sha256 !== file.sha256) {
    return { came: 'refused', says: 'not saved: it arrived changed on the way; export it again' };
  }
  saveParts(file.fileName, file.mediaType, [bytes]);
  return { came: 'whole', file };
}

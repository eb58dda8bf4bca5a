import { useEffect, useRef, useState } from 'react';
import { fetchFile } from '../../link/fetch-file.ts';
import type { ExportChoice } from './export-choices.ts';

/** What is being exported, or what came of it. */
export type Exporting =
  | { readonly stage: 'none' }
  | { readonly stage: 'making'; readonly words: string; readonly share: number | null }
  | {
      readonly stage: 'made';
      readonly fileName: string;
      readonly bytes: number;
      readonly sha256: string;
      readonly notes: readonly string[];
    }
  | { readonly stage: 'not made'; readonly says: string };

/** One file at a time. Whoever leaves ends what is being made. */
export function useExport() {
  const [exporting, setExporting] = useState<Exporting>({ stage: 'none' });
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);

  async function begin({ words, wanted }: ExportChoice): Promise<void> {
    if (running.current !== null) return;
    const ended = new AbortController();
    running.current = ended;
    setExporting({ stage: 'making', words, share: null });
    const onShare = (share: number | null): void => setExporting({ stage: 'making', words, share });
    const fetched = await fetchFile(wanted, onShare, ended.signal);
    running.current = null;
    if (fetched.came === 'whole') setExporting({ stage: 'made', ...fetched.file });
    else if (fetched.came === 'refused') setExporting({ stage: 'not made', says: fetched.says });
    else setExporting({ stage: 'not made', says: 'ended: no file was saved' });
  }

  return { exporting, begin, cancel: () => running.current?.abort() };
}

import { useCallback, useEffect, useState } from 'react';

interface Page<Row> {
  readonly rows: readonly Row[];
  readonly more: boolean;
}

/** Rows that are asked for page after page, each page after the last row that is known. */
export function usePages<Row>(ask: (last: Row | null) => Promise<Page<Row> | string>, again: unknown) {
  const [page, setPage] = useState<Page<Row> | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  const take = useCallback((answer: Page<Row> | string, before: readonly Row[]) => {
    if (typeof answer === 'string') return setTrouble(answer);
    setTrouble(null);
    setPage({ rows: [...before, ...answer.rows], more: answer.more });
  }, []);

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked anew when `again` changes, and only then
  useEffect(() => {
    let current = true;
    void ask(null).then((answer) => current && take(answer, []));
    return () => {
      current = false;
    };
  }, [again]);

  const rows = page?.rows ?? [];
  const more = page?.more ?? false;
  const next = () => void ask(rows.at(-1) ?? null).then((answer) => take(answer, rows));
  return { rows, more, next, trouble, asked: page !== null };
}

/** Where the keys lead in a list of so many rows; null where they do not. */
export function rowAfter(key: string, at: number, rows: number): number | null {
  const step = STEPS[key];
  if (step === undefined || rows === 0) return null;
  return Math.min(rows - 1, Math.max(0, at + step));
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowDown: 1,
  ArrowUp: -1,
  PageDown: 12,
  PageUp: -12,
  Home: Number.NEGATIVE_INFINITY,
  End: Number.POSITIVE_INFINITY,
};

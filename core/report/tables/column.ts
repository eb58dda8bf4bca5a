/** What stands in one cell: text, a number, or nothing. */
export type Cell = string | number | null;

/** One column of an exported table: its name in the header, what it holds, and how it is read off a line's subject. */
export interface Column<Subject> {
  readonly name: string;
  readonly says: string;
  readonly of: (subject: Subject) => Cell;
}

/** A table's lines, the header first: one at a time, so that the longest table needs no more room than one line. */
export function* linesOf<Subject>(
  columns: readonly Column<Subject>[],
  subjects: Iterable<Subject>,
): Generator<readonly Cell[]> {
  yield columns.map(({ name }) => name);
  for (const subject of subjects) yield columns.map(({ of }) => of(subject));
}

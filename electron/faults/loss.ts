/** Something that must not happen under any fault has happened: what was lost, doubled or moved. */
export class Loss extends Error {}

export function must(holds: boolean, orElse: () => string): void {
  if (!holds) throw new Loss(orElse());
}

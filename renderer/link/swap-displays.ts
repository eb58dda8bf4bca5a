import { swapAnswerSchema } from '../../core/protocol/bridge.ts';

const IN_A_BROWSER = 'in a browser the board is a page of its own: move its window to where the operator looks';

/** Has console and board change places. Null where they have; else why not. */
export async function swapDisplays(): Promise<string | null> {
  const asked = window.dimroom?.swapDisplays?.();
  if (asked === undefined) return IN_A_BROWSER;
  const answer = swapAnswerSchema.safeParse(await asked);
  return answer.success ? answer.data : 'console and board may not have changed places: look where they are';
}

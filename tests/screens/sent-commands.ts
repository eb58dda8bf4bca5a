import type { Page } from 'playwright';
import type { Command } from '../../core/procedure/commands.ts';
import { NURSE, type Step, stepsBefore } from '../session-steps.ts';

/**
 * Opens a session through a page's own link, and gives every command of a course before the one named, then `further`
 * ones. For tests of what comes after; the keyboard's way there has a test of its own. Returns the session's identity.
 */
export async function sessionBefore(page: Page, name: string, ...further: Command[]): Promise<string> {
  const steps = stepsBefore(name).map(({ by, command }) => ({ by, command }));
  const all = [...steps, ...further.map((command) => ({ by: NURSE, command }))];
  return page.evaluate(giveAll, { opener: NURSE, sessionId: null, steps: all });
}

/** Opens a session and gives every command of some steps, in order. */
export const sessionOf = (page: Page, steps: readonly Step[]): Promise<string> =>
  page.evaluate(giveAll, { opener: NURSE, sessionId: null, steps: steps.map(({ by, command }) => ({ by, command })) });

/** Gives commands in a session that is open. */
export async function giveIn(page: Page, sessionId: string, ...commands: readonly Command[]): Promise<void> {
  await page.evaluate(giveAll, {
    opener: NURSE,
    sessionId,
    steps: commands.map((command) => ({ by: NURSE, command })),
  });
}

/** Gives some steps in a session that is open, each by its own hands. */
export async function stepsIn(page: Page, sessionId: string, steps: readonly Step[]): Promise<void> {
  await page.evaluate(giveAll, { opener: NURSE, sessionId, steps: steps.map(({ by, command }) => ({ by, command })) });
}

interface Course {
  readonly opener: unknown;
  /** Null opens one. */
  readonly sessionId: string | null;
  readonly steps: readonly { readonly by: unknown; readonly command: unknown }[];
}

/** Runs in the page: on the desktop by the bridge, in a browser by a socket like the page's own. */
async function giveAll({ opener, sessionId: present, steps }: Course): Promise<string> {
  const { dimroom } = window;
  const socket = dimroom === undefined ? new WebSocket(`ws://${location.host}/link`) : null;
  if (socket !== null) await new Promise((opened) => socket.addEventListener('open', opened, { once: true }));
  const send = (message: object): void => (dimroom ? dimroom.send(message) : socket?.send(JSON.stringify(message)));

  type Answer = { requestId?: string; type: string; sessionId: string; seq: number };
  const ask = (message: object): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const requestId = crypto.randomUUID();
      const hear = (heard: unknown): void => {
        const answer = heard as Answer;
        if (answer.requestId !== requestId) return;
        if (answer.type === 'entered') resolve(answer);
        else reject(new Error(JSON.stringify({ answer, message })));
      };
      dimroom?.onMessage(hear);
      socket?.addEventListener('message', ({ data }) => hear(JSON.parse(data)));
      send({ ...message, requestId });
    });

  const command = { kind: 'open-session' };
  const found = present === null ? await ask({ type: 'open', by: opener, command }) : null;
  const sessionId = found?.sessionId ?? present ?? '';
  // In a session that was found open everything is seen: nobody else gives commands there.
  let seq = found?.seq ?? Number.MAX_SAFE_INTEGER;
  for (const { by, command } of steps) ({ seq } = await ask({ type: 'command', sessionId, seq, by, command }));
  socket?.close();
  return sessionId;
}

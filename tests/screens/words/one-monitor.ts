import type { Page } from 'playwright';
import type { Bridge } from '../../../core/protocol/bridge.ts';

/** Has a page believe that it is on a desktop with one monitor, where the console stands for the board too. */
export async function onOneMonitor(page: Page): Promise<void> {
  await page.addInitScript(pretendOneMonitor);
}

/** Runs in the page, before its own program: a bridge like the desktop's, over the page's own socket. */
function pretendOneMonitor(): void {
  const messages = new Set<(message: unknown) => void>();
  const links = new Set<(up: boolean) => void>();
  let up = false;
  const socket = new WebSocket(`ws://${location.host}/link`);
  const tell = (now: boolean): void => {
    up = now;
    for (const hear of links) hear(now);
  };
  socket.onopen = () => tell(true);
  socket.onclose = () => tell(false);
  socket.onmessage = ({ data }) => {
    for (const hear of messages) hear(JSON.parse(String(data)));
  };
  const bridge: Bridge = {
    carrier: 'desktop',
    send: (message) => {
      if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
    },
    onMessage: (hear) => {
      messages.add(hear);
      return () => messages.delete(hear);
    },
    onLink: (hear) => {
      links.add(hear);
      hear(up);
      return () => links.delete(hear);
    },
    onBoard: (hear) => {
      hear('no second monitor');
      return () => {};
    },
  };
  Object.assign(window, { dimroom: bridge });
}

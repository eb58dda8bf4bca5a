import { app, type BrowserWindow, dialog, powerMonitor } from 'electron';
import type { KnownSession } from '../carrier/last-snapshot.ts';
import type { StationKeeper } from '../carrier/station-keeper.ts';

type Answer = 'stay' | 'close';

/** While drug or light is under way, leaving asks first. However it is left, the ledger is told and closed. */
export function guardClosing(
  consoleWindow: BrowserWindow,
  keeper: StationKeeper,
  underWay: () => readonly KnownSession[],
): void {
  let leaving = false;
  let asking = false;

  async function askThenLeave(): Promise<void> {
    if (leaving || asking) return;
    const sessions = underWay();
    if (sessions.length === 0) return leave('closed');
    asking = true;
    const words = sessions.map(sessionWords).join('; ');
    keeper.report('closing-asked', `closing asked for while under way: ${words}`);
    const answer = await ask(consoleWindow, words);
    asking = false;
    if (answer === 'close') await leave(`closed while under way: ${words}`);
  }

  async function leave(words: string): Promise<void> {
    if (leaving) return;
    leaving = true;
    keeper.report('closed', words);
    await keeper.stop();
    app.exit(0);
  }

  const hold = (event: { preventDefault(): void }): void => {
    event.preventDefault();
    void askThenLeave();
  };
  consoleWindow.on('close', hold);
  app.on('before-quit', hold);
  // The machine goes down whatever is answered.
  powerMonitor.on('shutdown', () => void leave('closed: the machine is shutting down'));
  consoleWindow.on('session-end', () => void leave('closed: the machine is shutting down'));
}

const sessionWords = ({ patient, stateWords }: KnownSession): string =>
  `${patient?.patientCode ?? 'a session'}: ${stateWords}`;

async function ask(consoleWindow: BrowserWindow, words: string): Promise<Answer> {
  const prepared = app.isPackaged ? undefined : process.env.DIMROOM_CLOSING_ANSWER;
  if (prepared !== undefined) return prepared === 'close' ? 'close' : 'stay';
  const { response } = await dialog.showMessageBox(consoleWindow, {
    type: 'warning',
    title: 'Dimroom',
    message: `Under way: ${words}. Close all the same?`,
    detail:
      'The pump and the laser go on without Dimroom. Countdown and cues stop. ' +
      'Started again, Dimroom takes the session up with the same times.',
    buttons: ['stay', 'close'],
    defaultId: 0,
    cancelId: 0,
    noLink: true,
  });
  return response === 1 ? 'close' : 'stay';
}

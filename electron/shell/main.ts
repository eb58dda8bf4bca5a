import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { app, Menu, session } from 'electron';
import { defaultDataFolder } from '../carrier/data-folder.ts';
import { lastSnapshot } from '../carrier/last-snapshot.ts';
import { cannotWork } from '../carrier/refusals.ts';
import { keepStation } from '../carrier/station-keeper.ts';
import { stationWords } from '../carrier/station-words.ts';
import { readChoices } from './choices.ts';
import { guardClosing } from './closing.ts';
import { mendCrashes } from './crashes.ts';
import { openOnDisplays } from './displays.ts';
import { keepDownloads } from './downloads.ts';
import { homesFile } from './homes-file.ts';
import { linkScreens } from './links.ts';
import { displayLight } from './power.ts';
import { registerScheme, serveScreens } from './protocol.ts';
import { confineContents, confineSession } from './security.ts';
import { stationLaunch } from './station-launch.ts';
import { hearSwap } from './swap-asked.ts';

const choices = readChoices(process.argv);
const data = choices.data ?? defaultDataFolder();

// An error here must not stop the frames between station and screens, as Electron's own blocking dialog would.
process.on('uncaughtException', (error) => console.error(error));

registerScheme();
Menu.setApplicationMenu(null);
app.on('web-contents-created', (_event, contents) => confineContents(contents));
app.on('child-process-gone', (_event, { type, reason }) => console.error(`${type} process ended: ${reason}`));

if (holdsFolder(data)) void app.whenReady().then(open);
else app.exit(0);

/** One Dimroom a data folder: a second one brings the first to the front and ends. */
function holdsFolder(folder: string): boolean {
  const own = join(folder, 'windows');
  mkdirSync(own, { recursive: true });
  app.setPath('userData', own);
  return app.requestSingleInstanceLock();
}

function open(): void {
  confineSession(session.defaultSession);
  keepDownloads(session.defaultSession);
  serveScreens(join(__dirname, '../renderer'));

  const snapshot = lastSnapshot();
  const light = displayLight();
  const links = linkScreens({ keeper: () => keeper, snapshot: snapshot.asOfNow });
  const keeper = keepStation(stationLaunch(stationWords({ ...choices, data })), {
    onMessage: (screen, message) => {
      if (screen === '*') snapshot.keep(message);
      light.keepOn(snapshot.openSessions().length > 0);
      links.tell(screen, message);
    },
    onLink: links.tellLink,
    onFatal: (says) => links.tell('*', cannotWork(says)),
  });

  const crashed = (words: string): void => keeper.report('window-crashed', words);
  const displays = openOnDisplays(homesFile(join(app.getPath('userData'), 'displays.json'), console.error), {
    onBoardOpened: (board) => mendCrashes('board', board, crashed),
    onPlace: links.tellBoard,
    onReport: keeper.report,
  });
  const consoleWindow = displays.console;
  mendCrashes('console', consoleWindow, crashed);
  guardClosing(consoleWindow, keeper, snapshot.underWay);
  hearSwap(consoleWindow, displays.swap);
  app.on('second-instance', () => {
    if (consoleWindow.isMinimized()) consoleWindow.restore();
    consoleWindow.show();
    consoleWindow.focus();
  });
}

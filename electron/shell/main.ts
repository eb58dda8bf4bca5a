import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { app, Menu, session } from 'electron';
import { defaultDataFolder } from '../carrier/data-folder.ts';
import { lastSnapshot } from '../carrier/last-snapshot.ts';
import { keepLog } from '../carrier/log-file.ts';
import { cannotWork } from '../carrier/refusals.ts';
import { keepStation } from '../carrier/station-keeper.ts';
import { stationWords } from '../carrier/station-words.ts';
import { readChoices } from './choices.ts';
import { guardClosing } from './closing.ts';
import { keepCrashReports } from './crash-reports.ts';
import { mendCrashes } from './crashes.ts';
import { openOnDisplays } from './displays.ts';
import { keepDownloads } from './downloads.ts';
import { homesFile } from './homes-file.ts';
import { linkScreens } from './links.ts';
import { setLoginStart } from './login-start.ts';
import { displayLight } from './power.ts';
import { registerScheme, serveScreens } from './protocol.ts';
import { hearQuitKey } from './quit-key.ts';
import { refuseDebugging } from './release.ts';
import { confineContents, confineSession, refuseNames } from './security.ts';
import { hearWishes } from './site-wishes.ts';
import { stationLaunch } from './station-launch.ts';
import { hearSwap } from './swap-asked.ts';
import { setConsoleKiosk } from './windows.ts';

const choices = readChoices(process.argv);
const data = choices.data ?? defaultDataFolder();

// An error here must not stop the frames between station and screens, as Electron's own blocking dialog would.
process.on('uncaughtException', (error) => console.error(error));

refuseDebugging();
refuseNames();
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
  const first = app.requestSingleInstanceLock();
  if (first) {
    keepLog(join(own, 'logs'));
    keepCrashReports(join(own, 'crashes'));
    console.info(`Dimroom ${app.getVersion()} starts on Electron ${process.versions.electron}, ${process.platform}`);
  }
  return first;
}

function open(): void {
  confineSession(session.defaultSession);
  keepDownloads(session.defaultSession);
  serveScreens(join(__dirname, '../renderer'));

  const snapshot = lastSnapshot();
  const heedWishes = hearWishes(({ kiosk, startAtLogin }) => {
    // A developer's windows, and a developer's machine, are left alone.
    if (!app.isPackaged) return;
    setConsoleKiosk(consoleWindow, kiosk);
    // Practice is started by hand.
    if (!choices.practice)
      setLoginStart(startAtLogin, choices.data === undefined ? [] : ['--data', resolve(choices.data)]);
  });
  const light = displayLight();
  const links = linkScreens({ keeper: () => keeper, snapshot: snapshot.asOfNow });
  const keeper = keepStation(stationLaunch(stationWords({ ...choices, data })), {
    onMessage: (screen, message) => {
      if (screen === '*') {
        snapshot.keep(message);
        heedWishes(message);
      }
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
  hearQuitKey(consoleWindow);
  consoleWindow.once('show', () => console.info('the console is shown'));
  hearSwap(consoleWindow, displays.swap);
  app.on('second-instance', () => {
    if (consoleWindow.isMinimized()) consoleWindow.restore();
    consoleWindow.show();
    consoleWindow.focus();
  });
}

import { mkdirSync } from 'node:fs';
import { app, dialog, type Session } from 'electron';
import { freePath } from './free-path.ts';
import { isOwnFile } from './security.ts';

/**
 * What a page makes for saving goes to the person's folder for downloads, without a question: hands are at the console's
 * keys, not at a dialog. Nothing else is downloaded, and nothing that is there is written over.
 */
export function keepDownloads(session: Session): void {
  session.on('will-download', (event, item) => {
    if (!isOwnFile(item.getURL())) return event.preventDefault();
    const folder = app.getPath('downloads');
    mkdirSync(folder, { recursive: true });
    const path = freePath(folder, item.getFilename());
    item.setSavePath(path);
    item.once('done', (_event, state) => {
      if (state !== 'completed') void tellNotSaved(path);
    });
  });
}

const tellNotSaved = (path: string): Promise<unknown> =>
  dialog.showMessageBox({
    type: 'error',
    title: 'Dimroom',
    message: `${path} could not be saved.`,
    detail: 'Look whether the disk is full or the folder closed to you, then make it again.',
  });

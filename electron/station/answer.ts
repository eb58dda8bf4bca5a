import type { Entry } from '../../core/ledger/entry.ts';
import { readAnchor } from '../../core/ledger/verify.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import { blind, WITHHELD, WITHHELD_KINDS } from '../../core/procedure/blind.ts';
import {
  type EntryView,
  type Message,
  type Request,
  requestSchema,
  type Snapshot,
} from '../../core/protocol/messages.ts';
import { anchorSlip } from '../../core/report/anchor-slip.ts';
import type { Sheet } from '../../core/report/sheet.ts';
import type { Beside } from './beside.ts';
import type { Desk } from './desk.ts';
import { pdfOf } from './pdf.ts';
import { type AboutPeople, isAboutPeople, type Reception } from './people/reception.ts';
import { quickCardIn } from './printing/quick-card-in.ts';
import { sheetOf } from './printing/sheet-of.ts';
import { settingsHistory, settingsRead } from './settings-in-force.ts';
import type { Ledger } from './steadfast-ledger.ts';

/** What a request came to: answers for the one who asked, and whether every screen has something new to show. */
export interface Answered {
  /** A reply that takes a while to make is a promise of it; nothing else waits for it. */
  readonly replies: readonly (Message | Promise<Message>)[];
  readonly changed: boolean;
}

/** What a request is carried out with. */
export interface Station {
  readonly desk: Desk;
  readonly ledger: Ledger;
  readonly beside: Beside;
  readonly reception: Reception;
}

/** A complaint may quote what it complains about, which may be long. */
const SAYS_AT_MOST = 300;

/** Reads a message from a screen and does what it asks. One that cannot be read is answered and changes nothing. */
export function answer(message: unknown, screen: string, { desk, ledger, beside, reception }: Station): Answered {
  const request = requestSchema.safeParse(message);
  if (!request.success) return only(unreadable(message, request.error.issues[0]));
  if (request.data.type === 'hello') reception.begunAnew(screen);
  const whyNot = reception.whyNot(screen, request.data);
  if (whyNot !== null) return only(notHere(request.data, whyNot));
  try {
    if (isAboutPeople(request.data)) return only(reception.ask(screen, request.data));
    const answered = carryOut(request.data, desk, ledger, beside);
    reception.carriedOut(screen, request.data);
    return answered;
  } catch (error) {
    const requestId = 'requestId' in request.data ? request.data.requestId : null;
    const says = `not written, nothing has changed: ${error instanceof Error ? error.message : String(error)}`;
    console.error(`station: ${says}`);
    return only({ type: 'error', requestId, says });
  }
}

function carryOut(request: OtherRequest, desk: Desk, ledger: Ledger, beside: Beside): Answered {
  switch (request.type) {
    case 'hello':
      return only(desk.snapshot());
    case 'open':
      return { replies: [desk.open(request.requestId, request.by)], changed: true };
    case 'command': {
      const reply = desk.command(request.requestId, request.sessionId, request.seq, request.by, request.command);
      return { replies: [reply], changed: reply.type === 'entered' };
    }
    case 'cue': {
      const { type: _type, requestId, sessionId, ...sounded } = request;
      const reply = desk.cueSounded(requestId, sessionId, sounded);
      return reply === null ? { replies: [], changed: false } : { replies: [reply], changed: true };
    }
    case 'front':
      desk.bringForward(request.sessionId);
      return { replies: [], changed: true };
    case 'at-hand':
      return { replies: [], changed: false };
    case 'find':
    case 'reading':
    case 'clinic':
      return only(beside.finding.ask(request));
    case 'print':
      return only(printed(request, desk));
    case 'print-quick-card':
      return only(made(request.requestId, () => printedCard(desk.snapshot())));
    case 'print-anchor':
      return only(printedAnchor(request.requestId, desk.snapshot()));
    case 'export':
      if (ledger.notYetSafe() !== null) return only(notInTheFile(request.requestId));
      return only(beside.exporting.begin(request.requestId, request.wanted));
    case 'export-part':
      return only(beside.exporting.part(request.requestId, request.exportId, request.part));
    case 'cancel-export':
      beside.exporting.cancel(request.exportId);
      return { replies: [], changed: false };
    case 'verify':
      return only(beside.verifying.ask(request.requestId, request.run, request.anchor));
    case 'change-settings': {
      const { type: _type, requestId, ...asked } = request;
      const reply = desk.changeSettings(requestId, asked);
      return { replies: [reply], changed: reply.type === 'settings-changed' };
    }
    case 'read-settings':
      return only({ type: 'settings-read', requestId: request.requestId, ...settingsRead(request, desk.settings) });
    case 'settings-history': {
      const history = settingsHistory(ledger.allOfKind('settings'));
      return only({ type: 'settings-history', requestId: request.requestId, ...history });
    }
    case 'places':
      return only({ type: 'places', requestId: request.requestId, ...beside.places });
    case 'entries': {
      const { requestId, sessionId, limit } = request;
      const record = desk.holding(sessionId)?.session.context;
      const withheld = record !== undefined && blind(record);
      const view = (entry: Entry): EntryView => entryView(entry, withheld);
      const entries = ledger.entriesOf(sessionId, request.after, limit + 1).map(view);
      return only({
        type: 'entries',
        requestId,
        sessionId,
        rows: entries.slice(0, limit),
        more: entries.length > limit,
      });
    }
  }
}

const printedCard = (present: Snapshot): Promise<Sheet> => quickCardIn(present.settings.language, present);

async function printed(request: Extract<Request, { type: 'print' }>, desk: Desk): Promise<Message> {
  const { requestId, sessionId } = request;
  const record = desk.holding(sessionId)?.session.context;
  if (record === undefined) return { type: 'error', requestId, says: 'there is no such session in this ledger' };
  return made(requestId, () => sheetOf(record, request));
}

/** An anchor says what is safe on disk: not what still waits for one. */
async function printedAnchor(requestId: string, { written, notYetSafe, practice }: Snapshot): Promise<Message> {
  const refused = (says: string): Message => ({ type: 'error', requestId, says });
  if (notYetSafe !== null) return refused('entries are waiting for the disk: take the anchor once they are safe');
  if (written === null || written.anchor === null) return refused('this ledger has no first entry that can be read');
  const { anchor } = written;
  return made(requestId, () => anchorSlip(readAnchor(anchor), { ...written, practice }));
}

/** A sheet set as a PDF, or why it cannot be made yet. */
async function made(requestId: string, sheetOf: () => Sheet | Promise<Sheet>): Promise<Message> {
  try {
    const sheet = await sheetOf();
    const pdf = await pdfOf(sheet);
    return { type: 'printed', requestId, fileName: sheet.fileName, pdfBase64: pdf.toString('base64') };
  } catch (error) {
    return { type: 'error', requestId, says: error instanceof Error ? error.message : String(error) };
  }
}

type OtherRequest = Exclude<Request, AboutPeople>;

/** Not of this person, or of nobody: said as a command is refused, or as an error where nothing else was asked. */
function notHere(request: Request, says: string): Message {
  if (request.type === 'command' || request.type === 'open')
    return { type: 'refused', requestId: request.requestId, missing: [{ text: says, untilAtMs: null }] };
  return { type: 'error', requestId: 'requestId' in request ? request.requestId : null, says };
}

const notInTheFile = (requestId: string): Message => ({
  type: 'error',
  requestId,
  says: 'entries are waiting for the disk and would not be in it: export once they are safe',
});

const only = (reply: Message | Promise<Message>): Answered => ({ replies: [reply], changed: false });

function unreadable(message: unknown, issue: { path: PropertyKey[]; message: string } | undefined): Message {
  const given = typeof message === 'object' && message !== null && 'requestId' in message ? message.requestId : null;
  const where = issue === undefined || issue.path.length === 0 ? '' : `${issue.path.map(String).join('.')}: `;
  return {
    type: 'error',
    requestId: typeof given === 'string' ? given.slice(0, 64) : null,
    says: `not understood, nothing has changed: ${where}${issue?.message ?? 'unknown message'}`.slice(0, SAYS_AT_MOST),
  };
}

/** What one person entered is not shown before a second has computed it independently. */
function entryView(entry: Entry, withheld: boolean): EntryView {
  const { author, commandId: _commandId, prevHash: _prevHash, ...rest } = entry;
  if (withheld && WITHHELD_KINDS.includes(entry.kind)) {
    return { ...rest, payload: {}, by: author, words: WITHHELD };
  }
  return { ...rest, by: author, words: wordsFor(entry) };
}

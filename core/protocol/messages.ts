import { z } from 'zod';
import { guideSchema } from '../practice/guide-schema.ts';
import { commandSchema, openSessionSchema } from '../procedure/commands.ts';
import { cueSoundedSchema } from '../procedure/due.ts';
import { authorSchema, personSchema } from '../procedure/person.ts';
import { regimenSchema } from '../regimen/regimens.ts';
import { LANGUAGES } from '../settings/language.ts';
import { settingsSchema } from '../settings/settings.ts';
import { exportAsked, exportedSchema } from './exporting.ts';
import { clinicReadingSchema, findAsked, foundSessionsSchema, sessionReadingSchema } from './finding.ts';
import { handsMessage, peopleAsked, peopleDoneMessage, whoMaySchema } from './people.ts';
import { placesSchema } from './places.ts';
import { settingsAnswered, settingsAsked } from './settings.ts';
import { verifyAsked, verifyingSchema } from './verifying.ts';
import { sessionViewSchema } from './view.ts';

/**
 * The one protocol between a screen and the station, whatever carries it. Every message is parsed on arrival, both
 * ways; one that does not parse is answered with an error and changes nothing.
 */
export const PROTOCOL = 1;

/** Letters that every process and the ledger's file hold alike: an identity is compared and hashed byte by byte. */
const identity = /^[\x21-\x7e]+$/;
const requestId = z.string().min(8).max(64).regex(identity);
const sessionId = z.string().min(4).max(64).regex(identity);

/** What can be printed of a session. */
export const SHEETS = ['syringe label', 'plan sheet', 'after-care sheet', 'bracelet'] as const;
export type SheetName = (typeof SHEETS)[number];

export const SCREENS = ['console', 'board', 'ledger'] as const;
export type ScreenName = (typeof SCREENS)[number];

/** Screen to station. */
export const requestSchema = z.discriminatedUnion('type', [
  /** Asks for the present snapshot at once, and for every later one. */
  z.strictObject({ type: z.literal('hello'), protocol: z.literal(PROTOCOL), screen: z.enum(SCREENS) }),
  /**
   * Opens a session. `requestId` is the command's own identity: sent again after a silence, it is carried out once.
   */
  z.strictObject({ type: z.literal('open'), requestId, by: personSchema, command: openSessionSchema }),
  /** Gives a command. `seq` is the session's last entry that the person saw: a stale press is refused. */
  z.strictObject({
    type: z.literal('command'),
    requestId,
    sessionId,
    seq: z.number().int().nonnegative(),
    by: personSchema,
    command: commandSchema,
  }),
  /**
   * What became of a cue in the window that sounds them. `sounded` says that it was asked of the sound card at its
   * instant; nothing here can say that it was heard. Entered once for each cue and instant.
   */
  z.strictObject({
    type: z.literal('cue'),
    requestId,
    sessionId,
    ...cueSoundedSchema.omit({ kind: true }).shape,
  }),
  /** Brings a session in front: the one that console and board show. Not an entry. */
  z.strictObject({ type: z.literal('front'), sessionId }),
  z.strictObject({ type: z.literal('find'), requestId, ...findAsked.find }),
  /** Asks for a session as it is judged: its measures, and where it departs from its plan. */
  z.strictObject({ type: z.literal('reading'), requestId, sessionId }),
  z.strictObject({ type: z.literal('clinic'), requestId, ...findAsked.clinic }),
  /** Asks for a printable sheet of a session, as PDF; a patient's in their language, and in large print. */
  z.strictObject({
    type: z.literal('print'),
    requestId,
    sessionId,
    sheet: z.enum(SHEETS),
    language: z.enum(LANGUAGES).optional(),
    largePrint: z.boolean().optional(),
  }),
  /** Asks for the card with keys and sounds. Nothing of a patient is on it. */
  z.strictObject({ type: z.literal('print-quick-card'), requestId }),
  /** Asks for the ledger's anchor as a slip of paper to be kept elsewhere. */
  z.strictObject({ type: z.literal('print-anchor'), requestId }),
  /** Asks for the entries of one session. */
  z.strictObject({
    type: z.literal('entries'),
    requestId,
    sessionId,
    after: z.number().int().nonnegative(),
    limit: z.number().int().min(1).max(500),
  }),
  z.strictObject({ type: z.literal('export'), requestId, ...exportAsked.export }),
  z.strictObject({ type: z.literal('export-part'), requestId, ...exportAsked['export-part'] }),
  z.strictObject({ type: z.literal('cancel-export'), ...exportAsked['cancel-export'] }),
  z.strictObject({ type: z.literal('verify'), requestId, ...verifyAsked }),
  /** Asks where things are kept. */
  z.strictObject({ type: z.literal('places'), requestId }),
  z.strictObject({ type: z.literal('change-settings'), requestId, ...settingsAsked['change-settings'] }),
  z.strictObject({ type: z.literal('read-settings'), requestId, ...settingsAsked['read-settings'] }),
  z.strictObject({ type: z.literal('settings-history'), requestId, ...settingsAsked['settings-history'] }),
  z.strictObject({ type: z.literal('sign-in'), requestId, ...peopleAsked['sign-in'] }),
  z.strictObject({ type: z.literal('sign-out'), requestId, ...peopleAsked['sign-out'] }),
  /** Somebody is at the keyboard of this screen: they need not sign in anew for a while. */
  z.strictObject({ type: z.literal('at-hand') }),
  z.strictObject({ type: z.literal('first-administrator'), requestId, ...peopleAsked['first-administrator'] }),
  z.strictObject({ type: z.literal('change-roster'), requestId, ...peopleAsked['change-roster'] }),
  z.strictObject({ type: z.literal('give-pin'), requestId, ...peopleAsked['give-pin'] }),
  z.strictObject({ type: z.literal('own-pin'), requestId, ...peopleAsked['own-pin'] }),
  z.strictObject({ type: z.literal('recover'), requestId, ...peopleAsked.recover }),
]);

export type Request = z.infer<typeof requestSchema>;

/** An entry as the ledger shows it. `words` is the plain sentence for it. */
export const entryViewSchema = z.strictObject({
  seq: z.number(),
  sessionId: z.string().nullable(),
  kind: z.string(),
  words: z.string(),
  payload: z.record(z.string(), z.unknown()),
  wallMs: z.number(),
  offsetMin: z.number(),
  continuousMs: z.number(),
  boot: z.string(),
  by: authorSchema,
  hash: z.string(),
});
export type EntryView = z.infer<typeof entryViewSchema>;

const missing = z.array(z.strictObject({ text: z.string(), untilAtMs: z.number().nullable() }));

/** Station to screen. */
export const messageSchema = z.discriminatedUnion('type', [
  /**
   * The whole present. Sent on every entry and once a second. A screen counts with `nowMs`, which runs `rate` times
   * as fast as real time (1 except in practice).
   */
  z.strictObject({
    type: z.literal('snapshot'),
    protocol: z.literal(PROTOCOL),
    nowMs: z.number(),
    wallMs: z.number(),
    offsetMin: z.number(),
    boot: z.string(),
    rate: z.number().positive(),
    practice: z.boolean(),
    settings: settingsSchema,
    /** The entry of the settings in force; 0 in a ledger that has none. */
    settingsSeq: z.number().int().nonnegative(),
    /** Who may sign in here. */
    whoMay: whoMaySchema,
    /** Every regimen the site offers. */
    regimens: z.array(regimenSchema),
    /** What is wrong with the station's own files, in words; shown until it is mended. */
    trouble: z.array(z.string()),
    /** Entries that the disk does not take at present: how many, since when, why, and where they are kept meanwhile. */
    notYetSafe: z
      .strictObject({ entries: z.number(), sinceWallMs: z.number(), why: z.string(), keptAt: z.string().nullable() })
      .nullable(),
    /** When the last entry was written, and its sequence; null in an empty ledger. */
    written: z
      .strictObject({
        seq: z.number(),
        hash: z.string(),
        wallMs: z.number(),
        offsetMin: z.number(),
        /** What to keep elsewhere, in one word; null where the file's own identity cannot be read. */
        anchor: z.string().nullable(),
      })
      .nullable(),
    sessions: z.array(sessionViewSchema),
    front: z.string().nullable(),
    /** In guided practice: what is told beside the session in front; else null. */
    guide: guideSchema.nullable(),
  }),
  /** A command was carried out: its entry is on disk. */
  z.strictObject({ type: z.literal('entered'), requestId, sessionId, seq: z.number() }),
  /** A command waits for something. Nothing changed. */
  z.strictObject({ type: z.literal('refused'), requestId, missing }),
  /** A message could not be read or carried out. Nothing changed. `requestId` is null when it could not be read. */
  z.strictObject({ type: z.literal('error'), requestId: z.string().nullable(), says: z.string() }),
  /** A sheet, as the bytes of a PDF in base64. */
  z.strictObject({ type: z.literal('printed'), requestId, fileName: z.string(), pdfBase64: z.string() }),
  z.strictObject({ type: z.literal('found'), requestId, ...foundSessionsSchema.shape }),
  z.strictObject({ type: z.literal('reading'), requestId, ...sessionReadingSchema.shape }),
  z.strictObject({ type: z.literal('clinic'), requestId, ...clinicReadingSchema.shape }),
  z.strictObject({
    type: z.literal('entries'),
    requestId,
    sessionId,
    rows: z.array(entryViewSchema),
    more: z.boolean(),
  }),
  z.strictObject({ type: z.literal('exported'), requestId, ...exportedSchema.shape }),
  z.strictObject({ type: z.literal('verifying'), requestId, ...verifyingSchema.shape }),
  z.strictObject({ type: z.literal('places'), requestId, ...placesSchema.shape }),
  z.strictObject({ type: z.literal('settings-changed'), requestId, ...settingsAnswered['settings-changed'] }),
  z.strictObject({ type: z.literal('settings-read'), requestId, ...settingsAnswered['settings-read'] }),
  z.strictObject({ type: z.literal('settings-history'), requestId, ...settingsAnswered['settings-history'] }),
  /** `requestId` is null where nobody asked: they were away for long, or the page began anew. */
  z.strictObject({ type: z.literal('hands'), requestId: requestId.nullable(), ...handsMessage }),
  z.strictObject({ type: z.literal('people-done'), requestId, ...peopleDoneMessage }),
]);

export type Message = z.infer<typeof messageSchema>;
export type Snapshot = Extract<Message, { type: 'snapshot' }>;

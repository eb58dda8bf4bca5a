import { canonicalJson, type Entry } from '../../core/ledger/entry.ts';
import { shiftInstants } from '../../core/procedure/record.ts';
import type { Draft, Template } from './template.ts';

/** What is put into a template to make one session of it. */
export interface Stamp {
  readonly sessionId: string;
  readonly patientCode: string;
  readonly birthDate: string;
  readonly lot: string;
  /** Initials in the place of those of the template's people. */
  readonly initials: Readonly<Record<string, string>>;
  /** By how much it lies after the template, on the computer's clock. */
  readonly laterMs: number;
  readonly boot: string;
}

/** An entry that waits for its place: everything but sequence and hashes, with its payload as the one text. */
export interface Stamped {
  readonly sessionId: string | null;
  readonly kind: string;
  readonly payload: string;
  readonly orderMs: number;
  readonly continuousMs: number;
  readonly boot: string;
  readonly author: string;
  readonly role: string;
  readonly commandId: string | null;
}

/** Makes a session of a template: the same in other seconds, under other names. What the machine ruled on stays true. */
export function stamped(template: Template, stamp: Stamp): Stamped[] {
  return template.drafts.map((draft, index) => {
    const { kind, orderMs, continuousMs, by } = draft;
    const station = by.role === 'station';
    return {
      sessionId: draft.sessionId === null ? null : stamp.sessionId,
      kind,
      payload: payloadOf(draft, stamp),
      orderMs: orderMs + stamp.laterMs,
      continuousMs: continuousMs + stamp.laterMs,
      boot: bootOf(draft.secondBoot, stamp),
      author: station ? by.initials : (stamp.initials[by.initials] ?? by.initials),
      role: by.role,
      commandId: station ? null : `${stamp.sessionId.slice(0, 24)}${String(index).padStart(12, '0')}`,
    };
  });
}

const bootOf = (second: boolean, { boot }: Stamp): string => (second ? `${boot}-again` : boot);

/** Kinds whose payload differs from session to session; of the others one text serves every session. */
const STAMPED_PAYLOAD: Readonly<Record<string, (payload: Entry['payload'], stamp: Stamp) => Entry['payload']>> = {
  identify: (payload, { patientCode, birthDate }) => ({ ...payload, patientCode, birthDate }),
  drug: (payload, { lot }) => ({ ...payload, lot }),
  rebase: (payload, stamp) => ({ ...payload, fromBoot: bootOf(false, stamp), toBoot: bootOf(true, stamp) }),
  'cue-sounded': (payload, { laterMs }) => shiftInstants(payload, laterMs),
};

const ownPayload = (kind: string) =>
  STAMPED_PAYLOAD[kind] ?? (kind.endsWith('-due') ? STAMPED_PAYLOAD['cue-sounded'] : undefined);

const texts = new WeakMap<Draft, string>();

function payloadOf(draft: Draft, stamp: Stamp): string {
  const own = ownPayload(draft.kind);
  if (own !== undefined) return canonicalJson(own(draft.payload, stamp));
  const known = texts.get(draft);
  if (known !== undefined) return known;
  const text = canonicalJson(draft.payload);
  texts.set(draft, text);
  return text;
}

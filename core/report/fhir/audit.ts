import type { Entry } from '../../ledger/entry.ts';
import { anchorText } from '../../ledger/verify.ts';
import { wordsFor } from '../../ledger/words.ts';
import { isoTime } from '../../time/show.ts';
import type { Extract } from '../extract.ts';
import { ASSEMBLER, PROCEDURE_RECORD } from './coding.ts';
import { identifierIn, type Naming, type Resource, referenceTo, resource } from './resource.ts';
import type { People } from './subjects.ts';

/** One event for each entry of the session, with what proves it. */
export function auditEvents(
  naming: Naming,
  entries: readonly Entry[],
  { procedure, software, people }: { procedure: Resource; software: Resource; people: People },
): Resource[] {
  return entries.map((entry) => {
    const words = wordsWithoutBirth(entry);
    return resource(naming, 'AuditEvent', `entry/${entry.seq}`, [`entry ${entry.seq}: ${words}`], {
      type: PROCEDURE_RECORD,
      action: 'C',
      recorded: isoTime(entry.wallMs, entry.offsetMin),
      outcome: '0',
      agent: [
        {
          role: [{ text: entry.author.role }],
          who: people.referenceTo(entry.author),
          requestor: entry.author.role !== 'station',
        },
      ],
      source: { observer: referenceTo(software) },
      entity: [
        {
          what: referenceTo(procedure),
          name: `session ${entry.sessionId}`,
          description: words,
          detail: detailsOf(entry),
        },
      ],
    });
  });
}

/** The patient goes by code alone here: the second identifier stays in the ledger. */
const wordsWithoutBirth = ({ kind, payload }: Entry): string =>
  kind === 'identify' ? `patient ${payload.patientCode}, identified by two identifiers` : wordsFor({ kind, payload });

const detailsOf = ({ seq, kind, continuousMs, boot, prevHash, hash }: Entry) =>
  [
    ['seq', String(seq)],
    ['kind', kind],
    ['continuousMs', String(continuousMs)],
    ['boot', boot],
    ['prevHash', prevHash],
    ['hash', hash],
  ].map(([type, valueString]) => ({ type, valueString }));

/** Where the clinical resources come from: the ledger, by its head, and the session, by its last entry. */
export function provenanceOf(
  naming: Naming,
  { fileId, head, sessionId, entries }: Extract,
  targets: readonly Resource[],
  software: Resource,
): Resource {
  const last = entries.at(-1);
  const anchor = anchorText({ fileId, ...head });
  const words = [`from the ledger ${fileId}, whose last entry was ${head.seq}`, `head hash ${head.hash}`];
  return resource(naming, 'Provenance', `provenance/${sessionId}`, words, {
    target: targets.map(referenceTo),
    recorded: isoTime(last?.wallMs ?? 0, last?.offsetMin ?? 0),
    agent: [{ type: ASSEMBLER, who: referenceTo(software) }],
    entity: [
      { role: 'source', what: { identifier: identifierIn(naming, 'anchor', anchor), display: 'anchor of the ledger' } },
      {
        role: 'source',
        what: {
          identifier: identifierIn(naming, 'entry-hash', last?.hash ?? ''),
          display: "hash of the session's last entry",
        },
      },
    ],
  });
}

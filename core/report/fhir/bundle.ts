import { deviationsOf } from '../../ledger/deviations.ts';
import type { Sha256 } from '../../ledger/entry.ts';
import { measuresOf } from '../../ledger/measures.ts';
import type { Limits } from '../../settings/limits.ts';
import { isoTime } from '../../time/show.ts';
import { type Extract, readableOf, standingOf, Withheld, withheldIn } from '../extract.ts';
import { auditEvents, provenanceOf } from './audit.ts';
import { bodyResources } from './body.ts';
import { NOTICES } from './coding.ts';
import { drugResources } from './drug.ts';
import { laserResources } from './laser.ts';
import { procedureOf } from './procedure.ts';
import { addressOf, idOf, metaOf, type Naming, ownUrl, type Resource } from './resource.ts';
import { People, patientOf, softwareOf } from './subjects.ts';

export interface FhirAsked {
  readonly extract: Extract;
  readonly limits: Limits;
  /** Of this program, as the resources name their author. */
  readonly version: string;
  readonly sha256: Sha256;
}

/**
 * A session as a FHIR R4 bundle, a collection whose references all resolve inside it. The same entries give the same
 * bundle. LOINC and UCUM are its only clinical terminologies; everything else is text.
 *
 * @throws Withheld where its order is not to be shown yet.
 * @throws RangeError where the session cannot be read: part of a treatment would look like all of it.
 */
export function fhirBundle({ extract, limits, version, sha256 }: FhirAsked): Resource {
  const { fileId, sessionId, entries, stationEntries, practice } = extract;
  const standing = standingOf(extract);
  if (withheldIn(extract, standing)) throw new Withheld(sessionId);
  if (fileId === '')
    throw new RangeError("the ledger's first entry, which names the file, cannot be read: export csv or pdf");
  const { record, trouble } = standing;
  if (record === null || trouble !== null) {
    const where = trouble === null ? '' : `: entry ${trouble.seq}: ${trouble.says}`;
    throw new RangeError(`session ${sessionId} cannot be read to its end, and is not exported as FHIR${where}`);
  }
  const naming: Naming = { fileId, practice, sha256 };
  const deviations = deviationsOf(measuresOf(readableOf(extract), stationEntries), limits);
  const patient = patientOf(naming, record);
  const software = softwareOf(naming, version);
  const people = new People(naming, entries, software);
  const procedure = procedureOf(naming, record, { patient, people, deviations });
  const around = { patient, procedure, people };
  const clinical = [
    procedure,
    ...drugResources(naming, record, around),
    ...bodyResources(naming, record, around),
    ...laserResources(naming, record, around),
  ];
  const provenance = provenanceOf(naming, extract, clinical, software);
  const audit = auditEvents(naming, entries, { procedure, software, people });
  return bundleOf(naming, extract, [patient, ...people.resources, software, ...clinical, provenance, ...audit]);
}

function bundleOf(naming: Naming, { sessionId, entries }: Extract, resources: readonly Resource[]): Resource {
  const last = entries.at(-1);
  const { meta = {} } = metaOf(naming);
  return {
    resourceType: 'Bundle',
    id: idOf(naming, `bundle/${sessionId}/${last?.seq}`),
    meta: {
      ...meta,
      extension: NOTICES.map((valueMarkdown) => ({ url: ownUrl('notice'), valueMarkdown })),
    },
    type: 'collection',
    timestamp: isoTime(last?.wallMs ?? 0, last?.offsetMin ?? 0),
    entry: resources.map((one) => ({ fullUrl: addressOf(naming, one), resource: one })),
  };
}

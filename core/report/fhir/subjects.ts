import type { Entry } from '../../ledger/entry.ts';
import type { Author } from '../../procedure/person.ts';
import type { SessionRecord } from '../../procedure/record.ts';
import { identifierIn, type Naming, type Resource, referenceTo, resource } from './resource.ts';

/** The patient by code alone: neither name nor date of birth leaves the ledger this way. */
export function patientOf(naming: Naming, { patient, sessionId }: SessionRecord): Resource {
  if (patient === null) {
    return resource(naming, 'Patient', `patient-of/${sessionId}`, ['not identified yet'], { active: true });
  }
  const { patientCode } = patient;
  return resource(naming, 'Patient', `patient/${patientCode}`, [`patient ${patientCode}`], {
    identifier: [identifierIn(naming, 'patient-code', patientCode)],
    active: true,
  });
}

/** The software that kept the record: also the author of what the clock brought about. */
export function softwareOf(naming: Naming, version: string): Resource {
  const name = 'Dimroom';
  return resource(naming, 'Device', `software/${version}`, [`${name} ${version}, procedure clock`], {
    status: 'active',
    deviceName: [{ name, type: 'user-friendly-name' }],
    type: { text: 'procedure clock, software' },
    version: [{ value: version }],
  });
}

/** Everybody who entered anything, by initials alone. */
export class People {
  readonly resources: readonly Resource[];
  private readonly byInitials: ReadonlyMap<string, Resource>;
  private readonly software: Resource;

  constructor(naming: Naming, entries: readonly Entry[], software: Resource) {
    const people = entries.map(({ author }) => author).filter(({ role }) => role !== 'station');
    const initials = [...new Set(people.map((person) => person.initials))];
    this.byInitials = new Map(initials.map((own) => [own, practitioner(naming, own)]));
    this.resources = [...this.byInitials.values()];
    this.software = software;
  }

  referenceTo({ initials }: Author) {
    return referenceTo(this.byInitials.get(initials) ?? this.software);
  }
}

const practitioner = (naming: Naming, initials: string): Resource =>
  resource(naming, 'Practitioner', `person/${initials}`, [`staff member ${initials}`], {
    identifier: [identifierIn(naming, 'initials', initials)],
  });

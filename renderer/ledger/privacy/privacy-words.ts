/** What is said of privacy, part by part. */
export const PRIVACY: readonly { readonly title: string; readonly lines: readonly string[] }[] = [
  {
    title: 'what is kept',
    lines: [
      'of the patient: a code, the date of birth as second identifier, screening answers, height and weight, eyes and lesions, drug and light as ordered and as given, reactions, review date',
      'of those who work here: name, initials and role in the roster, initials and role beside each entry, when they signed in, and the ordering physician as typed',
      'of their PINs only what recognises them: nobody can read one back',
      'of the machine: its clock, its sleeps, its monitors and its disk, where they bear on a session',
      'what people type into notes, reasons and addenda is kept as it is: keep names out of it',
    ],
  },
  {
    title: 'what is not',
    lines: [
      'no name of a patient: there is no field for one. Who a code belongs to is known where codes are given out',
      'no telemetry, no account, nothing sent: screens and ledger speak with each other on this machine alone',
      'no proof of who pressed a key: a PIN can be given away, and in practice initials are taken as typed',
      'no patient in logs and crash reports on purpose; but a crash report holds pieces of memory, and is to be kept as the ledger is',
      'no encryption of its own: who may open the data folder can read it. Use that of the disk, and the rights of the system',
    ],
  },
  {
    title: 'where',
    lines: [
      'on this machine; beside the places below each window keeps where it stands, how dim and how loud it is, and initials for as long as it is open',
    ],
  },
  {
    title: 'for how long',
    lines: [
      'nothing is ever deleted or changed here, and there is no key for it: entries are only added',
      'how long a record must be kept, and what is done with the file then, local law and local policy say',
    ],
  },
  {
    title: 'all of one patient',
    lines: [
      'find a session of that patient, press E, and choose “all of …”: every entry with its chain, or a table; a single session also as PDF, CSV or FHIR',
      'everything in one folder, by the command line: npm run --silent ledger -- export FILE --patient CODE --as folder --out FOLDER',
      'an export leaves the ledger as it is; entries of other patients are not in it',
    ],
  },
];

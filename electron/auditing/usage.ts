export const USAGE = `npm run --silent ledger -- verify FILE [--anchor TEXT]
npm run --silent ledger -- verify EXPORT.json [--anchor TEXT] [--against FILE]
npm run --silent ledger -- list [FILE]
npm run --silent ledger -- show SESSION [--at TIME] [--file FILE]
npm run --silent ledger -- anchor [FILE]
npm run --silent ledger -- export [FILE] --session ID --as csv|json|fhir|pdf --out PATH [--with-gaps] [--replace]
npm run --silent ledger -- export [FILE] --patient CODE --as json|folder|sessions-csv --out PATH [--with-gaps] [--replace]
npm run --silent ledger -- export [FILE] --all --out PATH [--replace]`;

/** A command line that cannot be carried out. */
export class Usage extends Error {}

import { dirname } from 'node:path';
import type { Places } from '../../core/protocol/places.ts';
import type { Settings } from '../../core/settings/settings.ts';
import { type Exporting, exportingFrom } from './exporting/exporting.ts';
import { type Finding, findingIn } from './finding/finding.ts';
import { indexFileOf } from './finding/index-file.ts';
import { type Verifying, verifyingOf } from './verifying.ts';

/** What is read from the ledger beside the station's own work, in threads with connections that cannot write. */
export interface Beside {
  readonly finding: Finding;
  readonly exporting: Exporting;
  readonly verifying: Verifying;
  readonly places: Places;
  stop(): void;
}

interface Of {
  readonly ledgerFile: string;
  readonly emergencyFolder: string;
  readonly settings: Settings;
  /** The ledger's last sequence now. */
  readonly headSeq: () => number;
}

export function besideOf({ ledgerFile, emergencyFolder, settings, headSeq }: Of): Beside {
  const finding = findingIn({ ledgerFile, limits: settings.limits });
  const exporting = exportingFrom(ledgerFile, settings.limits);
  return {
    finding,
    exporting,
    verifying: verifyingOf(ledgerFile, headSeq),
    places: {
      folder: dirname(ledgerFile),
      ledger: ledgerFile,
      index: indexFileOf(ledgerFile),
      emergency: emergencyFolder,
      copies: settings.copyFolder,
    },
    stop: () => {
      finding.stop();
      exporting.stop();
    },
  };
}

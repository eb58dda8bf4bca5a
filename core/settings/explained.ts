import { BSA_FORMULAS } from '../dosing/body-surface-area.ts';
import { EXPLAINED_LIMITS } from './explained-limits.ts';
import { type AnyExplanation, COMMON_PRACTICE, type Explanation, LOCAL } from './explanation.ts';
import { SETTING_NAMES, type SettingName } from './names.ts';
import type { Settings } from './settings.ts';

type Tables = { readonly [Name in Exclude<keyof Settings, 'limits'>]: Explanation<Settings[Name]> } & {
  readonly limits: typeof EXPLAINED_LIMITS;
};

const formula = ({ name, source }: { name: string; source: string }) => ({ words: name, detail: source });
const YES_NO = { yes: { words: 'yes' }, no: { words: 'no' } } as const;

/** What each setting is, what it is for, and where its default comes from. No setting is without. */
export const EXPLAINED = {
  profile: {
    words: 'product text that is followed',
    group: 'dose',
    about:
      'Which text screening, the rule about both eyes and the light precautions follow. The current text of your country goes before this.',
    source: { text: 'which one holds, the country decides', sure: 'local' },
    takes: 'next session',
    entry: {
      as: 'choice',
      choices: {
        us: { words: 'US', detail: 'US prescribing information' },
        eu: { words: 'EU', detail: 'EU summary of product characteristics' },
      },
    },
  },
  lightCareHours: {
    words: 'light precautions last',
    group: 'dose',
    about:
      'Hours from the infusion during which the patient keeps from bright light, where local policy asks for more than the product text. Fewer are not counted.',
    source: { text: 'US prescribing information: 5 days; EU-SmPC: 48 hours', sure: 'found' },
    takes: 'next session',
    entry: { as: 'figure', unit: 'h', steps: 'in whole hours' },
    none: 'as the product text',
  },
  formula: {
    words: 'body surface area by',
    group: 'dose',
    about:
      'The formula that the dose is computed with. In obesity the formulas are up to 8.5 % apart; a session records which one was used.',
    source: { text: 'the product texts name none; Mosteller is common practice, no source', sure: 'memory' },
    takes: 'next session',
    entry: {
      as: 'choice',
      choices: {
        mosteller: formula(BSA_FORMULAS.mosteller),
        'du-bois': formula(BSA_FORMULAS['du-bois']),
        haycock: formula(BSA_FORMULAS.haycock),
        'gehan-george': formula(BSA_FORMULAS['gehan-george']),
        boyd: formula(BSA_FORMULAS.boyd),
      },
    },
  },
  formulaSpreadShare: {
    words: 'formulas may be apart by',
    group: 'dose',
    about: 'Where the formulas’ doses lie further apart than this share of the dose, the plan says so.',
    source: LOCAL,
    takes: 'next session',
    entry: { as: 'figure', unit: '%', percent: true },
  },
  graduationMl: {
    words: 'syringe is graduated in',
    group: 'dose',
    about: 'The volume of drug is rounded to this step; the true dose after rounding and its error stand beside it.',
    source: COMMON_PRACTICE,
    takes: 'next session',
    entry: { as: 'figure', unit: 'mL', steps: 'in hundredths of a mL' },
  },
  lineMl: {
    words: 'line holds',
    group: 'line',
    about:
      'What in-line filter and extension set hold, as measured for the sets in use. It decides when the drug is in the patient, and how much the flush has to bring.',
    source: { text: 'to be measured for the sets in use', sure: 'local' },
    takes: 'next session',
    entry: { as: 'figure', unit: 'mL' },
    none: 'asked each time',
  },
  primedWith: {
    words: 'line is primed with',
    group: 'line',
    about:
      'Primed with infusate, drug reaches the vein as the pump starts and the flush brings the rest; with dextrose, it comes later. The product text speaks of the infusion’s start only.',
    source: COMMON_PRACTICE,
    takes: 'next session',
    entry: { as: 'choice', choices: { drug: { words: 'infusate' }, diluent: { words: 'dextrose 5 %' } } },
    none: 'asked each time',
  },
  latePressS: {
    words: 'a press may be set back by',
    group: 'limits',
    about:
      'Where the key was pressed after the pump had started, or after the beam had gone on or off. More than this is entered as a deviation instead.',
    source: LOCAL,
    takes: 'next session',
    entry: { as: 'figure', unit: 's', steps: 'in whole seconds' },
  },
  cuesPlayedBy: {
    words: 'cues are sounded by',
    group: 'cues',
    about: 'One window alone sounds them. Make a sound check where the operator stands after a change.',
    source: LOCAL,
    takes: 'at once',
    entry: {
      as: 'choice',
      choices: {
        console: { words: 'console', detail: 'the first monitor’s window' },
        board: { words: 'board', detail: 'the second monitor’s window' },
      },
    },
  },
  spokenCues: {
    words: 'words after each tone',
    group: 'cues',
    about: 'Whether a voice says after the tone what the cue is about.',
    source: LOCAL,
    takes: 'at once',
    entry: { as: 'choice', choices: YES_NO },
  },
  viewingDistanceM: {
    words: 'operator is away from the board by',
    group: 'cues',
    about:
      'From the operator’s eye to the board. With the width of its picture it says whether the number is readable.',
    source: { text: '3 m is common practice, no source', sure: 'local' },
    takes: 'at once',
    entry: { as: 'figure', unit: 'm' },
  },
  boardWidthMm: {
    words: 'board’s picture is wide',
    group: 'cues',
    about: 'Measured with a rule, from the left edge of the lit picture to its right. Without it no size is claimed.',
    source: { text: 'to be measured', sure: 'local' },
    takes: 'at once',
    entry: { as: 'figure', unit: 'mm' },
    none: 'not measured',
  },
  language: {
    words: 'language',
    group: 'language',
    about:
      'Of console, board, settings, people and spoken words. The ledger is English, so that it reads the same anywhere.',
    source: LOCAL,
    takes: 'at once',
    entry: {
      as: 'choice',
      choices: {
        en: { words: 'English' },
        de: { words: 'Deutsch' },
        es: { words: 'español' },
        fr: { words: 'français' },
      },
    },
  },
  zone: {
    words: 'time zone of patients’ sheets',
    group: 'language',
    about: 'In which zone dates and times stand on a sheet that a patient takes home. Timers do not depend on it.',
    source: LOCAL,
    takes: 'next session',
    entry: { as: 'text', allowed: 'a time zone by its IANA name, for example Europe/Zurich' },
    none: 'this machine’s own',
  },
  idleLockMin: {
    words: 'hands sign in anew after',
    group: 'machine',
    about: 'Minutes without a key after which whoever is at the keyboard signs in again. Counts and cues go on.',
    source: LOCAL,
    takes: 'at once',
    entry: { as: 'figure', unit: 'min', steps: 'in whole minutes' },
  },
  copyFolder: {
    words: 'second copy of the ledger in',
    group: 'machine',
    about:
      'A folder, best on another disk: the ledger is copied there when the station starts and after each discharge, and read from end to end.',
    source: LOCAL,
    takes: 'at once',
    entry: { as: 'text', allowed: 'the whole path of a folder, at most 500 letters' },
    none: 'no second copy',
  },
  kiosk: {
    words: 'windows fill their monitors',
    group: 'machine',
    about:
      'Both windows fill their displays, and nothing else of the machine is reached from them. Only where Dimroom was installed.',
    source: LOCAL,
    takes: 'at once',
    entry: { as: 'choice', choices: YES_NO },
  },
  startAtLogin: {
    words: 'starts when somebody logs in',
    group: 'machine',
    about:
      'Dimroom starts by itself when somebody logs in to this machine. Only where it was installed; practice never does.',
    source: LOCAL,
    takes: 'at once',
    entry: { as: 'choice', choices: YES_NO },
  },
  limits: EXPLAINED_LIMITS,
} as const satisfies Tables;

/** One of them by its name, as the screens take it. */
export function explained(name: SettingName): AnyExplanation {
  const [outer, inner] = name.split('.') as [keyof typeof EXPLAINED, keyof typeof EXPLAINED_LIMITS];
  return outer === 'limits' ? EXPLAINED_LIMITS[inner] : EXPLAINED[outer];
}

/** The settings of a group, in the order of the table. */
export const settingsOfGroup = (group: string): readonly SettingName[] =>
  IN_ORDER.filter((name) => explained(name).group === group);

const IN_ORDER: readonly SettingName[] = Object.keys(EXPLAINED).flatMap((outer) =>
  SETTING_NAMES.filter((name) => name === outer || name.startsWith(`${outer}.`)),
);

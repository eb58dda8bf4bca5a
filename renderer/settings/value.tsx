import { explained } from '../../core/settings/explained.ts';
import type { SettingName, SettingValue } from '../../core/settings/names.ts';
import { valueWords } from '../../core/settings/value-words.ts';

interface ValueProps {
  readonly name: SettingName;
  readonly value: SettingValue;
}

/** A setting's value as people read it: `0.1 mL`, `US`, `asked each time`. What somebody typed stands as it was typed. */
export function Value({ name, value }: ValueProps) {
  const typed = explained(name).entry.as === 'text' && value !== null;
  return <span translate={typed ? 'no' : undefined}>{valueWords(name, value)}</span>;
}

import { explained } from '../../core/settings/explained.ts';
import type { SettingChange } from '../../core/settings/names.ts';
import { Value } from './value.tsx';

/** `syringe is graduated in · 0.1 mL → 0.2 mL` */
export function ChangeLine({ change: { name, before, after } }: { change: SettingChange }) {
  return (
    <>
      <span>{explained(name).words}</span> · <Value name={name} value={before} /> → <Value name={name} value={after} />
    </>
  );
}

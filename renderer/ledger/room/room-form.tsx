import { REGIMENS } from '../../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../../core/settings/settings.ts';
import { FormPanel } from '../../console/form-panel.tsx';
import type { Asked, Form, FormContext } from '../../console/forms/form.ts';
import { snapshotNow } from '../../link/store.ts';
import { useRoomKeys } from './room-keys.ts';

interface RoomFormProps {
  readonly form: Form;
  readonly openedBy: string;
  readonly onAsked: (asked: Asked) => Promise<readonly string[]>;
  readonly onLeave: () => void;
}

/** One of the console's forms, in the ledger room: of no session that is in front. */
export function RoomForm({ form, openedBy, onAsked, onLeave }: RoomFormProps) {
  useRoomKeys([{ key: 'Escape', cap: 'Esc', words: 'leave', does: onLeave }], { inForms: true });
  return (
    <div className="room-form">
      <FormPanel
        form={form}
        context={context}
        missing={[]}
        openedBy={openedBy}
        busy={false}
        whyNotEnter={() => null}
        onAsked={onAsked}
        onTouch={() => {}}
        onAsking={() => {}}
        onLeave={onLeave}
        right={null}
      />
    </div>
  );
}

function context(): FormContext {
  const { wallMs, offsetMin, settings, regimens, whoMay } = snapshotNow() ?? {
    whoMay: { kind: 'as typed' as const },
    wallMs: 0,
    offsetMin: 0,
    settings: DEFAULT_SETTINGS,
    regimens: REGIMENS,
  };
  const about = { eye: null, item: null, overriding: false, going: null };
  return { view: null, settings, regimens, whoMay, wallMs, offsetMin, ...about };
}

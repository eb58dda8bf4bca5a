import { useEffect, useRef } from 'react';
import { KeyCap } from '../parts/key-cap.tsx';
import { useToldKeys } from '../parts/key-help.ts';
import './recovery-code.css';

/** The code for the clinic's safe, until somebody has said that it is written down. */
export function RecoveryCode({ code, onWritten }: { code: string; onWritten: () => void }) {
  const done = useRef<HTMLButtonElement>(null);
  useEffect(() => done.current?.focus(), []);
  useToldKeys([WRITTEN]);
  return (
    <section className="recovery-code" aria-label="recovery code">
      <h1 className="title">recovery code</h1>
      <p>
        Write it down and keep it in the clinic's safe. With it an administrator who cannot sign in gets a new PIN. It
        is kept nowhere else and shown this once: without code and without PIN nobody, and no maker, can get into the
        roster.
      </p>
      <p className="recovery-code-signs" translate="no">
        {code}
      </p>
      <button ref={done} type="button" className="way-on" data-open="true" onClick={onWritten}>
        <span>{WRITTEN.words}</span>
        <KeyCap cap={WRITTEN.cap} calling />
      </button>
    </section>
  );
}

/** Heard by the button, which has the focus. */
const WRITTEN = { key: 'Enter', cap: 'Enter', words: 'it is written down' };

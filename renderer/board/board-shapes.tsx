import type { Notice } from './notices.ts';

/** Two upright bars: this stands still. As high as the letters beside it. */
export function HeldBars() {
  return (
    <svg className="board-shape" viewBox="0 0 64 76" aria-hidden="true">
      <path d="M 14 4 V 72 M 44 4 V 72" strokeWidth="14" />
    </svg>
  );
}

const NOTICE_PATHS: Record<Notice['shape'], string> = {
  warning: 'M 52 6 L 96 70 H 8 Z M 52 26 V 46 M 52 54 V 60',
  'broken line': 'M 0 38 H 38 M 38 14 V 62 M 66 14 V 62 M 66 38 H 104',
  'other session': 'M 24 38 A 28 28 0 1 1 80 38 A 28 28 0 1 1 24 38 M 52 22 V 40 L 64 46',
  rule: 'M 4 24 H 100 V 56 H 4 Z M 28 24 V 42 M 52 24 V 42 M 76 24 V 42',
  keys: 'M 4 10 H 100 V 66 H 4 Z M 24 28 H 26 M 51 28 H 53 M 78 28 H 80 M 30 48 H 74',
  restart: 'M 26 48 A 28 28 0 1 1 52 66 M 22 24 V 50 H 46',
};

export function NoticeShape({ shape }: { shape: Notice['shape'] }) {
  return (
    <svg className="board-notice-shape" viewBox="0 0 104 76" aria-hidden="true">
      <path d={NOTICE_PATHS[shape]} strokeWidth="9" />
    </svg>
  );
}

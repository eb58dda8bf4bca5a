import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import type { Language } from '../../../core/settings/language.ts';
import { BoardFace, type BoardFaceProps } from '../../../renderer/board/board-face.tsx';
import '../../../renderer/cues/cue-line.css';
import '../../../renderer/look/fonts.css';
import '../../../renderer/look/tokens.css';
import '../../../renderer/look/base.css';
import { LanguageHere } from '../../../renderer/words/language-here.ts';

/** What can be handed to a page. The cue is its words. */
export interface ShownFace extends Omit<BoardFaceProps, 'cue'> {
  readonly cue: string | null;
}

declare global {
  interface Window {
    showBoard(face: ShownFace, language?: Language): void;
  }
}

const place = document.getElementById('screen');
if (place === null) throw new Error('the page has no place for a screen');
const root = createRoot(place);
window.showBoard = ({ cue, ...face }, language = 'en') => {
  document.documentElement.lang = language;
  flushSync(() =>
    root.render(
      <LanguageHere value={language}>
        <BoardFace {...face} cue={<Cue words={cue} />} />
      </LanguageHere>,
    ),
  );
};

function Cue({ words }: { words: string | null }) {
  return (
    <div className="cue-line" role="status" data-trusted="false">
      {words !== null && (
        <p className="cue-line-shown">
          <span>{words}</span>
        </p>
      )}
    </div>
  );
}

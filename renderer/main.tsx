import { type ComponentType, StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { z } from 'zod';
import type { ScreenName } from '../core/protocol/messages.ts';
import { Board } from './board/board.tsx';
import { Console } from './console/console.tsx';
import { followHands } from './console/hands.ts';
import { followCues } from './cues/follow-cues.ts';
import { Ledger } from './ledger/ledger.tsx';
import { followDim } from './link/dim.ts';
import { followAnswers } from './link/requests.ts';
import { followStation } from './link/store.ts';
import { followKeyHelp } from './parts/key-help.ts';
import { InLanguage } from './words/in-language.tsx';
import './look/fonts.css';
import './look/tokens.css';
import './look/base.css';

// The page may not evaluate text as code, and a parser compiled by zod would try to.
z.config({ jitless: true });

const SCREENS: Record<ScreenName, ComponentType> = { console: Console, board: Board, ledger: Ledger };
const NAMES = Object.keys(SCREENS) as ScreenName[];

const named = NAMES.find((name) => window.location.pathname.startsWith(`/${name}`)) ?? 'console';
const Screen = SCREENS[named];
const place = document.getElementById('screen');
if (place === null) throw new Error('the page has no place for a screen');

document.title = named === 'console' ? 'Dimroom' : `Dimroom ${named}`;
followDim();
followAnswers();
followHands();
if (named !== 'board') followKeyHelp();
followStation(named);
if (named !== 'ledger') followCues(named);
createRoot(place).render(
  <StrictMode>
    {named === 'ledger' ? (
      <Screen />
    ) : (
      <InLanguage>
        <Screen />
      </InLanguage>
    )}
  </StrictMode>,
);

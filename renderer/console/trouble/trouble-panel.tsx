import type { SessionView } from '../../../core/protocol/view.ts';
import { KeyCap } from '../../parts/key-cap.tsx';
import { useToldKeys } from '../../parts/key-help.ts';
import { useKeys } from '../../parts/use-keys.ts';
import { SaidBelow } from '../said-below.tsx';
import type { Desk } from '../use-desk.ts';
import './trouble.css';

type Card = SessionView['troubleCards'][number];

interface TroublePanelProps {
  readonly view: SessionView;
  readonly chosen: Card['id'] | null;
  readonly desk: Desk;
}

/** What can be done about trouble here: the cards by number, or the one that was chosen. Reading enters nothing. */
export function TroublePanel({ view, chosen, desk }: TroublePanelProps) {
  const card = view.troubleCards.find(({ id }) => id === chosen);
  const keys = [
    ...(card === undefined ? cardKeys(view.troubleCards, desk) : [enterKey(card, desk)]),
    {
      cap: 'T',
      words: ALL_CARDS,
      hears: ({ key }: KeyboardEvent) => key.toLowerCase() === 't',
      does: desk.openTrouble,
    },
  ];
  useKeys((event) => {
    if (event.defaultPrevented || event.repeat) return;
    keys.find(({ hears }) => hears(event))?.does();
  });
  useToldKeys([...keys, LEAVE]);
  return (
    <section className="trouble" aria-label="trouble">
      {card === undefined ? (
        <CardList cards={view.troubleCards} onChoose={desk.chooseTrouble} />
      ) : (
        <OpenCard card={card} />
      )}
      <div className="dock">
        {card !== undefined && (
          <button type="button" className="way-on" data-open="true" onClick={() => void desk.meetTrouble(card.id)}>
            <span>{ENTER_WORDS}</span>
            <KeyCap cap="Enter" calling />
          </button>
        )}
        <button type="button" className="form-leave" onClick={desk.leave}>
          <KeyCap cap={LEAVE.cap} /> {LEAVE.words}
        </button>
        <SaidBelow said={desk.said} busy={desk.busy} />
      </div>
    </section>
  );
}

const ALL_CARDS = 'trouble: what is it?';
const ENTER_WORDS = 'stop pump and light, enter this';
/** Heard by the console around it. */
const LEAVE = { cap: 'Esc', words: 'leave, without effect' };

const cardKeys = (cards: readonly Card[], desk: Desk) =>
  cards.map(({ id, words }, index) => ({
    cap: String(index + 1),
    words,
    hears: ({ code }: KeyboardEvent) => /^(?:Digit|Numpad)([1-9])$/.exec(code)?.[1] === String(index + 1),
    does: () => desk.chooseTrouble(id),
  }));

/** On a button, Enter is the button's. */
const enterKey = ({ id }: Card, desk: Desk) => ({
  cap: 'Enter',
  words: ENTER_WORDS,
  hears: ({ key, target }: KeyboardEvent) => key === 'Enter' && !(target instanceof HTMLButtonElement),
  does: () => void desk.meetTrouble(id),
});

function CardList({ cards, onChoose }: { cards: readonly Card[]; onChoose: (id: Card['id']) => void }) {
  return (
    <>
      <h1 className="title">{ALL_CARDS}</h1>
      <ol className="trouble-list" aria-label="cards of trouble">
        {cards.map(({ id, words }, index) => (
          <li key={id}>
            <button type="button" className="trouble-choice" onClick={() => onChoose(id)}>
              <KeyCap cap={String(index + 1)} />
              <span>{words}</span>
            </button>
          </li>
        ))}
      </ol>
    </>
  );
}

function OpenCard({ card }: { card: Card }) {
  return (
    <>
      <h1 className="title">{card.words}</h1>
      <ol className="trouble-steps" aria-label="what to do">
        {card.steps.map((step, index) => (
          <li key={step}>
            <span className="trouble-number">{index + 1}</span>
            <span>{step}</span>
          </li>
        ))}
      </ol>
      <p className="trouble-source">{card.source}</p>
    </>
  );
}

import type { SessionView } from '../../../core/protocol/view.ts';
import { KeyCap } from '../../parts/key-cap.tsx';
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
  useKeys((event) => {
    if (event.defaultPrevented || event.repeat) return;
    const meant = card === undefined ? cardAt(event, view.troubleCards) : undefined;
    if (meant !== undefined) desk.chooseTrouble(meant.id);
    else if (event.key.toLowerCase() === 't') desk.openTrouble();
    else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement) && card !== undefined)
      void desk.meetTrouble(card.id);
  });
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
            <span>stop pump and light, enter this</span>
            <KeyCap cap="Enter" calling />
          </button>
        )}
        <button type="button" className="form-leave" onClick={desk.leave}>
          <KeyCap cap="Esc" /> leave, without effect
        </button>
        <SaidBelow said={desk.said} busy={desk.busy} />
      </div>
    </section>
  );
}

function cardAt({ code }: KeyboardEvent, cards: readonly Card[]): Card | undefined {
  const digit = /^(Digit|Numpad)([1-9])$/.exec(code);
  return digit === null ? undefined : cards[Number(digit[2]) - 1];
}

function CardList({ cards, onChoose }: { cards: readonly Card[]; onChoose: (id: Card['id']) => void }) {
  return (
    <>
      <h1 className="title">trouble: what is it?</h1>
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

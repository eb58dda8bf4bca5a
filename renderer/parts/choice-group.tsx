import type { KeyboardEvent } from 'react';
import type { Option } from './field.ts';
import { KeyCap } from './key-cap.tsx';
import { useToldKeys } from './key-help.ts';
import { numberKey } from './number-key.ts';
import './choice-group.css';

interface ChoiceGroupProps {
  readonly name: string;
  readonly options: readonly Option[];
  readonly value: string;
  readonly onChoose: (value: string) => void;
  /** Id of the words that name it, or the words themselves. */
  readonly label: string;
  readonly words?: string;
  readonly rows?: boolean;
  readonly numbered?: boolean;
  /** Shows the letter that chooses. */
  readonly lettered?: boolean;
  readonly told?: string | undefined;
}

/** One of a few: by the arrow keys, by its number, or by its first letter where the letter is its own. */
export function ChoiceGroup(props: ChoiceGroupProps) {
  const { name, options, value, onChoose, label, words, rows = false, told } = props;
  const { numbered = false, lettered = false } = props;
  const named = label === '' ? { 'aria-label': words } : { 'aria-labelledby': label };
  const first = Math.max(
    0,
    options.findIndex((option) => option.value === value),
  );
  useToldKeys([numbered ? BY_NUMBER : BY_LETTER]);
  const byKey = (event: KeyboardEvent<HTMLElement>) => {
    const chosen = optionAt(event, options, numbered);
    if (chosen === undefined) return;
    event.preventDefault();
    onChoose(chosen.value);
    event.currentTarget.querySelectorAll('input')[options.indexOf(chosen)]?.focus();
  };
  const look = ['choice', rows && 'choice-rows', lettered && 'choice-lettered'].filter(Boolean).join(' ');
  return (
    <div className={look} role="radiogroup" onKeyDown={byKey} aria-describedby={told} {...named}>
      {options.map((option, index) => (
        <label key={option.value} className="choice-option" data-chosen={option.value === value}>
          <input
            type="radio"
            name={name}
            data-field={index === first ? name : undefined}
            checked={option.value === value}
            onChange={() => onChoose(option.value)}
          />
          {numbered && <KeyCap cap={String(index + 1)} />}
          {lettered && <KeyCap cap={option.words.charAt(0).toUpperCase()} />}
          <span className="choice-words">{option.words}</span>
          {option.detail !== undefined && <span className="choice-detail">{option.detail}</span>}
        </label>
      ))}
    </div>
  );
}

const BY_NUMBER = { cap: '1 … 9', words: 'choose by number' };
const BY_LETTER = { cap: 'A … Z', words: 'choose by first letter' };

function optionAt(event: KeyboardEvent, options: readonly Option[], numbered: boolean): Option | undefined {
  if (event.ctrlKey || event.metaKey || event.altKey) return undefined;
  const number = numbered ? numberKey(event) : null;
  if (number !== null) return options[number - 1];
  const begun = options.filter(({ words }) => words.toLowerCase().startsWith(event.key.toLowerCase()));
  return event.key.length === 1 && begun.length === 1 ? begun[0] : undefined;
}

import { type KeyboardEvent, useId } from 'react';
import { ChoiceGroup } from './choice-group.tsx';
import { type ChoiceField, type Errors, type Field, type FigureField, unitName, type Values } from './field.ts';
import './form-field.css';

interface FormFieldProps {
  readonly field: Field;
  readonly values: Values;
  readonly errors: Errors;
  /** What was typed or chosen; `also` changes with it. */
  readonly onChange: (name: string, value: string, also?: Values) => void;
}

/** One field with its words, what is typed, and what is wrong with it. Its control has `data-field` for the focus. */
export function FormField({ field, values, errors, onChange }: FormFieldProps) {
  const id = useId();
  const error = errors[field.name];
  const told = error === undefined ? undefined : `${id}-error`;
  return (
    <div className={`form-field form-field-${field.kind}`} data-bad={error !== undefined} data-wide={isWide(field)}>
      {field.kind === 'text' || field.kind === 'figure' ? (
        <label htmlFor={id}>{field.words}</label>
      ) : (
        <span className="form-field-words" id={`${id}-words`}>
          {field.words}
        </span>
      )}
      <div className="form-field-control">
        <Control id={id} field={field} values={values} told={told} onChange={onChange} />
        {(field.hint ?? '') !== '' && <span className="form-field-hint">{field.hint}</span>}
      </div>
      {field.kind === 'answer' && field.advice !== undefined && <p className="form-field-advice">{field.advice}</p>}
      {error !== undefined && (
        <p className="form-field-error" id={told}>
          {error}
        </p>
      )}
    </div>
  );
}

const isWide = (field: Field): boolean => field.kind === 'choice' && field.wide === true;

interface ControlProps extends Omit<FormFieldProps, 'errors'> {
  readonly id: string;
  readonly told: string | undefined;
}

function Control({ id, field, values, told, onChange }: ControlProps) {
  const value = values[field.name] ?? '';
  const choose = (chosen: string) => onChange(field.name, chosen);
  if (field.kind === 'choice') {
    return <Choice id={id} field={field} value={value} told={told} onChoose={choose} />;
  }
  if (field.kind === 'answer') {
    return (
      <ChoiceGroup
        label={`${id}-words`}
        name={field.name}
        options={YES_NO}
        value={value}
        told={told}
        onChoose={choose}
      />
    );
  }
  const { upper = false, letters, secret = false } = field.kind === 'text' ? field : { letters: 7 };
  return (
    <>
      <input
        id={id}
        type={secret ? 'password' : 'text'}
        autoComplete={secret ? 'new-password' : 'off'}
        autoCapitalize="off"
        spellCheck={false}
        data-field={field.name}
        data-letters={
          letters !== undefined && letters <= 8 ? 'few' : letters !== undefined && letters <= 24 ? 'some' : 'many'
        }
        inputMode={secret ? 'numeric' : field.kind === 'figure' ? 'decimal' : 'text'}
        aria-invalid={told !== undefined}
        aria-describedby={told}
        value={value}
        onChange={(event) => choose(upper ? event.target.value.toUpperCase() : event.target.value)}
        onKeyDown={field.kind === 'figure' ? (event) => unitByLetter(event, field, value, onChange) : undefined}
      />
      {field.kind === 'figure' && <Unit field={field} values={values} onChange={onChange} />}
    </>
  );
}

const YES_NO = [
  { value: 'yes', words: 'yes' },
  { value: 'no', words: 'no' },
] as const;

interface ChoiceProps {
  readonly id: string;
  readonly field: ChoiceField;
  readonly value: string;
  readonly told: string | undefined;
  readonly onChoose: (value: string) => void;
}

function Choice({ id, field, value, told, onChoose }: ChoiceProps) {
  const { name, options, rows = false, lettered = false } = field;
  return (
    <ChoiceGroup
      label={`${id}-words`}
      {...{ name, options, value, rows, told, onChoose, lettered }}
      numbered={!lettered}
    />
  );
}

function Unit({ field, values, onChange }: { field: FigureField } & Pick<FormFieldProps, 'values' | 'onChange'>) {
  const { units } = field;
  if (units === undefined)
    return field.unit === undefined ? null : <span className="form-field-unit">{field.unit}</span>;
  const name = unitName(field.name);
  const options = units.map((unit) => ({ value: unit, words: unit }));
  const choose = (unit: string) => onChange(name, unit);
  return (
    <ChoiceGroup
      name={name}
      label=""
      words={`unit of ${field.words}`}
      options={options}
      value={values[name] ?? ''}
      onChoose={choose}
    />
  );
}

/**
 * `m` typed after a figure means metres: it chooses the unit instead of spoiling the figure. Between feet and inches the
 * letter parts the two.
 */
function unitByLetter(
  event: KeyboardEvent,
  { name, units }: FigureField,
  value: string,
  onChange: FormFieldProps['onChange'],
): void {
  if (event.ctrlKey || event.metaKey || event.altKey || !/^[a-z]$/i.test(event.key)) return;
  const letter = event.key.toLowerCase();
  const unit = units?.find((one) => one.startsWith(letter) && !(letter === 'm' && one === 'cm'));
  event.preventDefault();
  if (unit === undefined) return;
  const parted = unit === 'ft in' && /^\d+$/.test(value.trim());
  onChange(unitName(name), unit, parted ? { [name]: `${value.trim()} ` } : {});
}

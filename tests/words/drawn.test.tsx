import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import type { Language } from '../../core/settings/language.ts';
import { LanguageHere } from '../../renderer/words/language-here.ts';
import { useSay } from '../../renderer/words/use-say.ts';

const drawn = (language: Language, what: React.ReactNode): string =>
  renderToStaticMarkup(<LanguageHere value={language}>{what}</LanguageHere>);

/** Elements are made where they are drawn, as a screen makes them. */
const Screen = ({ children }: { children: () => React.ReactNode }) => children();
const inGerman = (what: () => React.ReactNode): string => drawn('de', <Screen>{what}</Screen>);
const inEnglish = (what: () => React.ReactNode): string => drawn('en', <Screen>{what}</Screen>);

describe('what a tag holds is drawn in the language of its place', () => {
  test('words alone', () => {
    expect(inGerman(() => <p>right eye</p>)).toBe('<p>rechtes Auge</p>');
  });

  test('words and figures that follow each other, as one sentence', () => {
    const day = '2027-03-31';
    expect(inGerman(() => <p>the vial expired on {day}</p>)).toBe(
      '<p>die Durchstechflasche ist am 31.03.2027 verfallen</p>',
    );
    expect(inGerman(() => <p>right eye: {false}height and weight</p>)).toBe('<p>rechtes Auge: Größe und Gewicht</p>');
  });

  test('words before and after another tag, each by itself, with their spaces', () => {
    const what = () => (
      <p>
        right eye <b>yes</b> left eye
      </p>
    );
    expect(inGerman(what)).toBe('<p>rechtes Auge <b>ja</b> linkes Auge</p>');
  });

  test('words without a tag of their own', () => {
    const what = () => (
      <p>
        <Given />
      </p>
    );
    expect(inGerman(what)).toBe('<p><b>ja</b> 12,5 von 50 J/cm²</p>');
  });

  test('words that are read out', () => {
    expect(inGerman(() => <section aria-label="light window" />)).toBe('<section aria-label="Lichtfenster"></section>');
    expect(inGerman(() => <input placeholder="yes" value="yes" readOnly />)).toContain('placeholder="ja"');
    expect(inGerman(() => <input placeholder="yes" value="yes" readOnly />)).toContain('value="yes"');
  });
});

test('what somebody typed is left as it is', () => {
  expect(inGerman(() => <p translate="no">yes</p>)).toBe('<p translate="no">yes</p>');
});

test('a sentence that is not known stays English, and the tag says so', () => {
  expect(inGerman(() => <p>nothing of the kind</p>)).toBe('<p lang="en">nothing of the kind</p>');
});

test('English is drawn as it was written', () => {
  const what = () => (
    <section aria-label="light window" title="yes">
      the vial expired on {'2027-03-31'}, {12.5} mg <b translate="no">yes</b>
    </section>
  );
  const written =
    '<section aria-label="light window" title="yes">the vial expired on 2027-03-31, 12.5 mg <b translate="no">yes</b></section>';
  expect(inEnglish(what)).toBe(written);
});

test('a part of a screen may speak another language than the rest', () => {
  const ledger = () => (
    <div>
      <p>yes</p>
      <LanguageHere value="en">
        <Screen>{() => <p>yes</p>}</Screen>
      </LanguageHere>
    </div>
  );
  expect(inGerman(ledger)).toBe('<div><p>ja</p><p>yes</p></div>');
});

test('who measures words measures those that are drawn', () => {
  expect(drawn('de', <Measured />)).toBe('<p data-letters="12">rechtes Auge</p>');
  expect(drawn('en', <Measured />)).toBe('<p data-letters="9">right eye</p>');
});

function Measured() {
  const say = useSay();
  return <p data-letters={say('right eye').length}>right eye</p>;
}

const Given = () => (
  <>
    <b>yes</b> {12.5} of {50} J/cm²
  </>
);

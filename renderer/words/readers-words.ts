import { Fragment, use } from 'react';
import type { Language } from '../../core/settings/language.ts';
import { LanguageHere } from './language-here.ts';
import { said } from './say.ts';

/** What is read aloud or shown beside an element's own words. */
const READ_OUT = ['aria-label', 'title', 'placeholder', 'alt'] as const;

/**
 * An element's properties with all that is read in the language of the place. Words that follow each other are one
 * sentence. Left as it is: whatever is not a tag, and what says `translate="no"`: words and codes that people typed.
 *
 * Where a sentence is not known in that language it stays English, and the tag says so (`lang`), for whoever reads it out.
 */
export function inReadersWords(type: unknown, props: unknown): unknown {
  if (typeof type !== 'string' && type !== Fragment) return props;
  if (!isTagProps(props) || props.translate === 'no' || !hasWords(props)) return props;
  const language = use(LanguageHere);
  return language === 'en' ? props : translated(type, props, language);
}

type TagProps = Readonly<Record<string, unknown>>;

const isTagProps = (props: unknown): props is TagProps => typeof props === 'object' && props !== null;

const isText = (child: unknown): child is string | number => typeof child === 'string' || typeof child === 'number';

const hasWords = (props: TagProps): boolean =>
  (Array.isArray(props.children) ? props.children.some(isText) : isText(props.children)) ||
  READ_OUT.some((name) => typeof props[name] === 'string');

function translated(type: unknown, props: TagProps, language: Language): TagProps {
  let known = true;
  const inWords = (text: string): string => {
    const words = said(text, language);
    known &&= words.known;
    return words.text;
  };
  const readOut = READ_OUT.flatMap((name) => {
    const text = props[name];
    return typeof text === 'string' ? [[name, inWords(text)] as const] : [];
  });
  const { children } = props;
  const drawn = Array.isArray(children)
    ? joined(children).map((child) => (isText(child) ? inWords(String(child)) : child))
    : children;
  const next = {
    ...props,
    ...Object.fromEntries(readOut),
    ...('children' in props ? { children: isText(drawn) ? inWords(String(drawn)) : drawn } : {}),
  };
  return known || type === Fragment || 'lang' in props ? next : { ...next, lang: 'en' };
}

/** Words with nothing drawn between them make one sentence. Each child keeps its place: it is known by that. */
function joined(children: readonly unknown[]): readonly unknown[] {
  const drawn = [...children];
  let first: number | null = null;
  drawn.forEach((child, index) => {
    if (!isText(child)) {
      if (isDrawn(child)) first = null;
    } else if (first === null) first = index;
    else {
      drawn[first] = `${drawn[first]}${child}`;
      drawn[index] = null;
    }
  });
  return drawn;
}

const isDrawn = (child: unknown): boolean => child !== null && child !== undefined && typeof child !== 'boolean';

import type { Sha256 } from '../../ledger/entry.ts';
import { PRACTICE_MARK } from '../marks.ts';

type Json = string | number | boolean | null | readonly Json[] | { readonly [name: string]: Json | undefined };

/** A FHIR R4 resource as plain JSON. What it has to hold is checked by two independent validators in the tests. */
export interface Resource {
  readonly resourceType: string;
  readonly id: string;
  readonly [name: string]: Json | undefined;
}

/** Everything in a bundle is named and marked by one of these: of one ledger's file, practice or not. */
export interface Naming {
  readonly fileId: string;
  readonly practice: boolean;
  readonly sha256: Sha256;
}

/** Our own codes and identifiers belong to this namespace; the part after # says which. */
const OWN = 'urn:uuid:6b1f0d52-3a5e-8c47-9d20-51c9a1e5f7b4';

/** A standard security label, HL7 ActReason version 3: test health data. */
const TEST_DATA = {
  system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
  code: 'HTEST',
  display: 'test health data',
};

/** An identifier that only the ledger's own file gives out. */
export const identifierIn = ({ fileId }: Naming, what: string, value: string) => ({
  system: `urn:uuid:${fileId}#${what}`,
  value,
});

export const ownCoding = (what: string, code: string, display: string) => ({ system: `${OWN}#${what}`, code, display });
export const ownUrl = (what: string): string => `${OWN}#${what}`;

/** The marks of practice, for a resource's `meta`; nothing otherwise. */
export function metaOf({ practice }: Naming, more: { readonly profile?: readonly string[] } = {}) {
  const marks = practice ? { security: [TEST_DATA], tag: [ownCoding('marks', 'PRACTICE', PRACTICE_MARK)] } : {};
  const meta = { ...more, ...marks };
  return Object.keys(meta).length === 0 ? {} : { meta };
}

/** A resource with its identity, marks, and what it says in words for a reader. `name` is its own within the file. */
export function resource(
  naming: Naming,
  resourceType: string,
  name: string,
  words: readonly string[],
  content: { readonly [field: string]: Json | undefined },
  profile?: readonly string[],
): Resource {
  return {
    resourceType,
    id: idOf(naming, name),
    ...metaOf(naming, profile === undefined ? {} : { profile }),
    text: narrative(naming.practice ? [PRACTICE_MARK, ...words] : words),
    ...(printable(content) as typeof content),
  };
}

/** FHIR's strings hold no control characters but tab and line ends: what people wrote may. Each stands as a space. */
function printable(value: Json | undefined): Json | undefined {
  if (typeof value === 'string') return value.replace(UNPRINTABLE, ' ');
  if (value === null || typeof value !== 'object') return value;
  if (isList(value)) return value.map((one) => printable(one) ?? null);
  return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, printable(inner)]));
}

const isList = (value: object): value is readonly Json[] => Array.isArray(value);

/** Nor has XML a place for them, or for the last two of these. */
const UNPRINTABLE = /(?![\t\r\n])[\p{Cc}\uFFFE\uFFFF]/gu;

/** Within the bundle: resolved against the address of the resource that refers (R4, resolving references in bundles). */
export const referenceTo = ({ resourceType, id }: Resource) => ({ reference: `${resourceType}/${id}` });

/**
 * Where a resource stands in its bundle. The address is nobody's and never will be: `.invalid` is kept free for that
 * (RFC 2606). It has the shape of a server's, since references within are then of a kind that says what they refer to.
 */
export const addressOf = ({ fileId }: Naming, { resourceType, id }: Resource): string =>
  `https://dimroom.invalid/${fileId.replaceAll('-', '')}/${resourceType}/${id}`;

/** The same name in the same file has the same identity, export after export: a UUID of version 8 (RFC 9562) from a hash. */
export function idOf({ fileId, sha256 }: Naming, name: string): string {
  const hex = sha256(`${fileId}/${name}`);
  const variant = '89ab'[Number.parseInt(hex.slice(16, 17), 16) % 4];
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `${variant}${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ].join('-');
}

const narrative = (words: readonly string[]) => ({
  status: 'generated',
  div: `<div xmlns="http://www.w3.org/1999/xhtml">${words.map((line) => `<p>${escaped(line)}</p>`).join('')}</div>`,
});

const SIGNS: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

const escaped = (text: string): string =>
  text.replace(UNPRINTABLE, ' ').replace(/[&<>"]/g, (sign) => SIGNS[sign] ?? sign);

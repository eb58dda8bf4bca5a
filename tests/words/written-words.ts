import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { parseSync } from 'vite';

const ROOT = resolve(import.meta.dirname, '../..');

/** English that stands in the program's own text, with `{}` wherever the program puts something in. */
export interface Written {
  readonly text: string;
  readonly file: string;
}

/** Every sentence and label written in these folders and files: literals of several words, and what tags hold. */
export function writtenIn(places: readonly string[]): Written[] {
  return places.flatMap(sourcesIn).flatMap((file) => {
    const source = readFileSync(join(ROOT, file), 'utf8');
    const texts = new Set<string>();
    collect({ ...parseSync(file, source).program }, [], texts);
    return [...texts].map((text) => ({ text, file }));
  });
}

function sourcesIn(place: string): string[] {
  if (/\.tsx?$/.test(place)) return [place];
  return readdirSync(join(ROOT, place), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)));
}

interface Node {
  readonly type: string;
  readonly [name: string]: unknown;
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string';

/** What is never read by people. */
const PASSED_OVER = [
  'ImportDeclaration',
  'TSTypeAnnotation',
  'TSTypeAliasDeclaration',
  'TSInterfaceDeclaration',
  'TSTypeParameterInstantiation',
];
const UNREAD_NAMES = [
  'className',
  'd',
  'viewBox',
  'points',
  'query',
  'transform',
  'id',
  'key',
  'spoken',
  'indication',
  'source',
];
const READ_ATTRIBUTES = ['aria-label', 'title', 'placeholder', 'alt', 'label', 'words'];

function collect(node: Node, above: readonly Node[], texts: Set<string>): void {
  if (PASSED_OVER.includes(node.type) || isUnread(node)) return;
  const path = [...above, node];
  if (node.type === 'JSXElement' || node.type === 'JSXFragment') {
    for (const run of runsOf(node)) texts.add(run);
  }
  if (node.type === 'TemplateLiteral') addIfWords(templateOf(node), texts);
  else if (node.type === 'BinaryExpression' && node.operator === '+') addIfWords(summed(node), texts);
  else if (node.type === 'Literal' && typeof node.value === 'string') {
    const parent = above.at(-1);
    const read = parent?.type === 'JSXAttribute' && READ_ATTRIBUTES.includes(nameOf(parent.name));
    if (read && /\p{L}{2}/u.test(node.value)) texts.add(node.value);
    else addIfWords(node.value, texts);
  }
  if (node.type === 'BinaryExpression' && node.operator === '+' && summed(node).includes(' ')) return;
  for (const value of Object.values(node)) {
    for (const inner of Array.isArray(value) ? value : [value]) if (isNode(inner)) collect(inner, path, texts);
  }
}

const nameOf = (name: unknown): string => (isNode(name) ? String(name.name ?? name.value ?? '') : '');

/** Attributes and properties that no reader sees. */
function isUnread(node: Node): boolean {
  if (node.type === 'JSXAttribute') return UNREAD_NAMES.includes(nameOf(node.name));
  if (node.type === 'Property') return UNREAD_NAMES.includes(nameOf(node.key));
  return node.type === 'CallExpression' && isNode(node.callee) && isToOneself(node.callee);
}

/** What a program says to whoever runs it. */
const isToOneself = ({ type, object }: Node): boolean =>
  type === 'MemberExpression' && isNode(object) && object.name === 'console';

/** A sentence or a label of several words; one word alone may be a name in the program. */
function addIfWords(text: string, texts: Set<string>): void {
  if (/\p{Ll}{2}.*[ ]|[ ].*\p{Ll}{2}/u.test(text) && !/^[MLAHVCZ] [\d.{}-]/.test(text)) texts.add(text);
}

function templateOf({ quasis, expressions }: Node): string {
  const fixed = (quasis as { value: { cooked: string } }[]).map(({ value }) => value.cooked);
  return fixed.map((text, index) => (index < (expressions as unknown[]).length ? `${text}{}` : text)).join('');
}

/** Literals put together with `+`. */
function summed(node: unknown): string {
  if (!isNode(node)) return '{}';
  if (node.type === 'BinaryExpression' && node.operator === '+') return `${summed(node.left)}${summed(node.right)}`;
  if (node.type === 'Literal' && typeof node.value === 'string') return node.value;
  return node.type === 'TemplateLiteral' ? templateOf(node) : '{}';
}

/** The words of a tag as they are read: what stands between two drawn things is one sentence. */
function runsOf({ children }: Node): string[] {
  const runs: string[] = [''];
  const add = (text: string): void => void runs.push(`${runs.pop()}${text}`);
  for (const child of children as Node[]) {
    if (child.type === 'JSXText') add(textOf(String(child.value)));
    else if (child.type === 'JSXExpressionContainer') add(expressionText(child.expression));
    else runs.push('');
  }
  return runs.map((run) => run.trim()).filter((run) => /\p{L}{2}/u.test(run.replaceAll('{}', '')));
}

/** As a tag has it: lines that are broken go on after a space, and what is indented alone is nothing. */
const textOf = (text: string): string => text.replace(/^\s*\n\s*|\s*\n\s*$/g, '').replace(/\s*\n\s*/g, ' ');

function expressionText(expression: unknown): string {
  if (!isNode(expression)) return '';
  if (expression.type === 'Literal' && typeof expression.value === 'string') return expression.value;
  return expression.type === 'TemplateLiteral' ? templateOf(expression) : '{}';
}

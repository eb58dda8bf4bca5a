import { findNodeAtLocation, type JSONPath, type ParseError, parseTree } from 'jsonc-parser';

/** The line, counted from 1, on which the value at `path` stands in a JSON text; that of what holds it, if it is missing. */
export function lineOfPath(json: string, path: readonly PropertyKey[]): number {
  const tree = parseTree(json);
  if (tree === undefined) return 1;
  for (let length = path.length; length >= 0; length -= 1) {
    const node = findNodeAtLocation(tree, path.slice(0, length) as JSONPath);
    if (node !== undefined) return lineAt(json, node.offset);
  }
  return 1;
}

/** The line, counted from 1, on which a text stops being JSON. */
export function lineOfFault(json: string): number {
  const errors: ParseError[] = [];
  parseTree(json, errors, { disallowComments: true, allowTrailingComma: false, allowEmptyContent: false });
  return lineAt(json, errors[0]?.offset ?? 0);
}

const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length;

import { findNodeAtLocation, type JSONPath, parseTree } from 'jsonc-parser';

/** The line, counted from 1, on which the value at `path` stands in a JSON text; that of what holds it, if it is missing. */
export function lineOfPath(json: string, path: readonly PropertyKey[]): number {
  const tree = parseTree(json);
  if (tree === undefined) return 1;
  for (let length = path.length; length >= 0; length -= 1) {
    const node = findNodeAtLocation(tree, path.slice(0, length) as JSONPath);
    if (node !== undefined) return json.slice(0, node.offset).split('\n').length;
  }
  return 1;
}

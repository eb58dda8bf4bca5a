import { afterAll, afterEach, beforeAll, beforeEach, expect, onTestFinished } from 'vitest';

/**
 * Stands in for vitest where tests are run again and again in one process: `expect` is vitest's own, tests are only
 * collected. What needs more of vitest than this is refused, so that no test seems to have run.
 */
export { afterAll, afterEach, beforeAll, beforeEach, expect, onTestFinished };

// No worker of vitest is here to know the file that a matcher asks for.
expect.setState({ testPath: undefined });

const collected = [];
const taken = new Map();
let file = '';
const suites = [];

/** Reads test files, one after the other, and gives their tests in that order. */
export async function testsOf(files, load) {
  for (file of files) await load(file);
  return collected;
}

export const test = withRows((name, body) => {
  const words = [...suites, name].join(' ');
  const place = `${file}#${words}`;
  const nth = (taken.get(place) ?? 0) + 1;
  taken.set(place, nth);
  collected.push({ id: nth === 1 ? place : `${place} (${nth})`, name: words, file, run: body });
});

export const describe = withRows((name, body) => {
  suites.push(name);
  body();
  suites.pop();
});

/** As vitest has it: `each` with a list of rows, and rows that are lists are handed over as arguments. */
function withRows(make) {
  const one = (name, ...rest) => make(name, bodyOf(rest));
  one.each =
    (rows) =>
    (name, ...rest) => {
      const body = bodyOf(rest);
      for (const row of rows) make(name, () => (Array.isArray(row) ? body(...row) : body(row)));
    };
  return one;
}

const bodyOf = (rest) => rest.find((one) => typeof one === 'function');

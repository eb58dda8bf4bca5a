import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * What a run over mutants left open: survivors that no entry of `explained.json` explains, and entries whose mutant is
 * gone. `node tests/mutants/unexplained.mjs [--entries] [report …]`; later reports stand over earlier ones, so that a
 * part may be run again. With `--entries` the survivors are printed as entries that lack their `why`.
 */
const SURVIVED = ['Survived', 'NoCoverage'];
const COLUMNS = [
  ['killed', ['Killed']],
  ['survived', ['Survived']],
  ['no coverage', ['NoCoverage']],
  ['timed out', ['Timeout']],
  ['static left out', ['Ignored']],
];

const words = process.argv.slice(2);
const reports = words.filter((word) => word !== '--entries');
const explained = JSON.parse(readFileSync(join(import.meta.dirname, 'explained.json'), 'utf8'));
const mutants = mutantsOf(reports.length === 0 ? ['/tmp/dimroom-mutants.json'] : reports);

const reported = new Set(mutants.map(({ file }) => file));
const explainedKeys = new Set(explained.map(keyOf));
const mutantKeys = new Set(mutants.map(keyOf));
const open = mutants.filter((mutant) => SURVIVED.includes(mutant.status) && !explainedKeys.has(keyOf(mutant)));
const stale = explained.filter((entry) => reported.has(entry.file) && !mutantKeys.has(keyOf(entry)));

if (words.includes('--entries')) {
  const entries = open.map(({ file, line, from, to }) => ({ file, line, from, to, why: '' }));
  console.log(JSON.stringify(entries, null, 2));
} else {
  for (const folder of new Set(mutants.map(folderOf))) {
    console.log(`${folder}: ${scoreOf(mutants.filter((mutant) => folderOf(mutant) === folder))}`);
  }
  console.log(`\nsurvivors without an explanation: ${open.length}`);
  for (const { file, at, from, to } of open) console.log(`${file}:${at}  ${short(from)} -> ${short(to)}`);
  console.log(`\nexplanations that fit no mutant any more: ${stale.length}`);
  for (const { file, line, from, to } of stale) console.log(`${file}  "${line}"  ${short(from)} -> ${short(to)}`);
}
process.exitCode = open.length + stale.length === 0 ? 0 : 1;

function mutantsOf(paths) {
  const sources = new Map();
  const byPlace = new Map();
  for (const { files } of paths.map((path) => JSON.parse(readFileSync(path, 'utf8')))) {
    for (const [file, { source, mutants: within }] of Object.entries(files)) {
      if (sources.get(file) !== source) byPlace.set(file, new Map());
      sources.set(file, source);
      for (const mutant of within) byPlace.get(file).set(placeOf(mutant), read(file, source, mutant));
    }
  }
  return [...byPlace.keys()].sort().flatMap((file) => [...byPlace.get(file).values()].sort((a, b) => a.at - b.at));
}

function placeOf({ location: { start, end }, replacement }) {
  return JSON.stringify([start.line, start.column, end.line, end.column, replacement]);
}

function read(file, source, { location: { start, end }, replacement, status }) {
  const lines = source.split('\n');
  const piece = lines.slice(start.line - 1, end.line);
  piece.push(piece.pop().slice(0, end.column - 1));
  piece[0] = piece[0].slice(start.column - 1);
  return { file, at: start.line, line: lines[start.line - 1].trim(), from: piece.join('\n'), to: replacement, status };
}

function folderOf({ file }) {
  return file.split('/').slice(0, 2).join('/');
}

function keyOf({ file, line, from, to }) {
  return JSON.stringify([file, line, from, to]);
}

function scoreOf(within) {
  const count = (statuses) => within.filter(({ status }) => statuses.includes(status)).length;
  const counts = COLUMNS.map(([name, statuses]) => `${name} ${count(statuses)}`).join(', ');
  const detected = count(['Killed', 'Timeout']);
  return `${counts}, score ${((detected / (detected + count(SURVIVED))) * 100).toFixed(1)} %`;
}

function short(text) {
  return text.replaceAll(/\s+/g, ' ');
}

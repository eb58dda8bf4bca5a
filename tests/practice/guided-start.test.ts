import { describe, expect, test } from 'vitest';
import { stationWords } from '../../electron/carrier/station-words.ts';
import { readChoices } from '../../electron/shell/choices.ts';

describe('guided practice is started', () => {
  test('as practice, six times as fast', () => {
    expect(stationWords({ data: 'here', guided: true })).toEqual([
      ...['--data', 'here', '--practice', '--speed', '6', '--guided'],
    ]);
  });

  test('at the speed that is said', () => {
    expect(stationWords({ data: 'here', guided: true, speed: '2' })).toEqual([
      ...['--data', 'here', '--practice', '--speed', '2', '--guided'],
    ]);
  });

  test('and practice that is not guided has no speed of its own', () => {
    expect(stationWords({ data: 'here', practice: true })).toEqual(['--data', 'here', '--practice']);
  });

  test('from the command line of the windows, which know it for practice', () => {
    const choices = readChoices(['electron', '--guided', '--no-sandbox', '.']);
    expect(choices).toMatchObject({ guided: true, practice: true, speed: undefined });
    expect(stationWords({ ...choices, data: 'here' })).toContain('--guided');
  });
});

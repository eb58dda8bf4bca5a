import { describe, expect, test } from 'vitest';
import { createArming } from '../../renderer/console/arming.ts';

/** A key on a clock that is moved by hand. */
function aKey() {
  let nowMs = 10_000;
  const key = createArming(() => nowMs);
  return {
    ...key,
    wait: (ms: number) => {
      nowMs += ms;
    },
  };
}

describe('what Enter confirms', () => {
  test('it confirms what has stood for 700 ms', () => {
    const key = aKey();
    key.see('pump on');
    key.wait(699);
    expect(key.armed()).toBe(false);
    key.wait(1);
    expect(key.armed()).toBe(true);
  });

  test('what changes under the finger has to stand anew', () => {
    const key = aKey();
    key.see('pump on');
    key.wait(5_000);
    key.see('pump off');
    expect(key.armed()).toBe(false);
    key.wait(700);
    expect(key.armed()).toBe(true);
  });

  test('what is seen again unchanged does not have to', () => {
    const key = aKey();
    key.see('pump on');
    key.wait(500);
    key.see('pump on');
    key.wait(200);
    expect(key.armed()).toBe(true);
  });

  test('a key that is held since before the change confirms nothing until it was let go', () => {
    const key = aKey();
    key.see('pump on');
    key.wait(1_000);
    key.press();
    key.see('pump off');
    key.wait(60_000);
    expect(key.armed()).toBe(false);
    key.release();
    expect(key.armed()).toBe(true);
  });

  test('what was typed into a form is what Enter is pressed for: it need not wait', () => {
    const key = aKey();
    key.see('form hands');
    key.touch();
    expect(key.armed()).toBe(true);
    key.see('the next step');
    expect(key.armed()).toBe(false);
  });

  test('typing does not arm a key that is still held from before', () => {
    const key = aKey();
    key.press();
    key.see('form prepare');
    key.touch();
    expect(key.armed()).toBe(false);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { questionsAbout, readDecimal, readHeightCm, readWeightKg } from '../../core/dosing/body-entry.ts';

const height = (typed: string, unit: Parameters<typeof readHeightCm>[1] = 'cm') => readHeightCm(typed, unit);
const weight = (typed: string, unit: Parameters<typeof readWeightKg>[1] = 'kg') => readWeightKg(typed, unit);
const ids = (heightCm: number, weightKg: number) => questionsAbout(heightCm, weightKg).map((one) => one.id);

describe('a height as typed', () => {
  test.each([
    ['168', 'cm', 168],
    [' 168 ', 'cm', 168],
    ['167,5', 'cm', 167.5],
    ['1.68', 'm', 168],
    ['1,15', 'm', 115],
    ['2', 'm', 200],
    ['5 8', 'ft in', 172.72],
    ["5'8", 'ft in', 172.72],
    ['5\'8"', 'ft in', 172.72],
    ["5'8''", 'ft in', 172.72],
    ['5 ft 8 in', 'ft in', 172.72],
    ['5ft8', 'ft in', 172.72],
    [' 5 8 ', 'ft in', 172.72],
    ['5 8.5', 'ft in', 173.99],
    ['5 8,5', 'ft in', 173.99],
    ['6 ft', 'ft in', 182.88],
    ["6'", 'ft in', 182.88],
  ] as const)('"%s" in %s is %d cm', (typed, unit, heightCm) => {
    expect(height(typed, unit)).toEqual({ ok: true, value: heightCm });
  });

  test.each([
    ['5', 'ft in'],
    ['5 ', 'ft in'],
    ['68', 'ft in'],
    ['68 ', 'ft in'],
    ['5.67', 'ft in'],
    ['5 12', 'ft in'],
    ['5 8 1', 'ft in'],
    ['-5 8', 'ft in'],
    ['five eight', 'ft in'],
    ['', 'ft in'],
  ] as const)('"%s" in %s is refused, with an example of how to write it', (typed, unit) => {
    expect(says(height(typed, unit))).toMatch(/^Enter the height as feet and inches, for example 5 8/);
  });

  test('in the wrong unit is refused with what it would be', () => {
    expect(says(height('1.68', 'cm'))).toBe('Height is 50 to 250 cm; 1.68 cm is 1.68 cm. Check figure and unit.');
    expect(says(height('168', 'm'))).toBe('Height is 50 to 250 cm; 168 m is 16800 cm. Check figure and unit.');
    expect(says(height('16 8', 'ft in'))).toMatch(/16 8 ft in is 508 cm\. Check figure and unit\.$/);
  });
});

describe('a weight as typed', () => {
  test.each([
    ['71.5', 'kg', 71.5],
    ['71,5', 'kg', 71.5],
    ['071.50', 'kg', 71.5],
    ['100', 'lb', 45.359237],
  ] as const)('"%s" in %s is %d kg', (typed, unit, weightKg) => {
    expect(weight(typed, unit)).toEqual({ ok: true, value: weightKg });
  });

  test('in the wrong unit is refused where it cannot be, with what it would be', () => {
    expect(says(weight('71500'))).toBe('Weight is 10 to 350 kg; 71500 kg is 71500 kg. Check figure and unit.');
    expect(says(weight('20', 'lb'))).toBe('Weight is 10 to 350 kg; 20 lb is 9.07 kg. Check figure and unit.');
  });
});

describe('one figure', () => {
  test.each(['1,234.5', '1.234,5', '71.', '.5', '71.5.1', '7 1', '71 kg', '-71', '+71', '7e1', '0x47', 'NaN', '٧١'])(
    '"%s" is refused, with an example of how to write it',
    (typed) => {
      const refused = says(readDecimal(typed, 'weight'));
      expect(refused).toContain('for example 71.5 or 71,5');
      expect(refused).toContain(`"${typed}"`);
    },
  );

  test('that is not there is asked for', () => {
    expect(says(readDecimal(' ', 'weight'))).toBe('Enter the weight.');
  });

  test('with a decimal comma is the one with a decimal point', () => {
    fc.assert(
      fc.property(fc.nat(400), fc.nat(999), (whole, part) => {
        const point = readDecimal(`${whole}.${part}`, 'weight');
        expect(readDecimal(`${whole},${part}`, 'weight')).toEqual(point);
        expect(point).toEqual({ ok: true, value: Number(`${whole}.${part}`) });
      }),
    );
  });

  test('is never guessed at: any text is either refused with what to do, or the figure it says', () => {
    const typed = fc.oneof(fc.string(), fc.stringMatching(/^[0-9.,' ]{0,8}$/));
    fc.assert(
      fc.property(typed, (text) => {
        const read = readDecimal(text, 'height');
        if (read.ok) expect(read.value).toBe(Number(text.trim().replace(',', '.')));
        else expect(read.says).toMatch(/^Enter the height/);
      }),
    );
  });
});

describe('the same height or weight in two units is the same figure, so that two people agree', () => {
  test('every height by the centimetre, in cm and in m', () => {
    for (let heightCm = 50; heightCm <= 250; heightCm += 1) {
      expect(height((heightCm / 100).toFixed(2), 'm')).toEqual(height(String(heightCm)));
    }
  });

  test('every height by the millimetre, in cm and in m', () => {
    fc.assert(
      fc.property(fc.integer({ min: 500, max: 2500 }), (mm) => {
        expect(height((mm / 1000).toFixed(3), 'm')).toEqual(height((mm / 10).toFixed(1)));
      }),
    );
  });

  test('feet and inches there and back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 98 }), (inches) => {
        const read = height(`${Math.floor(inches / 12)} ${inches % 12}`, 'ft in');
        expect((read.ok ? read.value : Number.NaN) / 2.54).toBeCloseTo(inches, 9);
      }),
    );
  });

  test('pounds there and back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 230, max: 7710 }), (tenths) => {
        const read = weight((tenths / 10).toFixed(1), 'lb');
        expect((read.ok ? read.value : Number.NaN) / 0.45359237).toBeCloseTo(tenths / 10, 9);
      }),
    );
  });
});

describe('what is asked', () => {
  /** Adults from light to heavy: body mass index 18 to 40. */
  const adult = fc.record({
    heightCm: fc.integer({ min: 145, max: 200 }),
    index: fc.double({ min: 18, max: 40, noNaN: true }),
  });
  const weightOf = ({ heightCm, index }: { heightCm: number; index: number }) =>
    Number((index * (heightCm / 100) ** 2).toFixed(1));

  test('nothing about an adult from light to heavy', () => {
    fc.assert(
      fc.property(adult, (body) => {
        expect(ids(body.heightCm, weightOf(body))).toEqual([]);
      }),
    );
  });

  test.each([
    [120, 30, 119.9],
    [220, 100, 220.1],
  ])('nothing at %d cm with %d kg, and something at %d cm', (heightCm, weightKg, beyondCm) => {
    expect(ids(heightCm, weightKg)).toEqual([]);
    expect(ids(beyondCm, weightKg)).toEqual(['unusual']);
  });

  test.each([
    ['15', 60, 59.9],
    ['45', 180, 180.1],
  ])('nothing at a body mass index of %s, and something beyond it', (_index, weightKg, beyondKg) => {
    expect(ids(200, weightKg)).toEqual([]);
    expect(ids(200, beyondKg)).not.toEqual([]);
  });

  test('about height and weight in each other’s place, where both are possible figures', () => {
    const [question] = questionsAbout(71.5, 168);
    expect(question?.says).toBe("71.5 cm and 168 kg: are height and weight in each other's place?");
    fc.assert(
      fc.property(adult, (body) => {
        const weightKg = weightOf(body);
        if (weightKg >= 50) expect(ids(weightKg, body.heightCm)).toContain('swapped');
      }),
    );
  });

  test('about a weight in pounds entered as kilograms', () => {
    const [question] = questionsAbout(168, 157.6);
    expect(question?.says).toBe('168 cm and 157.6 kg: is the weight in lb? 157.6 lb is 71.5 kg.');
    expect(ids(152, 110)).toContain('weight-in-lb');
    expect(ids(178, 180)).toContain('weight-in-lb');
  });

  test('about a weight in kilograms entered as pounds', () => {
    const read = weight('71.5', 'lb');
    const [question, ...more] = questionsAbout(168, read.ok ? read.value : 0);
    expect(question?.id).toBe('weight-in-kg');
    expect(question?.says).toBe('168 cm and 32.4 kg: is the weight in kg, and entered as lb? Then it is 71.5 kg.');
    expect(more).toEqual([]);
  });

  test('about a height in inches entered as centimetres', () => {
    const [question, ...more] = questionsAbout(66, 71.5);
    expect(question?.says).toBe('66 cm and 71.5 kg: is the height in inches? 66 in is 167.6 cm.');
    expect(more).toEqual([]);
  });

  test('about inches and pounds together', () => {
    expect(ids(66, 157.6)).toEqual(expect.arrayContaining(['height-in-inches', 'weight-in-lb']));
  });

  test('about a pair that is unusual and no likely slip, with its body mass index', () => {
    const [question, ...more] = questionsAbout(110, 30);
    expect(question?.id).toBe('unusual');
    expect(question?.says).toBe('110 cm and 30 kg: unusual together (body mass index 25). Measure again, or confirm.');
    expect(more).toEqual([]);
  });

  test('is a question and never another figure: height and weight stand in it as entered', () => {
    const body = fc.record({
      heightCm: fc.double({ min: 50, max: 250, noNaN: true }),
      weightKg: fc.double({ min: 10, max: 350, noNaN: true }),
    });
    fc.assert(
      fc.property(body, ({ heightCm, weightKg }) => {
        const shown = `${Number(heightCm.toFixed(1))} cm and ${Number(weightKg.toFixed(1))} kg: `;
        for (const { says: asked } of questionsAbout(heightCm, weightKg)) expect(asked.startsWith(shown)).toBe(true);
        expect(new Set(ids(heightCm, weightKg)).size).toBe(ids(heightCm, weightKg).length);
      }),
    );
  });
});

function says(read: ReturnType<typeof readDecimal>): string {
  if (read.ok) throw new Error(`read as ${read.value}`);
  return read.says;
}

import fc from 'fast-check';
import { canonicalize as other } from 'json-canonicalize';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../core/ledger/entry.ts';

/** A number by the sixteen digits of its bits, as RFC 8785 gives its samples. */
function fromBits(hex: string): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${hex}`));
  return view.getFloat64(0);
}

describe('the canonical form of JSON is that of RFC 8785', () => {
  test('its example of a whole object (3.2.2)', () => {
    const input = String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`;
    expect(canonicalJson(JSON.parse(input))).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
        String.raw`"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  test('its example of sorting by UTF-16 units (3.2.3)', () => {
    const input = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    const values = [...canonicalJson(input).matchAll(/:"([^"]+)"/g)].map(([, value]) => value);
    expect(values).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  test.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ])('its sample number %s is %s (appendix B)', (hex, text) => {
    expect(canonicalJson(fromBits(hex))).toBe(text);
  });

  test('what JSON does not know has no canonical form', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, { deep: [Number.NEGATIVE_INFINITY] }, undefined]) {
      expect(() => canonicalJson(value)).toThrow();
    }
  });
});

test('another writer of the same form writes the same text', () => {
  fc.assert(
    fc.property(fc.jsonValue({ stringUnit: 'binary' }), (value) => {
      expect(canonicalJson(value)).toBe(other(value));
    }),
    { numRuns: 300 },
  );
});

test('the order in which an object was built does not show', () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (object) => {
      const turned = Object.fromEntries(Object.entries(object).reverse());
      expect(canonicalJson(turned)).toBe(canonicalJson(object));
    }),
    { numRuns: 100 },
  );
});

import { z } from 'zod';

/** Digits alone: typed with gloves, in the dark, on any keyboard's row of digits. */
export const PIN_DIGITS = { least: 6, most: 12 } as const;

const SHAPE = `a PIN is ${PIN_DIGITS.least} to ${PIN_DIGITS.most} digits`;

/** A PIN as it is typed to sign in. */
export const typedPinSchema = z.string().regex(new RegExp(`^\\d{${PIN_DIGITS.least},${PIN_DIGITS.most}}$`), SHAPE);

/** A PIN that may be chosen: not one of the first that anybody would try. */
export const chosenPinSchema = typedPinSchema
  .refine((pin) => !isRow(pin), 'not digits in a row, nor the same digit again: choose another PIN')
  .refine((pin) => !isRepeated(pin), 'not one part repeated: choose another PIN');

/** `123456`, `987654`, `000000`: every digit the same step from the one before. */
function isRow(pin: string): boolean {
  const digits = [...pin].map(Number);
  const steps = new Set(digits.slice(1).map((digit, index) => (digit - (digits[index] ?? 0) + 10) % 10));
  return steps.size === 1 && [0, 1, 9].includes([...steps][0] ?? -1);
}

/** `121212`, `123123`. */
const isRepeated = (pin: string): boolean => /^(\d{2,6})\1+$/.test(pin);

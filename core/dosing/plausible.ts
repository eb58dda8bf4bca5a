/** What a figure may be before it is taken for a slip of the key or of the unit. Ends included. */
export interface PlausibleRange {
  readonly min: number;
  readonly max: number;
}

/** Refuses a figure outside its plausible range, NaN included. Throws RangeError that names the figure and the unit. */
export function mustLieWithin(what: string, value: number, range: PlausibleRange, unit: string): void {
  if (!(value >= range.min && value <= range.max)) {
    const measured = [value, unit].join(' ').trim();
    const ends = `${range.min} to ${range.max} ${unit}`.trim();
    throw new RangeError(`${what} must be ${ends}, not ${measured}: check the figure and its unit.`);
  }
}

/** Refuses zero, a negative figure, NaN and infinity. Throws RangeError. */
export function mustBePositive(what: string, value: number, unit: string): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new RangeError(`${what} must be above 0 ${unit}, not ${value} ${unit}: check the figure and its unit.`);
  }
}

/** Refuses a negative figure, NaN and infinity; zero passes. Throws RangeError. */
export function mustNotBeNegative(what: string, value: number, unit: string): void {
  if (!(value >= 0 && Number.isFinite(value))) {
    throw new RangeError(`${what} must be 0 ${unit} or more, not ${value} ${unit}: check the figure and its unit.`);
  }
}

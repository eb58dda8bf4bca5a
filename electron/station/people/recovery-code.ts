import { randomInt } from 'node:crypto';

/** Letters and digits that are not taken for one another when copied by hand. */
const SIGNS = 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789';
const GROUPS = 5;
const GROUP_SIGNS = 5;

/** 125 bits, in five groups, to be written down and kept in the clinic's safe. */
export const newRecoveryCode = (): string =>
  Array.from({ length: GROUPS }, () =>
    Array.from({ length: GROUP_SIGNS }, () => SIGNS[randomInt(SIGNS.length)]).join(''),
  ).join('-');

/** As it was made, however it is typed. */
export const plainCode = (typed: string): string => typed.toUpperCase().replace(/[^A-Z0-9]/g, '');

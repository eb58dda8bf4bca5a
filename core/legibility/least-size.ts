/**
 * The least size of what is read from afar in the dim, in minutes of arc.
 *
 * `mainNumber`: about all people read letters of 0.007 rad, 24 minutes of arc. Source: Smith, Hum Factors 1979;21:661-670.
 * `secondNumber`: letters on a large display take no less at the largest distance. Source: NUREG-0700 rev 3, item 2090;
 * the same figure is the minimum of ISO 9241-3.
 */
export const LEAST_ARC_MIN = { mainNumber: 24, secondNumber: 16 } as const;

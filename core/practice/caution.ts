/** Shown with every review. */
export const PRACTICE_PROVES_NOTHING =
  'Practice proves nothing about competence: licensed practice and local policy decide who may do this, and when.';

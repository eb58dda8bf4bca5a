import { type Dim, setDim } from '../link/store.ts';

/** From the brightest level to the darkest, and round again. */
export const dimFurther = (from: Dim): void => setDim(((from % 3) + 1) as Dim);

import type { Course, Done } from '../../procedure/record.ts';
import { isoTime } from '../../time/show.ts';

/**
 * A continuous instant as wall time: counted from T0, so that two of them are as far apart as they were on the clock
 * that never steps, whatever the wall clock did meanwhile.
 */
export const timeAt = ({ t0AtMs, t0WallMs, t0OffsetMin }: Course, atMs: number): string =>
  isoTime(t0WallMs + Math.round(atMs - t0AtMs), t0OffsetMin);

/** When something was entered. */
export const timeOf = ({ wallMs, offsetMin }: Pick<Done, 'wallMs' | 'offsetMin'>): string => isoTime(wallMs, offsetMin);

/** A period of two continuous instants; without its end while it goes on. */
export const periodOf = (course: Course, fromAtMs: number, toAtMs: number | null) => ({
  start: timeAt(course, fromAtMs),
  ...(toAtMs === null ? {} : { end: timeAt(course, toAtMs) }),
});

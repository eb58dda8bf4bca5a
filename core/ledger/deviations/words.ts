import { minutesSeconds } from '../../time/show.ts';

/** From so many milliseconds on, a span is told in minutes. */
const IN_MINUTES_MS = 120_000;

/** A span for people: tenths of a second while it is short, then minutes and seconds, then hours and minutes. */
export function spanWords(spanMs: number): string {
  if (spanMs < IN_MINUTES_MS) return `${Number((spanMs / 1000).toFixed(1))} s`;
  const wholeS = Math.round(spanMs / 1000);
  const [hours, minutes, seconds] = [Math.floor(wholeS / 3600), Math.floor((wholeS % 3600) / 60), wholeS % 60];
  const parts = [
    hours > 0 && `${hours} h`,
    minutes > 0 && `${minutes} min`,
    hours === 0 && seconds > 0 && `${seconds} s`,
  ];
  return parts.filter((part) => part !== false).join(' ');
}

/** The same beside a limit: as exact as it takes to tell the two apart. */
export function spanBeside(spanMs: number, limitMs: number): string {
  const words = spanWords(spanMs);
  return words === spanWords(limitMs) ? `${spanMs / 1000} s` : words;
}

/** An instant of the procedure, counted from the pump's start: `T0 + 15:45`. */
export function fromStart(fromT0Ms: number): string {
  const { text } = minutesSeconds(Math.round(Math.abs(fromT0Ms) / 1000) * 1000);
  return `T0 ${fromT0Ms < 0 ? '−' : '+'} ${text}`;
}

export const mgWords = (mg: number): string => `${mg.toFixed(2)} mg`;

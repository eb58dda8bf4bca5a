import { useSyncExternalStore } from 'react';
import { type BoardPlace, type Bridge, boardPlaceSchema } from '../../core/protocol/bridge.ts';
import type { ScreenName, Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { connect, hearMessages, linkTrouble, linkUp } from './connection.ts';
import { createStore, useStore } from './external-store.ts';
import { StationClock } from './station-clock.ts';
import { stretchAt } from './stretch.ts';

export { type Dim, setDim, useDim } from './dim.ts';

/** Nothing heard for this long: the station says something every second. */
const STALE_MS = 2_500;
const LOOK_EVERY_MS = 250;

const snapshots = createStore<Snapshot | null>(null);
const stale = createStore(true);
const boardPlace = createStore<BoardPlace | null>(null);
const clock = new StationClock();
let heardAtMs = Number.NEGATIVE_INFINITY;

/** The last snapshot; null before the first. */
export const useSnapshot = (): Snapshot | null => useStore(snapshots);
export const snapshotNow = (): Snapshot | null => snapshots.get();

/** The session that console and board show. */
export function useFront(): SessionView | null {
  const snapshot = useSnapshot();
  return snapshot?.sessions.find(({ sessionId }) => sessionId === snapshot.front) ?? null;
}

/** Whether the station can be reached, and whether it has been silent for too long. What is shown counts on. */
export const useLink = (): { up: boolean; stale: boolean } => ({ up: useStore(linkUp), stale: useStore(stale) });

/** What keeps the station from working, in words; null while nothing does. */
export const useLinkTrouble = (): string | null => useStore(linkTrouble);

/** Where the board is; null where the carrier does not know. */
export const useBoardPlace = (): BoardPlace | null => useStore(boardPlace);

/** The station's continuous clock now; 0 before the first snapshot. */
export const stationNow = (): number => clock.at(performance.now());

/**
 * The station's continuous clock, drawn anew whenever it enters the next stretch of `everyMs`. Stretches are counted from
 * `fromMs`: from a due instant, a count to it flips in the frame it has to, and not up to a stretch later.
 */
export function useNow(everyMs = 100, fromMs = 0): number {
  useSyncExternalStore(onFrame, () => stretchAt(frameNow(), everyMs, fromMs));
  return stationNow();
}

/** Joins this page to the station and follows it. Called once. */
export function followStation(screen: ScreenName): Bridge {
  hearMessages((message) => {
    if (message.type !== 'snapshot') return;
    heardAtMs = performance.now();
    clock.hear(message, heardAtMs);
    stale.set(false);
    snapshots.set(message);
  });
  setInterval(() => stale.set(performance.now() - heardAtMs > STALE_MS), LOOK_EVERY_MS);
  const bridge = connect(screen);
  bridge.onBoard?.((place) => boardPlace.set(boardPlaceSchema.nullable().parse(place)));
  return bridge;
}

const drawing = new Set<() => void>();
let frameAtMs = 0;

/** Stands still within a frame: a clock that ran on while a page is drawn would have it drawn again without end. */
const frameNow = (): number => (drawing.size > 0 ? frameAtMs : stationNow());

function onFrame(draw: () => void): () => void {
  if (drawing.size === 0) {
    frameAtMs = stationNow();
    requestAnimationFrame(nextFrame);
  }
  drawing.add(draw);
  return () => drawing.delete(draw);
}

function nextFrame(): void {
  frameAtMs = stationNow();
  for (const draw of drawing) draw();
  if (drawing.size > 0) requestAnimationFrame(nextFrame);
}

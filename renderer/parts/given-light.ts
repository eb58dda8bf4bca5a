import { fluenceJPerCm2 } from '../../core/light/exposure.ts';
import type { ExposureView } from '../../core/protocol/view.ts';

/**
 * Light given up to now, J/cm2, by the ordered irradiance. The laser times itself: past the ordered seconds no more is
 * shown as given until somebody says so. Light added to an eye that has had its whole is counted as it comes.
 */
export function givenJPerCm2({ deliveredBeforeMs, beamOnSinceAtMs, ...ordered }: ExposureView, nowMs: number): number {
  const presentMs = beamOnSinceAtMs === null ? 0 : Math.max(0, nowMs - beamOnSinceAtMs);
  const givenMs = deliveredBeforeMs + presentMs;
  const shownMs = deliveredBeforeMs >= ordered.plannedMs ? givenMs : Math.min(givenMs, ordered.plannedMs);
  return fluenceJPerCm2(ordered.irradianceMwPerCm2, shownMs / 1000);
}

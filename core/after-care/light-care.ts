import type { Course } from '../procedure/record.ts';
import { PHOTOSENSITIVITY_HOURS } from '../regimen/photosensitivity.ts';
import type { Settings } from '../settings/settings.ts';

/** How long a patient is to keep from bright light, and whose figure that is. */
export interface LightCareHours {
  readonly hours: number;
  /** Of the product text that the site follows. */
  readonly productHours: number;
  readonly by: 'us' | 'eu' | 'site';
}

/** From when to when bright light is to be kept away. Wall time, UTC. */
export interface LightCare extends LightCareHours {
  /** The pump's end; while it runs, now: what is given so far counts from there. */
  readonly fromWallMs: number;
  /** A whole minute, rounded up: shown without its seconds it is never too early. */
  readonly untilWallMs: number;
}

type Chosen = Pick<Settings, 'profile' | 'lightCareHours'>;

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/**
 * The light precautions of a course: hours that elapse from the pump's end, whatever clocks do meanwhile. They are the
 * same where the treatment was stopped early: the drug was given.
 */
export function lightCareOf(course: Course, settings: Chosen, nowAtMs: number): LightCare {
  const { t0AtMs, t0WallMs, infusion } = course;
  const lightCare = lightCareHoursOf(settings);
  const fromWallMs = t0WallMs + (infusion.pumpOffAtMs ?? nowAtMs) - t0AtMs;
  const untilWallMs = Math.ceil((fromWallMs + lightCare.hours * HOUR_MS) / MINUTE_MS) * MINUTE_MS;
  return { ...lightCare, fromWallMs, untilWallMs };
}

/**
 * The site's own hours where they are longer than those of the product text it follows, else the product text's. A
 * patient who keeps from light for too long loses some days; one who does so too shortly may be burnt. So a site may
 * ask for more, and one that finds the figure too long chooses the other product text, which is then followed in all.
 */
export function lightCareHoursOf({ profile, lightCareHours }: Chosen): LightCareHours {
  const productHours = PHOTOSENSITIVITY_HOURS[profile];
  return lightCareHours !== null && lightCareHours > productHours
    ? { hours: lightCareHours, productHours, by: 'site' }
    : { hours: productHours, productHours, by: profile };
}

/** What the screens say where the site's hours are fewer than the product text's; null where they are not. */
export function tooShortSays({ profile, lightCareHours }: Chosen): string | null {
  const productHours = PHOTOSENSITIVITY_HOURS[profile];
  return lightCareHours !== null && lightCareHours < productHours
    ? `light precautions: this site set ${lightCareHours} h, fewer than the ${productHours} h of the product text it follows; ${productHours} h are counted`
    : null;
}

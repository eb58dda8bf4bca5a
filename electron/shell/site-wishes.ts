import { z } from 'zod';

/** What a site's settings ask of the windows and of the system. */
export type SiteWishes = z.infer<typeof wishesSchema>;

const wishesSchema = z.object({ kiosk: z.boolean(), startAtLogin: z.boolean() });
const snapshotSchema = z.object({ type: z.literal('snapshot'), settings: wishesSchema });

/** Hears every message for all screens, and tells of wishes at the first snapshot and whenever they change. */
export function hearWishes(onChange: (wishes: SiteWishes) => void): (message: unknown) => void {
  let present: SiteWishes | null = null;
  return (message) => {
    const snapshot = snapshotSchema.safeParse(message);
    if (!snapshot.success) return;
    const { settings } = snapshot.data;
    if (settings.kiosk === present?.kiosk && settings.startAtLogin === present.startAtLogin) return;
    present = settings;
    onChange(settings);
  };
}

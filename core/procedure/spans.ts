/** A vial's contents are used within this span of reconstitution. Source: EU-SmPC; pmc PMC2274995 Table 1. */
export const IN_USE_MS = 4 * 60 * 60 * 1000;

/** "About 60 s" is common practice for the flush. Local practice. */
export const FLUSH_MS = 60_000;

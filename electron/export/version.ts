import packageJson from '../../package.json' with { type: 'json' };

/** Of this program, as exports name it. */
export const VERSION: string = packageJson.version;

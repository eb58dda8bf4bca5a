import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));

/** The screens: one page. Nothing is inlined, for the page's security policy lets only files in. */
export default {
  root: here('../renderer/'),
  base: '/',
  publicDir: false,
  configFile: false,
  logLevel: 'warn',
  // Tags are made by our own runtime, which has people's language: package.json says where it is.
  plugins: [react({ jsxImportSource: '#words' })],
  build: {
    outDir: here('../dist/renderer/'),
    emptyOutDir: true,
    target: 'chrome114',
    cssTarget: 'chrome114',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 2000,
  },
};

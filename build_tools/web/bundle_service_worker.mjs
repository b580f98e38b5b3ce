/** Bundles the service worker with Workbox into one script: node bundle_service_worker.mjs OUT */

import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { build } from 'esbuild';

await build({
  absWorkingDir: join(dirname(fileURLToPath(import.meta.url)), 'src'),
  entryPoints: [{ in: 'service-worker/service-worker.js', out: 'service-worker' }],
  outdir: process.argv[2] ?? '',
  bundle: true,
  minify: true,
  format: 'iife',
  target: ['chrome119', 'firefox119', 'safari17'], // as in bundle.mjs
  charset: 'utf8',
  define: { 'process.env.NODE_ENV': '"production"' }, // Workbox leaves its messages out
  logLevel: 'warning',
});

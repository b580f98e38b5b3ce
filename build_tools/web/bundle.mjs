/**
 * Bundles the front end into classic scripts: node bundle.mjs OUT
 *
 * Classic, because a page that is opened from a folder can't load modules. What the worker knows
 * its runtime's files by is put before its script later; see src/worker/runtime-facts.d.ts.
 */

import { copyFile, readFile } from 'node:fs/promises';
import { basename, dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

import { build } from 'esbuild';

const [out = ''] = process.argv.slice(2);
const source = join(dirname(fileURLToPath(import.meta.url)), 'src');

/** @type {import('esbuild').BuildOptions} */
const options = {
  absWorkingDir: source,
  outdir: out,
  bundle: true,
  minify: true,
  format: 'iife',
  target: ['chrome119', 'firefox119', 'safari17'], // three years old in 2026-11
  charset: 'utf8',
  logLevel: 'warning',
};

await build({
  ...options,
  entryPoints: {
    handbook: 'site/script.js',
    record: 'record/script.js',
    own: 'own/script.js',
    cards: 'cards/script.js',
    worker: 'worker/worker.js',
    'search-worker': 'search/search-worker.js',
    chart: 'chart/script.js',
    practice: 'practice/script.js',
    large: 'large/script.js',
    papers: 'question-paper/script.js',
    results: 'class-results/script.js',
  },
});

const held = await readFile(join(source, 'record/held-modules.js'), 'utf8');
const heldModules = new Set([...held.matchAll(/^ {2}'(.+\.js)': /gm)].map(([, name]) => name));

/**
 * Takes what record.js holds from there.
 *
 * @type {import('esbuild').Plugin}
 */
const fromRecord = {
  name: 'from-record',
  setup({ onLoad, onResolve }) {
    onResolve({ filter: /^\.{1,2}\// }, ({ path, resolveDir }) => {
      const name = relative(source, join(resolveDir, path)).replaceAll(sep, '/');
      return heldModules.has(name) ? { path: name, namespace: 'held' } : null;
    });
    onLoad({ filter: /./, namespace: 'held' }, ({ path }) => ({
      contents: `module.exports = globalThis.hbHeldModules[${JSON.stringify(path)}];`,
    }));
  },
};

// Of one page each, which has loaded record.js before.
await build({
  ...options,
  plugins: [fromRecord],
  entryPoints: { 'record-page': 'record/page-script.js', 'visit-page': 'visit-page/script.js' },
});

// The forms of exported files, for whoever reads one by another program.
for (const form of [
  'visit/visit_record.schema.json',
  'visit/appliance_card.schema.json',
  'own/own_kept.schema.json',
]) {
  await copyFile(join(source, form), join(out, basename(form)));
}

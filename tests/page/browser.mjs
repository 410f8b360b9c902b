// A served page in Debian's Chromium, as a person would meet it. Whatever the page logs as an error, and whatever it
// asks of any other machine, is kept and held against it when it closes.

import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const program = process.env.STEADYFIRE ?? path.join(root, 'build/release/steadyfire');
/** The program under sanitizers is several times slower. */
export const patience = 60_000;

/** A copy of some shipped scenarios in a folder of its own, to be written into; all of them without names. */
export async function folder(...names) {
  const place = await mkdtemp(path.join(tmpdir(), 'steadyfire-page-'));
  const from = path.join(root, 'scenarios');
  if (!names.length) await cp(from, place, { recursive: true });
  for (const name of names) await cp(path.join(from, name), path.join(place, name), { recursive: true });
  return place;
}

/** `steadyfire serve` of a file or folder, on a port of its own. */
export async function serve(what, ...options) {
  const server = spawn(program, ['serve', what, '--port', '0', ...options], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  const address = await new Promise((tell, refuse) => {
    const hear = data => {
      said += data;
      const found = said.match(/https?:\/\/[\w.:[\]]+\/?/);
      if (found) tell(found[0].replace(/\/?$/, '/'));
    };
    server.stdout.on('data', hear), server.stderr.on('data', hear);
    server.on('error', refuse);
    server.on('exit', code => refuse(new Error(`serve ended with ${code}: ${said}`)));
    setTimeout(() => refuse(new Error(`serve names no address: ${said}`)), patience).unref();
  });
  return {
    address,
    said: () => said,
    async stop() {
      const gone = new Promise(done => server.once('exit', done));
      server.kill('SIGINT');
      const code = await gone;
      assert.equal(code, 0, `serve ends with ${code} on Ctrl-C: ${said}`);
    },
  };
}

let browser;
export const browse = async () => (browser ??= await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] }));
export const close = async () => { await browser?.close(), browser = undefined; };

/** A window of the page. `done()` closes it and holds its errors and strange requests against it. */
export async function visit(address, { width = 1400, height = 900, dark = false, still = true, ...more } = {}) {
  const context = await (await browse()).newContext({
    viewport: { width, height }, colorScheme: dark ? 'dark' : 'light', reducedMotion: still ? 'reduce' : 'no-preference',
    acceptDownloads: true, ...more,
  });
  const page = await context.newPage(), faults = [];
  page.setDefaultTimeout(patience);
  page.on('pageerror', e => faults.push(`thrown: ${e.stack ?? e}`));
  page.on('console', m => { if (m.type() === 'error' || m.type() === 'warning') faults.push(`console: ${m.text()}`); });
  context.on('request', r => {
    const url = new URL(r.url());
    if (!['data:', 'blob:'].includes(url.protocol) && url.host !== new URL(address).host) faults.push(`leaves the machine: ${r.url()}`);
  });
  await page.goto(address);
  return {
    page, context, faults,
    async done() {
      await context.close();
      assert.deepEqual(faults, []);
    },
  };
}

/** Until what is held is so: the page draws a moment after it is told. */
export async function eventually(holds) {
  for (const until = Date.now() + patience / 4; ; await new Promise(wait => setTimeout(wait, 20))) {
    try {
      return await holds();
    } catch (fault) {
      if (Date.now() > until) throw fault;
    }
  }
}

const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** What axe-core calls serious or critical about the page as it stands, a line each. */
export async function serious(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document));
  return violations.filter(v => ['serious', 'critical'].includes(v.impact))
    .map(v => `${v.id}: ${v.help}: ${v.nodes.map(n => `${n.target} (${n.failureSummary})`).slice(0, 3).join(' | ')}`);
}

/** Whether the page can be moved sideways, which a phone's must not. */
export const sideways = page => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

export const tidy = place => rm(place, { recursive: true, force: true });

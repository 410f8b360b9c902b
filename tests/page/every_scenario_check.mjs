// Every shipped scenario opens, is drawn and (but for the year) run, without an error on the console or a request elsewhere.

import assert from 'node:assert/strict';
import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { close, folder, patience, root, serve, sideways, tidy, visit } from './browser.mjs';

const all = (await readdir(path.join(root, 'scenarios'))).filter(f => f.endsWith('.toml')).sort();
const bare = ['two_loops.toml'], a_year = ['cold_coast_year.toml'];
let empty, server;
before(async () => {
  empty = await folder('two_loops.toml');
  server = await serve(empty);
});
after(async () => { await close(), await server.stop(), await tidy(empty); });

for (const name of all) {
  test(`${name} is laid out`, { timeout: patience * 2 }, async () => {
    const v = await visit(`${server.address}#lay-out/shipped/${name}`);
    await v.page.locator('svg.network').first().waitFor();
    assert.ok(await v.page.locator('svg.network g[id^="piece:"]').count() > 3);
    assert.equal(await v.page.locator('.faults li').count(), 0);
    assert.equal(await sideways(v.page), 0);
    await v.done();
  });
  if (bare.includes(name) || a_year.includes(name)) continue;
  test(`${name} is run`, { timeout: patience * 3 }, async () => {
    const v = await visit(`${server.address}#watch/shipped/${name}`);
    await v.page.getByRole('heading', { name: 'The piping at a moment' }).waitFor({ timeout: patience * 2 });
    assert.ok(await v.page.locator('.uplot').count() >= 3);
    await v.done();
  });
}

test('a network without a boiler says why it cannot run', { timeout: patience }, async () => {
  const v = await visit(`${server.address}#watch/shipped/two_loops.toml`);
  await v.page.locator('.faults', { hasText: 'E241' }).waitFor();
  await v.done();
});

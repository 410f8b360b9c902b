// The page of a study in a browser, wide and on a phone, light and dark: every picture is drawn, its numbers are those of the study.

import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { close, eventually, folder, patience, root, serious, sideways, tidy, visit } from './browser.mjs';

const program = process.env.STEADYFIRE ?? path.join(root, 'build/release/steadyfire');
let place, page, rows;
before(async () => {
  place = await folder('oversized_burner.toml', 'studies');
  const study = path.join(place, 'studies/how_big_may_it_be.toml'), csv = path.join(place, 'points.csv');
  const report = path.join(place, 'report.html');
  await promisify(execFile)(program, ['sweep', study, '--quiet', '--csv', csv, '--report', report]);
  page = pathToFileURL(report).href;
  rows = (await readFile(csv, 'utf8')).trim().split('\r\n').slice(1).map(line => line.split(',').map(Number));
}, { timeout: patience * 5 });
after(async () => { await close(), await tidy(place); });

for (const [name, looks] of [['wide and light', {}], ['wide and dark', { dark: true }], ['a phone', { width: 390, height: 844 }],
                             ['a phone, dark', { width: 390, height: 844, dark: true }]]) {
  test(`${name}: every picture is drawn and can be used by all`, { timeout: patience }, async () => {
    const v = await visit(page, looks), charts = await v.page.locator('.chart').all();
    assert.ok(charts.length > 0);
    for (const chart of charts) await chart.locator('svg').first().waitFor();
    assert.deepEqual(await serious(v.page), []);
    assert.ok(await sideways(v.page) <= 0, `moves sideways by ${await sideways(v.page)} px`);
    await v.done();
  });
}

test('cells carry the numbers of the points, in their order', { timeout: patience }, async () => {
  const v = await visit(page), cells = v.page.locator('.chart').first().locator('svg').last().locator('text[fill]');
  await cells.first().waitFor();
  // Columns of the CSV: point, minimum fire, smallest zone, starts per hour. Cells go row by row, the smallest zone first.
  const wanted = [...rows].sort((a, b) => a[2] - b[2] || a[1] - b[1]).map(r => r[3]);
  const shown = (await cells.allTextContents()).filter(words => /^\d+\.\d$/.test(words));
  assert.equal(shown.length, wanted.length);
  shown.forEach((words, i) => assert.ok(Math.abs(words - wanted[i]) < 0.0501, `${words} for ${wanted[i]}`)); // half of the last decimal
  await v.done();
});

test('a cell tells its point where the pointer is', { timeout: patience }, async () => {
  const v = await visit(page), picture = v.page.locator('.chart').first().locator('svg').last();
  await picture.waitFor();
  await picture.scrollIntoViewIfNeeded();
  const box = await picture.boundingBox();
  await v.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await eventually(async () => assert.match((await picture.textContent()).replaceAll('\u200b', ' '), // stands between its lines
                                             /minimum fire \d+.kBtu\/h, smallest zone +\d.kBtu\/h +starts per hour \d/));
  await v.done();
});

test('on paper every picture is there', { timeout: patience }, async () => {
  const v = await visit(page);
  await v.page.locator('.chart svg').first().waitFor();
  await v.page.emulateMedia({ media: 'print' });
  for (const chart of await v.page.locator('.chart').all()) assert.ok(await chart.locator('svg').first().isVisible());
  assert.ok((await v.page.pdf({ format: 'Letter', printBackground: true })).length > 20_000);
  await v.done();
});

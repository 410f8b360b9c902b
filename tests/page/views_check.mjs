// A trainer's and an engineer's way through Watch, Compare, Tune and Teach, by mouse and by keys.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { close, eventually, folder, patience, serve, tidy, visit } from './browser.mjs';

let place, server;
before(async () => {
  place = await folder('oversized_burner.toml', 'workshop_slab_reset.toml', 'weather');
  server = await serve(place);
});
after(async () => { await close(), await server.stop(), await tidy(place); });

const figure = async (page, name) =>
  page.getByLabel('Key figures').locator('div', { has: page.getByText(name, { exact: true }) }).locator('dd').innerText();
const timed = { timeout: patience * 3 };

test('a day is watched: reasons, cursor, events, play', timed, async () => {
  const v = await visit(`${server.address}#watch/files/oversized_burner.toml`), { page } = v;
  await page.getByRole('heading', { name: 'The piping at a moment' }).waitFor();
  assert.match(await page.locator('.answer').first().innerText(), /[Mm]inimum fire/);
  const starts = Number(await figure(page, 'burner starts'));
  assert.ok(starts > 100, `${starts} starts`);

  const moment = page.getByRole('slider', { name: 'moment' });
  const before = await page.locator('svg.network .figures').allInnerTexts();
  await moment.focus();
  for (let i = 0; i < 40; ++i) await page.keyboard.press('ArrowRight');
  await page.waitForFunction(was => JSON.stringify([...document.querySelectorAll('svg.network .figures')].map(t => t.textContent)) !== was,
                             JSON.stringify(before));
  await eventually(async () => assert.equal(await page.locator('.events [aria-selected=true]').count(), 1, 'one event is marked'));
  const row = page.locator('.events li', { hasText: 'boiler' }).nth(3);
  const clock = (await row.locator('.clock').innerText()).trim();
  await row.click();
  await page.locator('.when b', { hasText: clock.slice(0, 5) }).waitFor();
  await page.getByRole('button', { name: 'Play' }).click();
  await page.getByRole('button', { name: 'Pause' }).click();
  await v.done();
});

test('zoom by keys and buttons, and the cursor reads the chart', timed, async () => {
  const v = await visit(`${server.address}#watch/files/oversized_burner.toml`), { page } = v;
  await page.getByRole('heading', { name: 'The piping at a moment' }).waitFor();
  const label = page.locator('.over-time');
  await label.getByRole('button', { name: 'zoom in' }).click();
  await label.getByRole('button', { name: 'later' }).click();
  await label.getByRole('button', { name: 'all', exact: true }).click();
  const panel = page.locator('.panel').first();
  await panel.focus();
  await page.keyboard.press('ArrowRight');
  const read = await panel.locator('.u-legend').innerText();
  await page.keyboard.press('ArrowRight');
  await eventually(async () => assert.notEqual(await panel.locator('.u-legend').innerText(), read));
  await v.done();
});

test('a knob is turned, does something, and is kept in the text only on request', timed, async () => {
  const v = await visit(`${server.address}#watch/files/oversized_burner.toml`), { page } = v;
  await page.getByRole('heading', { name: 'The piping at a moment' }).waitFor();
  const starts = Number(await figure(page, 'burner starts'));
  const knob = page.getByRole('slider', { name: /minimum fire/ });
  await knob.focus();
  await page.keyboard.press('Home');
  await page.getByRole('table', { name: 'What the change does' }).waitFor();
  await page.waitForFunction(was => {
    const all = [...document.querySelectorAll('[aria-label="Key figures"] div')].find(d => d.textContent.startsWith('burner starts'));
    return Number(all.querySelector('dd').textContent) < 0.8 * was;
  }, starts);
  assert.equal(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled(), true);
  await page.getByRole('button', { name: /^Keep/ }).click();
  await page.getByRole('button', { name: 'Undo', exact: true, disabled: false }).click();
  await page.waitForFunction(was => {
    const all = [...document.querySelectorAll('[aria-label="Key figures"] div')].find(d => d.textContent.startsWith('burner starts'));
    return Number(all.querySelector('dd').textContent) === was;
  }, starts);
  assert.match(await readFile(path.join(place, 'oversized_burner.toml'), 'utf8'), /minimum_input = "38 kBtu\/h"/);
  await v.done();
});

test('why it short-cycles, step by step with its numbers', timed, async () => {
  const v = await visit(`${server.address}#watch/files/oversized_burner.toml`), { page } = v;
  const why = page.getByRole('region', { name: 'Why does it short-cycle?' });
  await why.waitFor();
  await why.getByRole('button', { name: 'all together' }).click();
  const words = await why.innerText();
  assert.match(words, /kBtu\/h − .* = .*kBtu\/h/);
  assert.match(words, /bath/);
  await v.done();
});

test('variants are compared, and the table is copied', timed, async () => {
  const v = await visit(`${server.address}#compare/files/oversized_burner.toml`, { permissions: ['clipboard-read', 'clipboard-write'] }), { page } = v;
  await page.getByRole('button', { name: /Add .*as it is|Add this/i }).first().click();
  const change = page.getByRole('combobox').filter({ has: page.locator('option', { hasText: 'minimum fire' }) }).first();
  await change.selectOption({ label: (await change.locator('option', { hasText: 'minimum fire' }).first().innerText()) });
  await page.locator('.add-change input').first().fill('15');
  await page.locator('.add-change button').first().click();
  await eventually(async () => assert.equal(await page.locator('.variants li').count(), 2));
  await page.getByRole('button', { name: /^Compare/ }).last().click();
  await page.getByRole('rowheader', { name: 'burner starts' }).waitFor({ timeout: patience * 2 });
  const words = await page.locator('main').innerText();
  assert.match(words, /starts/);
  assert.match(words, /minimum_input/);
  await page.getByRole('button', { name: /copy the table/i }).click();
  const pasted = await page.evaluate(() => navigator.clipboard.readText());
  assert.match(pasted, /burner starts\t1\d\d\t\d+/);
  await v.done();
});

test('the reset curve is dragged over its cloud', timed, async () => {
  const v = await visit(`${server.address}#tune/files/workshop_slab_reset.toml`), { page } = v;
  const grip = page.getByRole('slider').first();
  await grip.waitFor();
  const was = await grip.getAttribute('aria-valuetext');
  await grip.focus();
  for (let i = 0; i < 10; ++i) await page.keyboard.press('ArrowUp');
  await eventually(async () => assert.notEqual(await grip.getAttribute('aria-valuetext'), was));
  await page.locator('.before-now .differs').first().waitFor();
  await page.getByRole('button', { name: 'Undo changes' }).click();
  const box = await grip.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 - 40, { steps: 6 });
  await page.mouse.up();
  await page.locator('.before-now .differs').first().waitFor();
  await page.getByRole('button', { name: /^Keep/ }).click();
  await page.getByRole('button', { name: 'Undo', exact: true, disabled: false }).waitFor();
  await v.done();
});

test('a lesson is shown screen by screen, by keys', timed, async () => {
  const v = await visit(`${server.address}#teach/files/oversized_burner.toml`), { page } = v;
  const number = page.locator('.slides nav .number');
  await number.waitFor();
  const of = Number((await number.innerText()).match(/of (\d+)/)[1]);
  assert.ok(of > 8);
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press(' ');
  await page.keyboard.press('PageDown');
  await eventually(async () => assert.equal(await number.innerText(), `4 of ${of}`));
  await page.keyboard.press('End');
  await page.getByRole('heading', { name: 'What to remember' }).waitFor();
  await page.keyboard.press('Home');
  await eventually(async () => assert.equal(await number.innerText(), `1 of ${of}`));
  await v.done();
});

// A designer's way through Lay out: a house from questions, a piece changed in any unit, zones added and taken away, saved
// without a comment lost, and never over somebody else's work.

import assert from 'node:assert/strict';
import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { close, eventually, folder, patience, serious, serve, sideways, tidy, visit } from './browser.mjs';

let place, server;
before(async () => {
  place = await folder('four_zone_house.toml', 'weather');
  server = await serve(place);
});
after(async () => { await close(), await server.stop(), await tidy(place); });

const file = name => path.join(place, name);
const timed = { timeout: patience * 3 };
const lay_out = async (options = {}) => {
  const v = await visit(`${server.address}#lay-out/files/four_zone_house.toml`, options);
  await v.page.locator('svg.network').waitFor();
  return v;
};
const says = (page, words) => page.locator('.says').filter({ hasText: words }).waitFor();
const gets = async (page, zone) => page.getByRole('row', { name: new RegExp(zone) }).or(page.locator('tr', { has: page.locator(`input[value="${zone}"]`) }))
  .first().locator('td').nth(4).innerText();

test('a house from six questions is laid out and run', timed, async () => {
  const v = await visit(server.address), { page } = v;
  await page.getByRole('button', { name: 'Answer six questions' }).click();
  await page.getByLabel(/^floor area/).first().fill('1800');
  await page.getByLabel('name of zone 1').fill('rooms');
  assert.deepEqual(await serious(page), []);
  await page.getByRole('button', { name: 'Lay out the house' }).click();
  await page.locator('svg.network').waitFor();
  assert.ok(await page.locator('[id="piece:rooms/emitter"]').count());
  await page.getByRole('link', { name: 'Watch' }).click();
  await page.getByRole('heading', { name: 'The piping at a moment' }).waitFor();
  await v.done();
});

test('a piece is chosen by mouse, changed in another unit, and undone', timed, async () => {
  const v = await lay_out(), { page } = v;
  await page.locator('[id="piece:bath/emitter"] .body').click();
  const sheet = page.getByRole('complementary', { name: /bath emitter/ });
  await sheet.getByLabel('Figures of bath emitter').waitFor();
  const output = sheet.getByRole('textbox', { name: 'output' });
  assert.equal(await output.inputValue(), '5 kBtu/h');
  await output.fill('2 kW');
  await output.press('Enter');
  await says(page, 'output: 2 kW');
  await eventually(async () =>
    assert.match(await page.getByLabel(/As it will be saved/).inputValue(), /panel radiator", output = "2 kW", cv = 0.8 }/));
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.waitForFunction(() => /output = "5 kBtu\/h"/.test(document.querySelector('textarea').value));
  await page.getByRole('button', { name: 'Redo' }).click();
  await page.waitForFunction(() => /output = "2 kW"/.test(document.querySelector('textarea').value));
  await v.done();
});

test('by keys alone: to a piece, into its values, a wrong one told in the words of the command line, and out again', timed, async () => {
  const v = await lay_out(), { page } = v;
  await page.locator('[id="piece:boiler/supply"], svg [role=button][tabindex="0"]').first().focus();
  for (let i = 0; i < 30 && !(await page.evaluate(() => document.activeElement.id === 'piece:bath/circulator')); ++i)
    await page.keyboard.press('ArrowRight');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'piece:bath/circulator');
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('complementary', { name: /bath circulator/ });
  await sheet.waitFor();
  assert.ok(await page.evaluate(() => !!document.activeElement.closest('.sheet')), 'the focus moves into the sheet');
  const speed = sheet.getByRole('textbox', { name: 'speed', exact: true });
  await speed.fill('3 gpm');
  await speed.press('Enter');
  await sheet.getByText(/speed is "3 gpm"/).waitFor();
  assert.equal(await speed.inputValue(), '3 gpm', 'what was typed stays');
  await eventually(async () => assert.equal(await speed.getAttribute('aria-invalid'), 'true'));
  await speed.fill('80 %');
  await speed.press('Enter');
  await says(page, 'speed: 80 %');
  await page.keyboard.press('Escape');
  await eventually(async () => assert.equal(await page.evaluate(() => document.activeElement.id), 'piece:bath/circulator', 'and back'));
  await page.locator('aside.sheet').waitFor({ state: 'detached' });
  await v.done();
});

test('flows and findings follow who calls, and each edit', timed, async () => {
  const v = await lay_out(), { page } = v;
  await eventually(async () => assert.match(await gets(page, 'studio'), /1\.7.gpm, low flow/));
  const short = page.locator('.findings li', { hasText: 'studio' }).filter({ hasText: /1\.7.gpm/ });
  await short.first().waitFor();
  for (const z of ['living', 'bedrooms', 'bath']) await page.getByRole('checkbox', { name: z }).uncheck();
  await page.locator('p.note', { hasText: 'Flows: studio calling' }).waitFor();
  await page.getByRole('button', { name: 'Values of studio' }).click();
  const size = page.locator('aside.sheet').getByRole('textbox', { name: 'size' });
  await size.fill('3/4 in copper M');
  await size.press('Enter');
  await short.waitFor({ state: 'detached' });
  assert.doesNotMatch(await gets(page, 'studio'), /low flow/);
  await v.done();
});

test('zones are added, renamed, copied and removed', timed, async () => {
  const v = await lay_out(), { page } = v;
  const text = () => page.getByLabel(/As it will be saved/).inputValue();
  const before = await text();
  await page.getByRole('button', { name: 'Copy bath' }).click();
  await page.locator('[id="piece:bath 2/emitter"]').waitFor();
  await page.keyboard.press('Escape');
  const name = page.getByRole('textbox', { name: 'Name of zone 5' });
  await name.fill('guest bath');
  await name.press('Enter');
  await page.locator('[id="piece:guest bath/emitter"]').waitFor();
  await page.getByRole('button', { name: 'Remove guest bath' }).click();
  await page.locator('[id="piece:guest bath/emitter"]').waitFor({ state: 'detached' });
  await page.waitForFunction(was => document.querySelector('textarea').value === was, before);
  await v.done();
});

test('the text itself is typed in; a slip tells its line, and the drawing stays', timed, async () => {
  const v = await lay_out(), { page } = v;
  const area = page.getByLabel(/As it will be saved/), good = await area.inputValue();
  await area.fill(good.replace('"5 degF"', '"5 gpm"'));
  await page.getByRole('alert').filter({ hasText: 'outdoor_design is "5 gpm"' }).waitFor();
  assert.match(await page.getByRole('alert').innerText(), /line 8/);
  assert.ok(await page.locator('svg.network').isVisible());
  await area.fill(good);
  await page.locator('.faults').waitFor({ state: 'detached' });
  await v.done();
});

test('saving changes one value and keeps every comment; a reload brings unsaved work back', timed, async () => {
  const v = await lay_out(), { page } = v;
  const before = await readFile(file('four_zone_house.toml'), 'utf8');
  await page.locator('[id="piece:bath/emitter"] .body').click();
  const output = page.locator('aside.sheet').getByRole('textbox', { name: 'output' });
  await output.fill('6 kBtu/h');
  await output.press('Enter');
  await says(page, 'output: 6 kBtu/h');
  page.on('dialog', d => d.accept());
  await page.reload();
  await page.waitForFunction(() => /output = "6 kBtu\/h"/.test(document.querySelector('textarea')?.value ?? ''));
  assert.equal(await readFile(file('four_zone_house.toml'), 'utf8'), before, 'nothing is written without asking');
  await page.keyboard.press('Control+s');
  await says(page, /Saved as/);
  assert.equal(await readFile(file('four_zone_house.toml'), 'utf8'), before.replace('"5 kBtu/h"', '"6 kBtu/h"'));
  await writeFile(file('four_zone_house.toml'), before);
  await v.done();
});

test('two pages on one file: the second learns of the first, and loses nothing', timed, async () => {
  const one = await lay_out(), two = await lay_out();
  for (const [v, value] of [[one, '7 kBtu/h'], [two, '8 kBtu/h']]) {
    await v.page.locator('[id="piece:bath/emitter"] .body').click();
    const output = v.page.locator('aside.sheet').getByRole('textbox', { name: 'output' });
    await output.fill(value);
    await output.press('Enter');
    await says(v.page, `output: ${value}`);
  }
  await one.page.keyboard.press('Control+s');
  await says(one.page, /Saved as/);
  await two.page.getByRole('button', { name: 'Save', exact: true }).click();
  await two.page.getByRole('alert').filter({ hasText: 'was changed by someone else' }).waitFor();
  assert.match(await readFile(file('four_zone_house.toml'), 'utf8'), /7 kBtu\/h/);
  await two.page.getByRole('button', { name: 'Save mine as…' }).click();
  await two.page.getByRole('textbox', { name: /File name/ }).fill('mine.toml');
  await two.page.getByRole('dialog').getByRole('button', { name: 'Save', exact: true }).click();
  await says(two.page, /Saved as/);
  assert.match(await readFile(file('mine.toml'), 'utf8'), /8 kBtu\/h/);
  two.faults.splice(0, two.faults.length, ...two.faults.filter(f => !/412/.test(f)));  // the browser notes the refused save itself
  await one.done();
  await two.done();
});

test('what was typed last is kept when one goes to another file, however slow the program is', timed, async () => {
  const v = await lay_out(), { page } = v;
  await v.context.route('**/ask/edit', async r => { await new Promise(go_on => setTimeout(go_on, 800)), await r.continue(); });
  const type = async value => {
    await page.getByRole('button', { name: 'Values of bath' }).click();
    await page.locator('aside.sheet').getByRole('textbox', { name: 'size' }).fill(value);
  };
  await type('1 in copper M');
  await page.evaluate(() => { location.hash = '#lay-out/shipped/ghost_flow.toml'; });
  await says(page, 'ghost_flow.toml is open');
  assert.doesNotMatch(await page.getByLabel(/As it will be saved/).inputValue(), /1 in copper M/, 'not written into the other file');
  await page.evaluate(() => { location.hash = '#lay-out/files/four_zone_house.toml'; });
  await page.waitForFunction(() => /size = "1 in copper M"/.test(document.querySelector('textarea')?.value ?? ''));
  await type('1-1/4 in copper M');
  await page.getByRole('button', { name: 'Open another' }).click();
  await page.getByRole('alert').filter({ hasText: 'Your changes are not saved' }).waitFor();
  await page.getByRole('button', { name: 'Stay here' }).click();
  assert.match(await page.getByLabel(/As it will be saved/).inputValue(), /size = "1-1\/4 in copper M"/);
  await v.done();
});

test('a value typed while the program does not answer is sent again', timed, async () => {
  const v = await lay_out(), { page } = v;
  await v.context.route('**/ask/edit', r => r.abort());
  await page.getByRole('button', { name: 'Values of bath' }).click();
  const size = page.locator('aside.sheet').getByRole('textbox', { name: 'size' });
  await size.fill('1 in copper M');
  await size.press('Enter');
  await page.getByText('the program does not respond').waitFor();
  assert.equal(await size.inputValue(), '1 in copper M', 'what was typed stays');
  await v.context.unroute('**/ask/edit');
  await size.press('Enter');
  await says(page, 'size: 1 in copper M');
  assert.match(await page.getByLabel(/As it will be saved/).inputValue(), /size = "1 in copper M"/);
  v.faults.splice(0, v.faults.length, ...v.faults.filter(f => !/ERR_FAILED/.test(f)));  // the browser notes the cut connection itself
  await v.done();
});

test('a step back while a name is typed is not a step of the scenario', timed, async () => {
  const v = await lay_out(), { page } = v;
  await page.getByRole('button', { name: 'Copy bath' }).click();
  await page.locator('[id="piece:bath 2/emitter"]').waitFor();
  await page.getByRole('button', { name: 'Save as' }).click();
  await page.getByRole('dialog').getByRole('textbox').pressSequentially('x');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  assert.match(await page.getByLabel(/As it will be saved/).inputValue(), /name = "bath 2"/);
  await v.done();
});

test('on a phone the sheet comes from below, and nothing moves sideways', timed, async () => {
  const v = await lay_out({ width: 390, height: 844, dark: true }), { page } = v;
  await page.getByRole('button', { name: 'Values of bath' }).click();
  await page.locator('aside.sheet').waitFor();
  assert.equal(await sideways(page), 0);
  assert.deepEqual(await serious(page), []);
  await v.done();
});

test('everything is handed over from buttons', timed, async () => {
  const v = await visit(`${server.address}#hand-over/shipped/four_zone_house.toml`), { page } = v;
  await page.getByRole('heading', { name: 'Hand over' }).waitFor();
  const wants = [[/the report/, /-report\.html$/, '<html'], [/the review page/, /-review\.html$/, '<html'], [/materials/i, /-materials\.csv$/, 'copper'],
                 [/schematic/i, /-schematic\.svg$/, '<svg'], [/scenario/i, /\.toml$/, '# Lesson 1']];
  for (const [button, name, holds] of wants) {
    const [download] = await Promise.all([page.waitForEvent('download', { timeout: patience * 2 }),
                                          page.locator('main').getByRole('button', { name: button }).first().click()]);
    assert.match(download.suggestedFilename(), name);
    assert.ok((await readFile(await download.path(), 'utf8')).includes(holds), `${name}`);
  }
  await v.done();
});

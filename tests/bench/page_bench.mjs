// How long a picture takes in the browser while a slider moves: the one-day four-zone house in Debian's Chromium. Reported, never
// asserted: node tests/bench/page_bench.mjs, with $STEADYFIRE as in tests. page_bench.py tells the engine's part of it.

import path from 'node:path';
import { close, root, serve, visit } from '../page/browser.mjs';

const server = await serve(path.join(root, 'scenarios'));
const { page, context } = await visit(`${server.address}#watch/files/four_zone_house.toml`);
await page.getByRole('heading', { name: 'The piping at a moment' }).waitFor();
const knob = page.getByRole('slider', { name: /minimum fire/ });
await knob.focus();
const median = all => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];
const tell = async (how, name) => {
  const all = await page.evaluate(n => performance.getEntriesByName(n).map(e => e.duration), name);
  console.log(`${how}: ${name.replace('steadyfire:', '')}: median ${Math.round(median(all))} ms, most ${Math.round(Math.max(...all))} ms, of ${all.length}`);
};
for (const [how, pause, moves] of [['single moves', 1200, 15], ['dragging, a move each 50 ms', 50, 60]]) {
  await page.evaluate(() => performance.clearMeasures());
  for (let i = 0; i < moves; ++i) {
    await page.keyboard.press(i % 20 < 10 ? 'ArrowLeft' : 'ArrowRight');
    await page.waitForTimeout(pause);
  }
  await page.waitForTimeout(1500);
  for (const name of ['steadyfire:first picture', 'steadyfire:picture']) await tell(how, name);
}
await context.close(), await close(), await server.stop();

// Pictures of the page for README.md, as Chromium shows it.

import { close, root, serve, visit } from '../../tests/page/browser.mjs';

const server = await serve(`${root}/scenarios`);
const picture = async (name, hash, height, act) => {
  const { page, context } = await visit(server.address + hash, { width: 1500, height });
  await page.locator('svg.network').first().waitFor();
  await act(page);
  await page.screenshot({ path: `${root}/plots/pictures/${name}.png` });
  await context.close();
};
await picture('page_lay_out', '#lay-out/shipped/four_zone_house.toml', 1050, async page => {
  await page.locator('[id="piece:studio/circulator"] .body').click();
  await page.locator('aside.sheet dl').waitFor();
});
await picture('page_watch', '#watch/shipped/oversized_burner.toml', 1500, async page => {
  const knob = page.getByRole('slider', { name: /minimum fire/ });
  await knob.focus();
  for (let i = 0; i < 16; ++i) await page.keyboard.press('ArrowLeft');
  await page.getByRole('table', { name: 'What the change does' }).waitFor();
  await page.waitForTimeout(4000);
});
await close(), await server.stop();

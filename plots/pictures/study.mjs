// The heat map of a study for README.md, as Chromium shows it in the page given.

import { pathToFileURL } from 'node:url';
import { close, root, visit } from '../../tests/page/browser.mjs';

const { page, done } = await visit(pathToFileURL(process.argv[2]).href, { width: 980, height: 900 });
const section = page.locator('section').filter({ has: page.getByRole('heading', { name: /^Starts in the worst hour/ }) });
await section.locator('.chart svg').last().waitFor();
await section.locator('details').evaluate(all => all.remove());
await section.screenshot({ path: `${root}/plots/pictures/study.png` });
await done(), await close();

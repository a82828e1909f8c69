// Opens the reports that FOLDER holds in Debian's chromium and uses them as people do: mouse, touch, keyboard, paper.
// usage: node --test report.test.mjs, with REPORTS=FOLDER; tests/browser/report_test.py makes the folder.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';
import {after, before, test} from 'node:test';
import {chromium} from 'playwright-core';

const reports = process.env.REPORTS;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let browser;

before(async () => {
  const asRoot = process.getuid() === 0 ? ['--no-sandbox'] : [];
  browser = await chromium.launch({executablePath: '/usr/bin/chromium', args: asRoot});
});
after(() => browser?.close());

// A page of the browser with the report in it. Whatever it asks of the network, or says on its console, fails the test.
async function opened(t, file, options = {}) {
  const context = await browser.newContext({viewport: {width: 1400, height: 900}, ...options});
  const page = await context.newPage(), faults = [];
  page.on('console', message => faults.push(message.text()));
  page.on('pageerror', error => faults.push(String(error)));
  page.on('dialog', dialog => { faults.push(`dialog: ${dialog.message()}`); dialog.dismiss(); });
  page.on('request', request => { if (!/^(file|data):/.test(request.url())) faults.push(request.url()); });
  await context.setOffline(true);
  await page.goto('file://' + path.join(reports, file));
  t.after(async () => {
    await context.close();
    assert.deepEqual(faults, [], 'the console, and the network, are silent');
  });
  return page;
}

const middle = box => ({x: box.x + box.width / 2, y: box.y + box.height / 2});

// Both boxes at one moment: the report may be scrolling.
async function assertCentred(page, number) {
  const apart = await page.evaluate(wanted => {
    const [view, box] = ['.view', `.hit[data-box="${wanted}"]`].map(one => document.querySelector(one).getBoundingClientRect());
    return Math.hypot(view.x + view.width / 2 - box.x - box.width / 2, view.y + view.height / 2 - box.y - box.height / 2);
  }, number);
  assert.ok(apart < 3, `finding ${number} is ${apart} px off the middle`);
}

for (const colorScheme of ['light', 'dark'])
  for (const width of [1400, 390])
    test(`axe finds nothing serious: ${colorScheme}, ${width} px wide`, async t => {
      // axe is a script that the report itself would not let in.
      const page = await opened(t, 'run/report.html', {colorScheme, viewport: {width, height: 900}, bypassCSP: true});
      await page.addScriptTag({content: axe});
      await page.addStyleTag({content: '.page { content-visibility: visible; }'});
      const found = await page.evaluate(() => axe.run());
      assert.ok(found.passes.length > 20, 'axe has looked at something');
      const loud = found.violations.filter(one => ['serious', 'critical'].includes(one.impact));
      assert.deepEqual(loud.map(one => [one.id, one.nodes.slice(0, 3).map(node => node.html.slice(0, 120))]), []);
    });

test('a narrow screen is not scrolled sideways', async t => {
  const page = await opened(t, 'run/report.html', {viewport: {width: 360, height: 740}});
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
});

test('layers are switched, each by itself', async t => {
  const page = await opened(t, 'run/outside.report.html');
  for (const layer of ['trim', 'bleed', 'safe-zone', 'folds', 'findings']) {
    // A lone line has no width, and would not count as visible.
    const shown = () => page.locator(`.drawing [data-layer="${layer}"]`).evaluate(one => getComputedStyle(one).display !== 'none');
    const box = page.locator(`[data-switch="${layer}"]`);
    assert.ok(await shown(), layer);
    await box.uncheck();
    assert.ok(!await shown(), layer);
    await box.check();
    assert.ok(await shown(), layer);
  }
});

test('a finding of the list is centred on the page, a finding of the page is found in the list', async t => {
  const page = await opened(t, 'run/outside.report.html');
  const count = await page.locator('[data-goto]').count();
  assert.ok(count >= 5);
  for (let number = 1; number <= count; ++number) {
    await page.locator(`[data-goto="${number}"]`).click();
    await assertCentred(page, number);
  }
  await page.locator('[data-zoom="whole"]').click();
  await page.locator('.hit[data-tag="2"]').click();
  assert.equal(await page.evaluate(() => document.activeElement.dataset.goto), '2');
  assert.ok(await page.locator('.finding[data-finding="2"]').evaluate(one => one.classList.contains('current')));
});

test('the keyboard does all of it', async t => {
  const page = await opened(t, 'run/outside.report.html');
  const reach = async selector => {
    for (let i = 0; i < 80; ++i) {
      await page.keyboard.press('Tab');
      if (await page.evaluate(wanted => document.activeElement.matches(wanted), selector)) return;
    }
    assert.fail(`${selector} is not reached with Tab`);
  };
  const seen = () => page.locator('.drawing').first().getAttribute('viewBox');
  await reach('[data-switch="trim"]');
  await page.keyboard.press('Space');
  assert.ok(!await page.locator('.drawing [data-layer="trim"]').isVisible());
  await reach('.view');
  const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
  assert.equal(outline, 'solid', 'focus is seen');
  const whole = await seen();
  await page.keyboard.press('+');
  const near = await seen();
  assert.notEqual(near, whole);
  await page.keyboard.press('ArrowRight');
  assert.notEqual(await seen(), near);
  await page.keyboard.press('0');
  assert.equal(await seen(), whole);
  await reach('[data-goto="2"]');
  await page.keyboard.press('Enter');
  await assertCentred(page, 2);
});

test('the mouse drags and zooms, the wheel alone scrolls the report', async t => {
  const page = await opened(t, 'run/outside.report.html');
  await page.locator('.view').scrollIntoViewIfNeeded();
  const at = middle(await page.locator('.view').boundingBox()), seen = () => page.locator('.drawing').getAttribute('viewBox');
  const whole = await seen();
  await page.mouse.move(at.x, at.y);
  await page.mouse.wheel(0, 100);
  assert.equal(await seen(), whole);
  await page.keyboard.down('Control');
  await page.mouse.wheel(0, -300);
  await page.keyboard.up('Control');
  const near = await seen();
  assert.notEqual(near, whole);
  await page.mouse.down();
  await page.mouse.move(at.x - 120, at.y - 60, {steps: 4});
  await page.mouse.up();
  assert.notEqual(await seen(), near);
});

test('two fingers zoom', async t => {
  const page = await opened(t, 'run/outside.report.html', {hasTouch: true});
  await page.locator('.view').scrollIntoViewIfNeeded();
  const at = middle(await page.locator('.view').boundingBox()), client = await page.context().newCDPSession(page);
  const touch = (type, apart) => client.send('Input.dispatchTouchEvent', {type, touchPoints: apart === null ? [] :
      [{x: at.x - apart, y: at.y, id: 1}, {x: at.x + apart, y: at.y, id: 2}]});
  const whole = await page.locator('.drawing').getAttribute('viewBox');
  await touch('touchStart', 40);
  for (const apart of [60, 80, 100]) await touch('touchMove', apart);
  await touch('touchEnd', null);
  assert.notEqual(await page.locator('.drawing').getAttribute('viewBox'), whole);
});

test('it is printed, with every page and close-up on it', async t => {
  const page = await opened(t, 'run/report.html');
  const pdf = await page.pdf({format: 'A4'});
  const sheets = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g).length;
  assert.ok(sheets >= 3 && sheets <= 12, `${sheets} sheets`);
  await page.emulateMedia({media: 'print'});
  assert.ok(!await page.locator('.tools').first().isVisible());
  assert.ok(await page.locator('.closeup').last().isVisible());
});

test('hostile names are text', async t => {
  const page = await opened(t, 'hostile/report.html');
  const name = process.env.HOSTILE;
  assert.equal(await page.locator('.page h2').first().textContent(), name);
  assert.ok((await page.title()).includes('<img src=x onerror=alert(1)>'));
  assert.equal(await page.locator('main script, main iframe, main img:not([src^="data:image/webp"])').count(), 0);
});

test('200 pages are filtered in less than 200 ms', async t => {
  const page = await opened(t, 'many/report.html');
  assert.equal(await page.locator('.card').count(), 200);
  const timed = (selector, value) => page.evaluate(async ([wanted, text]) => {
    const control = document.querySelector(wanted), start = performance.now();
    control.value = text;
    control.dispatchEvent(new Event('input', {bubbles: true}));
    document.body.getBoundingClientRect();
    await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
    return performance.now() - start;
  }, [selector, value]);
  const search = await timed('input[type=search]', 'page-17');
  assert.match(await page.locator('.shown').textContent(), /^10 of 200/);
  assert.equal(await page.locator('.page:visible').count(), 10);
  const all = await timed('input[type=search]', '');
  const verdict = await timed('.filter select', 'fix');
  const fixes = await page.locator('.card:visible').count();
  assert.ok(fixes > 0 && fixes < 200);
  assert.ok(await page.locator('.card:visible').evaluateAll(cards => cards.every(card => card.dataset.verdict === 'fix')));
  console.log(`filtered in ${[search, all, verdict].map(Math.round)} ms`);
  for (const time of [search, all, verdict]) assert.ok(time < 200, `${time} ms`);
});

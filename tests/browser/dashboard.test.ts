// The page as its user has it: the built daemon on the simulated nursery, and a run of it played again.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { expectAccessible, launch, noBrowser, openPage, picture, sayWhySkipped } from '../support/browser.js';
import { type Served, serve } from '../support/leeway.js';

sayWhySkipped('the page at the running daemon');

describe.skipIf(noBrowser !== undefined)('the page at the running daemon', () => {
  let browser: Browser;
  let folder: string;
  let daemon: Served;
  let opened: Awaited<ReturnType<typeof openPage>>;
  let page: Page;

  beforeAll(async () => {
    browser = await launch();
    folder = mkdtempSync(join(tmpdir(), 'leeway-page-'));
    writeFileSync(join(folder, 'leeway.yaml'), '# the cart in house 3\nrover:\n  name: supply cart 2 # a name\n');
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const text = async (id: string): Promise<string> => (await page.locator(`#${id}`).textContent()) ?? '';
  const until = (what: () => Promise<boolean>, patience = 8000): Promise<void> =>
    expect.poll(what, { timeout: patience, interval: 100 }).toBe(true);
  const settings = async (): Promise<Record<string, unknown>> =>
    (await (await fetch(`${daemon.url}/v1/settings`)).json()) as Record<string, unknown>;
  /** Where a point of the rover's axes stands in the window, px. */
  const spot = (x: number, y: number): Promise<[number, number]> =>
    page.evaluate(
      ([px, py]) => {
        const sheet = document.getElementById('plan') as HTMLElement;
        const { left, top } = sheet.getBoundingClientRect();
        const scale = Number(sheet.dataset.pxPerM);
        const turn = Number(sheet.dataset.turn);
        const [cx, cy] = (sheet.dataset.cart ?? '').split(' ').map(Number);
        const c = Math.cos(turn);
        const s = Math.sin(turn);
        return [left + cx + scale * (px * c - py * s), top + cy - scale * (px * s + py * c)];
      },
      [x, y] as const,
    );
  const clickAt = async (x: number, y: number): Promise<void> => page.mouse.click(...(await spot(x, y)));

  // one daemon and one page for all: what one part leaves behind is what the next one finds, as for a user
  test('one visit: plan, tools, settings, recording, replay, back to live', async () => {
    daemon = await serve(['--config', join(folder, 'leeway.yaml')]);
    opened = await openPage(browser, daemon.url);
    page = opened.page;
    await live();
    await layersAndView();
    await tapeAndPin();
    await byKeyboard();
    await noReturnLive();
    await maskDrawn();
    await recordAndMark();
    await replayed();
    await runsKept();
    expect([opened.complaints, opened.foreign]).toEqual([[], []]);
    await page.close();
    await daemon.stop();
  }, 180_000);

  async function live(): Promise<void> {
    await page.waitForSelector('html[data-trust="sound"]', { timeout: 10_000 });
    await page.waitForTimeout(3000);
    expect(await text('who-rover')).toBe('supply cart 2');
    expect(await text('who-role')).toBe('simulated, role admin');
    expect(await text('tense')).toMatch(/^LIVE \d\d:\d\d:\d\d$/);
    const reads = (await text('senses')).replaceAll('\u202f', '');
    expect(reads).toMatch(/Spin(9\.[5-9]|10\.[0-5])\d* HzEchoes\d+ \/sValid\d+\.\d %Skipped\d+ bytesLatency\d+ ms/);
    expect(await text('twin-things')).toMatch(/wall \d+\.\d\d m long, \d+\.\d\d m away at/);
    expect(await text('place')).toMatch(/^−?\d+\.\d\d, −?\d+\.\d\d · −?\d+\.\d°$/);
    await picture(page, 'nursery');
    await expectAccessible(page);
  }

  async function layersAndView(): Promise<void> {
    for (const [key, name] of [
      ['e', 'echoes'],
      ['n', 'figures'],
      ['d', 'path'],
    ]) {
      await page.keyboard.press(key);
      expect(await page.locator(`.tools [data-do="${name}"]`).getAttribute('aria-pressed')).toBe('false');
      await page.keyboard.press(key);
    }
    await page.keyboard.press('u');
    await page.waitForTimeout(500);
    expect(await text('up-word')).toBe('Cart up');
    await until(
      async () => Math.abs(Number(await page.locator('#plan').getAttribute('data-turn')) - Math.PI / 2) < 0.01,
    );
    await picture(page, 'cart-up');
    await page.keyboard.press('u');
    await page.keyboard.press('y');
    await page.waitForTimeout(500);
    expect(await text('ahead-unit')).toBe('ft');
    await picture(page, 'imperial');
    await page.keyboard.press('y');
    const before = await page.locator('#plan').getAttribute('data-cart');
    await page.locator('#plan').focus();
    await page.keyboard.press('ArrowLeft');
    await page.waitForTimeout(400);
    const after = await page.locator('#plan').getAttribute('data-cart');
    expect(Number(after?.split(' ')[0]) - Number(before?.split(' ')[0])).toBeGreaterThan(40); // the sheet goes right under the eye
    await page.keyboard.press('?');
    expect(await text('help')).toMatch(/measuring tape[\s\S]*one sweep back/);
    await picture(page, 'keys');
    await expectAccessible(page);
    await page.keyboard.press('Escape');
    await page.keyboard.press('f');
    await page.waitForTimeout(600);
  }

  /** The nearest long wall as the text twin tells it: bearing and distance. */
  async function nearWall(): Promise<{ x: number; y: number; distance: number }> {
    const walls = [
      ...(await text('twin-things')).matchAll(/wall (\d+\.\d+) m long, (\d+\.\d+) m away at (\d+\.\d)° (left|right)/g),
    ];
    const [, , away, angle, side] = walls.find(([, length]) => Number(length) > 3) ?? walls[0];
    const bearing = ((side === 'left' ? 1 : -1) * Number(angle) * Math.PI) / 180;
    return { x: Number(away) * Math.cos(bearing), y: Number(away) * Math.sin(bearing), distance: Number(away) };
  }

  async function tapeAndPin(): Promise<void> {
    await page.keyboard.press('p');
    await page.waitForTimeout(700); // a view that still settles comes to rest
    let wall = await nearWall();
    await clickAt(wall.x, wall.y);
    await page.waitForTimeout(2500);
    await until(async () => /σ \d+\.\d mm, (smooth|rough)/.test(await text('noise-word')));
    expect(await text('noise-name')).toBe('Noise on pin 1');
    // the simulated sensor's noise is that of the configuration: the wall is smooth
    expect(await text('noise-word')).toContain('smooth');
    await page.keyboard.press('t');
    wall = await nearWall();
    await clickAt(wall.x, wall.y);
    await clickAt(0.4 * wall.x, 0.4 * wall.y);
    await page.waitForTimeout(400);
    await page.mouse.move(900, 200);
    await picture(page, 'tape-and-pin');
    const plate = (await page.locator('#twin-marks').textContent()) ?? '';
    const [, length] = /tape (\d+\.\d+)/.exec(plate) ?? [];
    expect(Number(length)).toBeGreaterThan(0.5 * wall.distance);
    expect(Number(length)).toBeLessThan(0.7 * wall.distance); // 0.6 of it, a moving cart and a hand that clicks
    expect(plate).toMatch(/pin 1: wall ⊥ \d+\.\d{3} ± 0\.\d{3}, at −?\d+\.\d° ± \d\.\d · roughness \d\.\d/);
    await page.keyboard.press('Escape');
    await page.keyboard.press('v');
  }

  async function byKeyboard(): Promise<void> {
    await page.keyboard.press('t');
    await page.keyboard.press('Enter');
    for (let i = 0; i < 5; i++) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Enter');
    await page.waitForTimeout(700);
    expect(await page.locator('#twin-marks').textContent()).toMatch(/tape 0\.500/); // five times 10 cm, in the open
    await page.keyboard.press('Backspace');
    await page.keyboard.press('Escape');
    await page.keyboard.press('v');
    // Tab leads through every control: no trap
    const seen = new Set<string>();
    await page.locator('#plan').focus();
    for (let i = 0; i < 12; i++) {
      await page.keyboard.press('Tab');
      seen.add(await page.evaluate(() => document.activeElement?.id || document.activeElement?.textContent || ''));
    }
    expect(seen.size).toBeGreaterThan(4);
  }

  async function noReturnLive(): Promise<void> {
    await page.keyboard.press('s');
    await page.locator('#no-return-clear').check();
    expect(await text('slip-text')).toMatch(/vouch for 3\.00 m\?.*glass/s);
    await picture(page, 'no-return-asked');
    await expectAccessible(page);
    await page.locator('#slip-yes').click();
    await until(async () => (await settings()).noReturn === 'clear');
    await until(() => page.locator('#warning').isVisible());
    expect(readFileSync(join(folder, 'leeway.yaml'), 'utf8')).toMatch(
      /name: supply cart 2 # a name[\s\S]*no_return: clear/,
    );
    await until(async () => /^Now: \d of 72/.test(await text('settings-now'))); // open ground is no longer unknown
    await picture(page, 'no-return-clear');
    await expectAccessible(page);
    await page.keyboard.press('Control+z');
    await until(async () => (await settings()).noReturn === 'unknown');
    await page.keyboard.press('Control+Shift+Z');
    await until(async () => (await settings()).noReturn === 'clear');
    await page.keyboard.press('Control+z');
    await until(async () => (await settings()).noReturn === 'unknown');
    await page.keyboard.press('Escape');
  }

  async function maskDrawn(): Promise<void> {
    await page.keyboard.press('k');
    await page.waitForTimeout(700); // a view that still settles comes to rest
    const from = await spot(0.3, -0.3);
    const to = await spot(0.1, -0.35);
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move(...to, { steps: 6 });
    await page.mouse.up();
    expect(await text('slip-text')).toMatch(
      /^Mask −\d+\.\d° to −\d+\.\d°, up to 0\.\d\d m: \d+ echoes .* in leeway\.yaml\.$/,
    );
    await picture(page, 'mask-asked');
    await page.keyboard.press('Enter');
    await until(async () => ((await settings()).masks as unknown[]).length === 1);
    expect(readFileSync(join(folder, 'leeway.yaml'), 'utf8')).toMatch(/masks:[\s\S]*up_to_m: 0\.\d+/);
    await picture(page, 'masked');
    await page.keyboard.press('Control+z');
    await until(async () => ((await settings()).masks as unknown[]).length === 0);
    await page.keyboard.press('v');
  }

  async function recordAndMark(): Promise<void> {
    await page.keyboard.press('l');
    await page.locator('#runs').getByText('No runs yet.').waitFor();
    await picture(page, 'no-runs');
    await expectAccessible(page);
    await page.keyboard.press('Escape');
    await page.keyboard.press('r');
    await page.keyboard.type('Tuesday, early round');
    await page.keyboard.press('Enter');
    await until(async () => (await text('time-word')).startsWith('recording, '));
    await page.waitForTimeout(3000);
    await page.keyboard.press('m');
    await page.keyboard.type('leaf in the way');
    await page.keyboard.press('Enter');
    await page.waitForTimeout(5000);
    await page.keyboard.press('r');
    await until(async () => (await text('time-word')) === 'not recording');
  }

  async function replayed(): Promise<void> {
    await page.keyboard.press('l');
    await until(async () => (await text('runs-table')).includes('Tuesday, early round'));
    await picture(page, 'runs');
    await expectAccessible(page);
    await page.waitForFunction(() => document.activeElement?.tagName === 'TR');
    await page.keyboard.press('Enter');
    await page.waitForSelector('html[data-time="replay"]');
    await until(async () => (await text('senses')).includes('Hz') && !(await text('senses')).includes('– Hz'));
    await page.keyboard.press(' ');
    await until(async () => (await page.locator('#play').getAttribute('aria-pressed')) === 'false');
    const place = async (): Promise<number> => {
      const [, minutes, seconds] = /REPLAY (\d+):(\d\d)/.exec(await text('tense')) ?? [];
      return 60 * Number(minutes) + Number(seconds);
    };
    await page.keyboard.press('9');
    await page.waitForTimeout(800);
    const late = await place();
    expect(late).toBeGreaterThanOrEqual(5);
    await page.keyboard.press('[');
    await page.waitForTimeout(800);
    expect(await place()).toBeLessThan(late);
    await page.keyboard.press('Home');
    await page.waitForTimeout(600);
    expect(await place()).toBeLessThanOrEqual(1);
    expect(await text('event-text')).not.toBe('');
    await page.keyboard.press('5');
    await page.waitForTimeout(800);
    const before = await page.evaluate(() => document.getElementById('strip')?.getAttribute('aria-valuetext'));
    for (let i = 0; i < 12; i++) {
      await page.keyboard.press('.');
      await page.waitForTimeout(60);
    }
    await until(
      async () =>
        (await page.evaluate(() => document.getElementById('strip')?.getAttribute('aria-valuetext'))) !== before,
    );
    const strip = await page.locator('#strip').boundingBox();
    await page.mouse.click((strip?.x ?? 0) + 0.75 * (strip?.width ?? 0), (strip?.y ?? 0) + 10);
    await page.waitForTimeout(1200);
    expect(await place()).toBeGreaterThanOrEqual(5);
    expect(await text('trust-facts')).toMatch(/^of “Tuesday, early round”·\d+ \w+, \d\d:\d\d:\d\d·senses were sound$/);
    expect(await page.locator('[data-do="mask"]').first().getAttribute('title')).toBe('only while live');
    await picture(page, 'replay');
    await expectAccessible(page);
    await page.keyboard.press('Escape');
    await page.waitForSelector('html[data-time="live"]');
    expect(await text('tense-word')).toBe('LIVE');
  }

  async function runsKept(): Promise<void> {
    const list = async (): Promise<Array<{ title: string; pinned: boolean }>> =>
      ((await (await fetch(`${daemon.url}/v1/runs`)).json()) as { runs: Array<{ title: string; pinned: boolean }> })
        .runs;
    await page.keyboard.press('l');
    await page.waitForFunction(() => document.activeElement?.tagName === 'TR');
    await page.keyboard.press('p');
    await until(async () => (await list())[0].pinned);
    await page.waitForFunction(() => document.activeElement?.tagName === 'TR');
    await page.keyboard.press('n');
    await page.locator('#slip-field').fill('Round with a leaf');
    await page.keyboard.press('Enter');
    await until(async () => (await list())[0].title === 'Round with a leaf');
    await page.locator('#runs tbody tr').first().focus();
    await page.keyboard.press('Delete');
    expect(await text('slip-text')).toMatch(/for good\? It is pinned\./);
    await page.keyboard.press('Enter');
    await until(async () => (await list()).length === 0);
    await page.keyboard.press('Escape');
  }
});

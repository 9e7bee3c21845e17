import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { systemClock } from '../../src/core/clock.js';
import { Feed } from '../../src/messages/codec.js';
import { type AppParts, buildApp } from '../../src/server/app.js';
import { FakeFeeds } from '../support/fakeFeeds.js';
import { glassHouse } from '../support/glassHouse.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const CHROMIUM = '/usr/bin/chromium';
const PICTURES = join(ROOT, 'artefacts');
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

const why = existsSync(CHROMIUM) ? undefined : `there is no ${CHROMIUM} (apt-get install chromium)`;
if (why !== undefined) console.warn(`skipped: the page in a browser: ${why}`);

describe.skipIf(why !== undefined)('the page', () => {
  let web: string;
  let browser: Browser;
  let cleanUp: Array<() => unknown> = [];

  beforeAll(async () => {
    web = mkdtempSync(join(tmpdir(), 'leeway-web-'));
    mkdirSync(PICTURES, { recursive: true });
    execFileSync(
      process.execPath,
      [join(ROOT, 'node_modules/.bin/vite'), 'build', 'clients/web', '--outDir', web, '--logLevel', 'warn'],
      { cwd: ROOT },
    );
    browser = await chromium.launch({ executablePath: CHROMIUM, args: FLAGS });
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(web, { recursive: true, force: true });
  });
  afterEach(async () => {
    for (const step of cleanUp.reverse()) await step();
    cleanUp = [];
  });

  /** A daemon whose senses the test speaks for, and its page, which must not complain. */
  async function open(parts: Partial<AppParts> = {}, size = { width: 1600, height: 1000 }) {
    const feeds = new FakeFeeds();
    feeds.rover = 'supply cart 2';
    const app: FastifyInstance = await buildApp({
      ...{ feeds, clock: systemClock(), state: () => ({ ready: true }), webRoot: web, log: pino({ level: 'silent' }) },
      setting: { tokens: [], names: [], clientsMax: 8 },
      ...parts,
    });
    const url = await app.listen({ host: '127.0.0.1', port: 0 });
    cleanUp.push(() => app.close());
    const page = await browser.newPage({ viewport: size });
    cleanUp.push(() => page.close());
    const complaints: string[] = [];
    const foreign: string[] = [];
    page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
    page.on('pageerror', (error) => complaints.push(String(error)));
    page.on('request', (request) => !request.url().startsWith(url) && foreign.push(request.url()));
    await page.goto(url);
    return { feeds, app, page, complaints, foreign };
  }

  /** Says the same every 50 ms, as the daemon does, until told otherwise. */
  function keepSaying(
    feeds: FakeFeeds,
    house = glassHouse(),
  ): { stop: () => void; house: ReturnType<typeof glassHouse> } {
    const talk = { house, stop: () => clearInterval(timer) };
    const speak = (): void => {
      feeds.say(Feed.FEED_CLEARANCE, { clearance: talk.house.clearance });
      feeds.say(Feed.FEED_HEALTH, { health: talk.house.health });
    };
    const timer = setInterval(speak, 50);
    cleanUp.push(talk.stop);
    return talk;
  }

  const path = (page: Page, id: string): Promise<string> =>
    page
      .locator(`#${id}`)
      .getAttribute('d')
      .then((d) => d ?? '');
  const picture = (page: Page, name: string): Promise<unknown> =>
    page.screenshot({ path: join(PICTURES, `page-${name}.png`) });

  test('shows leeway, obstacles and unknown sectors, in the plan and in words; asks nobody else', async () => {
    const { feeds, page, complaints, foreign } = await open();
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(400);
    const pieces = async (id: string): Promise<number> => (await path(page, id)).split('M').length - 1;
    const { clearance } = glassHouse();
    const count = (state: number): number => clearance.state.filter((each) => each === state).length;
    expect(await pieces('plan-unknown')).toBe(count(1));
    expect(await pieces('plan-free')).toBe(count(2) + count(3));
    expect(await pieces('plan-edge')).toBe(count(3));
    expect(await pieces('plan-far')).toBe(count(2));
    expect(await page.locator('#plan-base').getAttribute('fill')).toBe('url(#hatch-away)');
    expect(await page.locator('#trust-head').textContent()).toBe('Senses sound');
    expect(await page.locator('#trust-facts').textContent()).toMatch(
      /^since \d\d:\d\d:\d\d · unknown on \d+ of 72 bearings · data \d+ ms old$/,
    );
    expect(await page.locator('#ahead').textContent()).toBe('3.60');
    expect(await page.locator('footer').textContent()).toMatch(/No safety function\..*own stop.*laser class/s);
    const directions = await page.locator('#directions').textContent();
    expect(directions).toMatch(/^ahead\d+\.\d\d/);
    expect(directions).toMatch(/behind\d+\.\d\d/);
    expect(directions).toMatch(/ahead rightnot vouched for/);
    await picture(page, 'sound');
    expect([complaints, foreign]).toEqual([[], []]);
  });

  test('scale and rover are true: the outline is drawn by the same measure as the scale bar', async () => {
    const { feeds, page } = await open();
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(400);
    const width = Number(await page.locator('#scale').getAttribute('width'));
    const metres = Number.parseFloat((await page.locator('#scale-figure').textContent()) ?? '');
    const corners = (await path(page, 'plan-rover'))
      .slice(1, -1)
      .split('L')
      .map((corner) => corner.split(' ').map(Number));
    const ys = corners.map(([, y]) => y);
    const xs = corners.map(([x]) => x);
    expect((Math.max(...ys) - Math.min(...ys)) / (width / metres)).toBeCloseTo(0.4, 1); // ahead is up: 0.40 m long
    expect((Math.max(...xs) - Math.min(...xs)) / (width / metres)).toBeCloseTo(0.32, 1);
  });

  test('degraded: findings say what to do', async () => {
    const { feeds, page } = await open();
    const talk = keepSaying(feeds);
    talk.house = glassHouse('degraded');
    await page.waitForSelector('html[data-trust="degraded"]');
    await page.waitForTimeout(400);
    expect(await page.locator('#findings').textContent()).toMatch(
      /could not be read[\s\S]*Do: Check baud rate[\s\S]*BYTES_SKIPPED/,
    );
    expect(await page.locator('#trust-facts').textContent()).toContain('1 finding');
    await picture(page, 'degraded');
  });

  test('blind: one hatch, no leeway, why and what to do', async () => {
    const { feeds, page } = await open();
    const talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    talk.house = glassHouse('blind');
    await page.waitForSelector('html[data-trust="blind"]');
    await page.waitForTimeout(400);
    expect(await path(page, 'plan-free')).toBe('');
    expect(await page.locator('#plan-base').getAttribute('fill')).toBe('url(#hatch-unknown)');
    expect(await page.locator('#ahead').textContent()).toBe('0.00');
    expect(await page.locator('#note').textContent()).toMatch(
      /motor does not turn[\s\S]*Do: Switch the sensor off and on/,
    );
    expect(await page.locator('#spoken').textContent()).toMatch(/^Blind\. Nothing is vouched for\./);
    await picture(page, 'blind');
  });

  test('the daemon falls silent: everything is grey within 0.5 s; when it speaks again, so does the page', async () => {
    const { feeds, page } = await open();
    let talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.evaluate(() => {
      new MutationObserver(() => {
        document.title = String(performance.now());
      }).observe(document.documentElement, { attributes: true });
    });
    talk.stop();
    const silentAt = await page.evaluate(() => performance.now());
    await page.waitForSelector('html[data-trust="lost"]');
    const took = Number(await page.title()) - silentAt;
    console.log(`silence shows after ${Math.round(took)} ms`);
    expect(took).toBeLessThan(500);
    expect(await path(page, 'plan-free')).toBe('');
    expect(await page.locator('#plan-base').getAttribute('fill')).toBe('url(#hatch-unknown)');
    expect(await page.locator('#live').textContent()).toBe('NOT LIVE');
    talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
  });

  test('the daemon ends: lost at once, with when and what to do', async () => {
    const { feeds, app, page } = await open();
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await app.close();
    await page.waitForSelector('html[data-trust="lost"]', { timeout: 500 });
    await page.waitForTimeout(1500);
    expect(await page.locator('#trust-head').textContent()).toBe('Connection lost');
    expect(await page.locator('#trust-facts').textContent()).toMatch(
      /^at \d\d:\d\d:\d\d · nothing here is newer · trying again/,
    );
    expect(await page.locator('#note').textContent()).toMatch(/No word from the daemon for \d+\sseconds?[\s\S]*Do: /);
    expect(await path(page, 'plan-rover')).not.toBe(''); // it has not vanished
    await picture(page, 'lost');
  });

  test('a token is asked for, and the right one opens the plan', async () => {
    const sha256 = createHash('sha256').update('nursery').digest('hex');
    const { feeds, page } = await open({ setting: { tokens: [{ role: 'watch', sha256 }], names: [], clientsMax: 8 } });
    keepSaying(feeds);
    const field = page.getByLabel('Token');
    await field.waitFor();
    await picture(page, 'token');
    expect(await page.locator('#trust-head').textContent()).toBe('This rover asks for a token');
    await field.fill('nursery');
    await field.press('Enter');
    await page.waitForSelector('html[data-trust="sound"]');
    expect(page.url()).not.toContain('nursery');
  });

  test('on a phone nothing is cut off', async () => {
    const { feeds, page } = await open({}, { width: 390, height: 844 });
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(400);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await page.screenshot({ path: join(PICTURES, 'page-phone.png'), fullPage: true });
  });
});

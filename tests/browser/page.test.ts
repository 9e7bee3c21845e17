// The page in a browser, in every state, against feeds that say what a test tells them to.
import { createHash } from 'node:crypto';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { Fault } from '../../src/core/fault.js';
import { Feed } from '../../src/messages/codec.js';
import type { AppParts } from '../../src/server/app.js';
import {
  buildPage,
  drawnAt,
  expectAccessible,
  launch,
  noBrowser,
  openPage,
  picture,
  sayWhySkipped,
} from '../support/browser.js';
import { FakeFeeds } from '../support/fakeFeeds.js';
import { glassHouse } from '../support/glassHouse.js';
import { servePage } from '../support/pageDaemon.js';

sayWhySkipped('the states of the page');

describe.skipIf(noBrowser !== undefined)('the page', () => {
  let built: ReturnType<typeof buildPage>;
  let browser: Browser;
  let cleanUp: Array<() => unknown> = [];

  beforeAll(async () => {
    built = buildPage();
    browser = await launch();
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    built?.remove();
  });
  afterEach(async () => {
    for (const step of cleanUp.reverse()) await step();
    cleanUp = [];
  });

  /** A daemon whose senses the test speaks for. */
  async function serve(feeds: FakeFeeds, parts: Partial<AppParts> = {}, port = 0) {
    feeds.rover = 'supply cart 2';
    const { app, url } = await servePage(feeds, built.folder, parts, port);
    cleanUp.push(() => app.close());
    return { app, url };
  }

  async function open(parts: Partial<AppParts> = {}, size: Parameters<typeof openPage>[2] = {}) {
    const feeds = new FakeFeeds();
    const { app, url } = await serve(feeds, parts);
    const opened = await openPage(browser, url, size);
    cleanUp.push(() => opened.page.close());
    return { feeds, app, url, ...opened };
  }

  /** Says the same every 50 ms, as the daemon does, until told otherwise. */
  function keepSaying(feeds: FakeFeeds, house = glassHouse()) {
    const talk = { house, stop: () => clearInterval(timer) };
    const speak = (): void => {
      feeds.say(Feed.FEED_HEALTH, { health: talk.house.health });
      feeds.say(Feed.FEED_CLEARANCE, { clearance: talk.house.clearance });
    };
    const timer = setInterval(speak, 50);
    cleanUp.push(talk.stop);
    return talk;
  }

  test('leeway is washed, unknown hatched, the rest only the ground; nobody else is asked; nothing serious for axe', async () => {
    const { feeds, page, complaints, foreign } = await open();
    const { house } = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(2500); // the view has settled
    const { clearance } = house;
    const seen: Record<string, number> = {};
    for (let k = 0; k < 72; k += 3) {
      const bearing = ((k + 0.5) / 72) * 2 * Math.PI;
      const isUnknown = clearance.state[k] === 1;
      const at = isUnknown ? 1.6 : 0.3 + 0.5 * clearance.leewayM[k];
      const drawn = await drawnAt(page, at * Math.cos(bearing), at * Math.sin(bearing));
      const key = `${isUnknown ? 'unknown' : 'vouched'}: ${drawn}`;
      seen[key] = (seen[key] ?? 0) + 1;
    }
    // the leeway's own figures and lines may cover some places of it
    expect(seen['unknown: hatch']).toBeGreaterThanOrEqual(2); // of 3
    expect(seen['vouched: wash']).toBeGreaterThanOrEqual(18);
    expect(Object.keys(seen).filter((key) => /vouched: (hatch|clear)|unknown: (wash|clear)/.test(key))).toEqual([]);
    expect(await drawnAt(page, 0, 3.2)).toBe('clear'); // behind the wall, 2.6 m to the left: out of sight
    expect(await page.locator('#trust-head').textContent()).toBe('Senses sound');
    expect(await page.locator('#trust-facts').textContent()).toMatch(
      /^watched since \d\d:\d\d:\d\d·unknown on \d+ of 72 bearings·data \d+ ms old$/,
    );
    expect(await page.locator('#ahead').textContent()).toBe('3.60');
    expect(await page.locator('#twin-leeway').textContent()).toMatch(
      /ahead 3\.60 m.*left \d\.\d\d m.*behind \d\.\d\d m.*ahead right: not vouched for/,
    );
    expect(await page.locator('#sheet .caution').textContent()).toMatch(/No safety function\..*own stop/s);
    await picture(page, 'sound');
    await expectAccessible(page);
    expect([complaints, foreign]).toEqual([[], []]);
  });

  test('scale bar and plan have one measure', async () => {
    const { feeds, page } = await open();
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(2500);
    const width = (await page.locator('#scale-bar').boundingBox())?.width ?? 0;
    const metres = Number.parseFloat((await page.locator('#scale-all').textContent()) ?? '');
    const perMetre = Number(await page.locator('#plan').getAttribute('data-px-per-m'));
    expect(width / metres / perMetre).toBeCloseTo(1, 2);
  });

  test('degraded: findings say what to do', async () => {
    const { feeds, page } = await open();
    const talk = keepSaying(feeds);
    talk.house = glassHouse('degraded');
    await page.waitForSelector('html[data-trust="degraded"]');
    await page.waitForTimeout(2500);
    expect(await page.locator('#findings').textContent()).toMatch(
      /could not be read[\s\S]*Do: check baud rate[\s\S]*BYTES_SKIPPED/,
    );
    expect(await page.locator('#trust-facts').textContent()).toContain('1 finding');
    expect(await page.locator('#spoken').textContent()).toMatch(/^Senses degraded\. Many bytes/);
    await picture(page, 'degraded');
    await expectAccessible(page);
  });

  test('a finding with a place stands there, numbered as in the list', async () => {
    const { feeds, page } = await open();
    const talk = keepSaying(feeds);
    const [what, remedy] = ['many samples come back without an echo (share 0.93)', 'Wipe the window.'];
    const place = { fromRad: -Math.PI / 2, toRad: -Math.PI / 4 };
    const findings = [{ code: 'RETURNS_MISSING', what, remedy, sinceS: Date.now() / 1000, ...place }];
    talk.house = { ...glassHouse(), health: { ...glassHouse('degraded').health, findings } };
    await page.waitForSelector('html[data-trust="degraded"]');
    await page.waitForTimeout(2500);
    expect(await page.locator('#findings').textContent()).toContain('from 45.0° to 90.0° right');
    await picture(page, 'finding-at-its-place');
  });

  test('blind: one hatch, no leeway, why and what to do', async () => {
    const { feeds, page } = await open();
    const talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(600);
    talk.house = glassHouse('blind');
    await page.waitForSelector('html[data-trust="blind"]');
    await page.waitForTimeout(2500);
    expect(await drawnAt(page, -1, 0)).toBe('clear'); // no wash left over the blind ground
    expect(await page.locator('#ahead').textContent()).toBe('0.00');
    expect(await page.locator('#note').textContent()).toMatch(
      /motor does not turn[\s\S]*Do: switch the sensor off and on/,
    );
    expect(await page.locator('#alarm').textContent()).toMatch(/^Blind\. Nothing is vouched for\./);
    await picture(page, 'blind');
    await expectAccessible(page);
  });

  test('no sensor yet: how to go on, in three steps', async () => {
    const { feeds, page } = await open();
    const talk = keepSaying(feeds);
    const [what, remedy] = ['the serial port is not there (port /dev/ttyUSB0)', 'Plug the cable in.'];
    const findings = [{ code: 'PORT_MISSING', what, remedy, sinceS: Date.now() / 1000 - 40 }];
    talk.house = { ...glassHouse('blind'), health: { ...glassHouse('blind').health, findings } };
    await page.waitForSelector('html[data-trust="blind"]');
    await page.waitForTimeout(600);
    expect(await page.locator('#trust-head').textContent()).toBe('No sensor yet');
    expect(await page.locator('#note-steps li').count()).toBe(3);
    expect(await page.locator('#note').textContent()).toContain('npx leeway check');
    await picture(page, 'no-sensor');
    await expectAccessible(page);
  });

  test('the daemon falls silent: everything is grey within 0.5 s; when it speaks again, so does the page', async () => {
    const { feeds, page } = await open();
    let talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(500);
    await page.evaluate(() => {
      new MutationObserver(() => {
        if (document.documentElement.dataset.trust === 'lost') document.body.dataset.lostAt = String(performance.now());
      }).observe(document.documentElement, { attributes: true });
    });
    talk.stop();
    const silentAt = await page.evaluate(() => performance.now());
    await page.waitForSelector('html[data-trust="lost"]');
    const took = Number(await page.locator('body').getAttribute('data-lost-at')) - silentAt;
    console.log(`silence shows after ${Math.round(took)} ms`);
    expect(took).toBeLessThan(500);
    expect(await drawnAt(page, -1, 0)).toBe('clear');
    expect(await page.locator('#tense-word').textContent()).toBe('NOT LIVE');
    expect(await page.locator('#ahead').textContent()).toBe('0.00');
    talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
  });

  test('the daemon ends: lost, with when and what to do; it comes back anew: that is said, and what was pinned is dropped', async () => {
    const { feeds, app, url, page } = await open();
    const talk = keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(2000);
    await page.keyboard.press('t'); // a tape in the open
    const sheet = await page.locator('#plan').boundingBox();
    for (const part of [0.4, 0.6])
      await page.mouse.click((sheet?.x ?? 0) + part * (sheet?.width ?? 0), (sheet?.y ?? 0) + 200);
    await app.close();
    talk.stop();
    await page.waitForSelector('html[data-trust="lost"]', { timeout: 600 });
    await page.waitForTimeout(1500);
    expect(await page.locator('#trust-head').textContent()).toBe('Connection lost');
    expect(await page.locator('#trust-facts').textContent()).toMatch(
      /^at \d\d:\d\d:\d\d·nothing here is newer·trying again/,
    );
    expect(await page.locator('#note').textContent()).toMatch(/No word from the daemon for \d+\sseconds?[\s\S]*Do: /);
    await picture(page, 'lost');
    await expectAccessible(page);
    const again = new FakeFeeds();
    await serve(again, {}, Number(new URL(url).port));
    keepSaying(again);
    await page.waitForSelector('html[data-trust="sound"]', { timeout: 8000 });
    await page.waitForTimeout(600);
    expect(await page.locator('#trust-facts').textContent()).toMatch(
      /^at \d\d:\d\d:\d\d·start and path are new·senses sound$/,
    );
    expect(await page.locator('#told').textContent()).toContain('Pins and tape are gone');
    await picture(page, 'restarted');
  });

  test('an older daemon: what there is, and that the page is newer', async () => {
    const feeds = new FakeFeeds();
    feeds.version = '0.0.9';
    const read = feeds.read.bind(feeds);
    feeds.read = (format, data) => {
      const request = read(format, data);
      if (
        request.kind === 'subscribe' &&
        request.wants.some(({ feed }) => feed !== Feed.FEED_CLEARANCE && feed !== Feed.FEED_HEALTH)
      )
        throw new Fault('ENUM_UNKNOWN', { where: 'wants.feed' });
      return request;
    };
    const { url } = await serve(feeds);
    const { page } = await openPage(browser, url);
    cleanUp.push(() => page.close());
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]', { timeout: 5000 });
    await page.waitForTimeout(2200);
    expect(await page.locator('#trust-facts').textContent()).toContain('this page is newer than the daemon (0.0.9)');
    expect(await drawnAt(page, -1, 0)).toBe('wash');
    await picture(page, 'older-daemon');
  });

  test('a run that holds no echoes says so, and how to go back', async () => {
    const row = {
      ...{ name: 'empty', title: 'Before the sensor', rover: 'cart', pinned: false, beganS: 1764000000, lengthS: 3 },
      ...{ drivenM: 0, closestM: null, marks: 0, findings: [], bytes: 4096, cut: false, wallLeadS: 0 },
    };
    const runs = {
      list: async () => ({ runs: [row] }),
      show: async () => ({ ...row, events: [], momentsAtS: [], moments: {} }),
      play: () => Object.assign(new FakeFeeds(), { stop: async () => {} }),
    };
    const { feeds, page } = await open({ runs });
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.keyboard.press('l');
    await page.waitForFunction(() => document.activeElement?.tagName === 'TR');
    await page.keyboard.press('Enter');
    await page.getByText('This run holds no echoes').waitFor();
    await picture(page, 'empty-run');
    await expectAccessible(page);
    await page.keyboard.press('Escape');
    await page.waitForSelector('html[data-trust="sound"]');
  });

  test('a wrong token says so and when to try again; the right one opens the plan and is nowhere to be read', async () => {
    const sha256 = createHash('sha256').update('nursery').digest('hex');
    const { feeds, page } = await open({ setting: { tokens: [{ role: 'watch', sha256 }], names: [], clientsMax: 8 } });
    keepSaying(feeds);
    const field = page.getByLabel('Token');
    await field.waitFor();
    await picture(page, 'token');
    await expectAccessible(page);
    await field.fill('nurse');
    await field.press('Enter');
    await page.getByText('That token is not known here.').waitFor();
    expect(await page.locator('#token-fault').textContent()).toMatch(
      /missing letter at either end\. Next try in \d s\./,
    );
    await picture(page, 'token-wrong');
    await page.waitForFunction(() => !document.getElementById('token-fault')?.textContent?.includes('Next try'));
    await field.fill('nursery');
    await field.press('Enter');
    await page.waitForSelector('html[data-trust="sound"]');
    await page.locator('#page').waitFor();
    await page.waitForTimeout(700);
    expect(page.url()).not.toContain('nursery');
    // role watch: what it may not do is dashed and says why
    const mask = page.locator('[data-do="mask"]').first();
    expect([await mask.getAttribute('aria-disabled'), await mask.getAttribute('title')]).toEqual([
      'true',
      'needs role admin',
    ]);
    expect(await page.locator('#record').getAttribute('title')).toBe('needs role drive');
    await picture(page, 'role-watch');
  });

  test.each([
    { width: 390, height: 844 },
    { width: 844, height: 390 },
    { width: 1024, height: 768 },
    { width: 3840, height: 2160 },
  ])('nothing is cut off at $width x $height', async (size) => {
    const { feeds, page } = await open({}, size);
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(2200);
    expect(
      await page.evaluate(() => [
        document.documentElement.scrollWidth - innerWidth,
        document.documentElement.scrollHeight - innerHeight,
      ]),
    ).toEqual([0, 0]);
    const small = await page.evaluate(
      (least) => {
        const buttons = [...document.querySelectorAll<HTMLElement>('button')].filter(
          (button) => button.offsetParent !== null,
        );
        return buttons.filter(({ offsetHeight }) => offsetHeight < least).map(({ textContent }) => textContent);
      },
      size.width < 700 ? 44 : 33,
    ); // px: 44 to be touched, 36 at root 16 otherwise
    expect(small).toEqual([]);
    await picture(page, `${size.width}x${size.height}`);
    await expectAccessible(page);
    if (size.width >= 700) return;
    for (const tab of ['Senses', 'Runs', 'More']) {
      await page.locator('.tabs').getByText(tab).click();
      await page.waitForTimeout(400);
      if (tab === 'Runs') await page.getByText('This daemon does not offer that').waitFor(); // this one keeps no runs
      await picture(page, `phone-${tab.toLowerCase()}`);
      await expectAccessible(page);
    }
  });

  test('reduced motion: no view settles slowly; forced colours and more contrast: the plan is drawn', async () => {
    const { feeds, page } = await open({}, { reducedMotion: 'reduce', forcedColors: 'active', contrast: 'more' });
    keepSaying(feeds);
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(2500);
    const before = await page.locator('#plan').getAttribute('data-px-per-m');
    await page.keyboard.press('+');
    await page.waitForTimeout(600);
    const after = await page.locator('#plan').getAttribute('data-px-per-m');
    expect(Number(after) / Number(before)).toBeCloseTo(1.25, 2);
    await picture(page, 'forced-colors');
  });
});

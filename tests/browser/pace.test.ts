// What the page must reach: how large it is, how soon it shows, how much work a frame is, what it costs the daemon.
import { readdirSync, readFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { Feed } from '../../src/messages/codec.js';
import { buildPage, launch, noBrowser, openPage, picture, sayWhySkipped } from '../support/browser.js';
import { FakeFeeds } from '../support/fakeFeeds.js';
import { fullHouse } from '../support/fullHouse.js';
import { servePage } from '../support/pageDaemon.js';

/** What the page says of itself, see clients/web/src/pace.ts. */
declare const leewayPace: { readonly took: Float32Array; count: number; readonly firstPlan: number };

const SWEEPS = 10; // a second
const ECHOES = 1600;
const WALLS = 50;
const MOVERS = 20;

sayWhySkipped('the page’s pace');

describe.skipIf(noBrowser !== undefined)('the page’s pace', () => {
  let built: ReturnType<typeof buildPage>;
  let browser: Browser;
  let cleanUp: Array<() => unknown> = [];

  beforeAll(async () => {
    built = buildPage();
    browser = await launch('--js-flags=--expose-gc');
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    built?.remove();
  });
  afterEach(async () => {
    for (const step of cleanUp.reverse()) await step();
    cleanUp = [];
  });

  async function serve(): Promise<{ feeds: FakeFeeds; url: string; clients: () => number }> {
    const feeds = new FakeFeeds();
    const { app, url } = await servePage(feeds, built.folder);
    cleanUp.push(() => app.close());
    return { feeds, url, clients: () => app.websocketServer.clients.size };
  }

  /** Everything at once: 1600 echoes a sweep, 10 sweeps/s, 50 walls, 20 movers, leeway 20 times a second. */
  function saySweeps(feeds: FakeFeeds): void {
    let beat = 0;
    const timer = setInterval(
      () => {
        const house = fullHouse(beat / (2 * SWEEPS), { echoes: ECHOES, walls: WALLS, movers: MOVERS });
        if (beat++ % 2 === 0) {
          feeds.say(Feed.FEED_HEALTH, { health: house.health });
          feeds.say(Feed.FEED_SWEEP, { sweep: house.sweep });
          feeds.say(Feed.FEED_MOTION, { motion: house.motion });
          feeds.say(Feed.FEED_MOVERS, { movers: house.movers });
          feeds.say(Feed.FEED_SHAPES, { shapes: house.shapes });
        }
        feeds.say(Feed.FEED_CLEARANCE, { clearance: house.clearance });
      },
      1000 / (2 * SWEEPS),
    );
    cleanUp.push(() => clearInterval(timer));
  }

  const quantile = (sorted: readonly number[], q: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))];
  const frames = (page: Page): Promise<number[]> =>
    page.evaluate(() => [...leewayPace.took.slice(0, leewayPace.count)].sort((a, b) => a - b));

  test('all files of the page together: under 200 kB gzipped', () => {
    const files = readdirSync(built.folder, { recursive: true, withFileTypes: true }).filter((file) => file.isFile());
    const size = files.reduce(
      (sum, { parentPath, name }) => sum + gzipSync(readFileSync(join(parentPath, name))).length,
      0,
    );
    console.log(`the page is ${(size / 1000).toFixed(1)} kB gzipped, in ${files.length} files`);
    expect(size).toBeLessThan(200_000);
  });

  test('first picture within 1 s on loopback', async () => {
    const { feeds, url } = await serve();
    saySweeps(feeds);
    const times: number[] = [];
    for (let i = 0; i < 3; i++) {
      const { page } = await openPage(browser, url);
      await page.waitForFunction(() => leewayPace.firstPlan > 0);
      times.push(await page.evaluate(() => leewayPace.firstPlan));
      await page.close();
    }
    console.log(`first plan after ${times.map((time) => Math.round(time)).join(', ')} ms`);
    expect(Math.min(...times)).toBeLessThan(1000); // the best of three: other work on the machine is not the page's
  });

  test('60 frames a second with 1600 echoes a sweep, 50 walls, 20 movers; work a frame p99 under 8 ms', async () => {
    const { feeds, url } = await serve();
    saySweeps(feeds);
    const { page } = await openPage(browser, url);
    cleanUp.push(() => page.close());
    await page.waitForSelector('html[data-trust="sound"]');
    await page.waitForTimeout(4000); // letters are made, the code is warm
    await page.evaluate(() => {
      leewayPace.count = 0;
    });
    const used = await processorTime(page, 10);
    const beats = await framesASecond(page);
    const blank = await browser.newPage();
    const most = await framesASecond(blank); // what this machine can do now, with nothing to draw
    await blank.close();
    const work = await frames(page);
    const told = (name: string, sorted: readonly number[]): string =>
      `${name} p50 ${quantile(sorted, 0.5).toFixed(1)} p99 ${quantile(sorted, 0.99).toFixed(1)} max ${sorted[sorted.length - 1].toFixed(1)} ms (${sorted.length})`;
    console.log(
      [
        told('work a frame, processor time', used.frames),
        told('by the clock', work),
        told('each task of the main thread, painting too', used.tasks),
        `${beats.toFixed(0)} frames/s of ${most.toFixed(0)} that a blank page gets here`,
      ].join('; '),
    );
    await picture(page, 'full-house');
    expect(used.frames.length).toBeGreaterThan(100);
    expect(quantile(used.frames, 0.99)).toBeLessThan(8);
    expect(quantile(used.tasks, 0.9)).toBeLessThan(12); // with the painting that a machine without a graphics processor does here
    // a blank page needs no processor, so this asks for one that is free
    if (loadavg()[0] > cpus().length) console.log('frames/s not judged: other work fills this machine');
    else expect(beats).toBeGreaterThan(0.85 * most);
  }, 60_000);

  test('a hidden tab costs the daemon nothing: its connection is closed, and opened again when it is looked at', async () => {
    const { feeds, url, clients } = await serve();
    saySweeps(feeds);
    const { page } = await openPage(browser, url);
    cleanUp.push(() => page.close());
    await page.waitForSelector('html[data-trust="sound"]');
    expect(clients()).toBe(1);
    // a headless browser hides no tab: what the browser says of it is put in its place
    const hide = (isHidden: boolean): Promise<unknown> =>
      page.evaluate((hidden) => {
        Object.defineProperty(document, 'hidden', { value: hidden, configurable: true });
        document.dispatchEvent(new Event('visibilitychange'));
      }, isHidden);
    await hide(true);
    await expect.poll(clients, { timeout: 3000 }).toBe(0);
    await page.waitForTimeout(1500);
    expect(clients()).toBe(0);
    await hide(false);
    await page.waitForSelector('html[data-trust="sound"]', { timeout: 2000 });
  });

  test('memory is flat: what is kept after a while is not more than after a short one', async () => {
    const { feeds, url } = await serve();
    saySweeps(feeds);
    const { page } = await openPage(browser, url);
    cleanUp.push(() => page.close());
    await page.waitForSelector('html[data-trust="sound"]');
    const seconds = Number(process.env.LEEWAY_PAGE_SOAK_S ?? 20);
    const client = await page.context().newCDPSession(page);
    await page.waitForTimeout(8000);
    const before = await heap(client);
    await page.waitForTimeout(seconds * 1000);
    const after = await heap(client);
    const perHour = ((after - before) / seconds) * 3600;
    console.log(`heap ${(before / 1e6).toFixed(2)} MB, after ${seconds} s more ${(after / 1e6).toFixed(2)} MB`);
    expect(after - before).toBeLessThan(1.5e6); // ten minutes of history and 600 letters at most fill up
    expect(perHour).toBeLessThan(300e6); // a leak of one sweep a second would be more
  }, 700_000);
});

/** How often the page is asked to draw. */
function framesASecond(page: Page): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        let count = 0;
        const begun = performance.now();
        const beat = (): void => {
          count++;
          if (performance.now() - begun < 3000) requestAnimationFrame(beat);
          else resolve((1000 * count) / (performance.now() - begun));
        };
        requestAnimationFrame(beat);
      }),
  );
}

/** Bytes in use after collecting garbage. */
async function heap(client: CDPSession): Promise<number> {
  await client.send('HeapProfiler.collectGarbage');
  const { usedSize } = (await client.send('Runtime.getHeapUsage')) as { usedSize: number };
  return usedSize;
}

/**
 * What the page's main thread does over some seconds, in processor time: other work on the machine does not count.
 * @returns ms, shortest first: of each animation frame's script, and of each task of 0.5 ms and more (scripts, layout, painting).
 */
async function processorTime(page: Page, seconds: number): Promise<{ frames: number[]; tasks: number[] }> {
  const client = await page.context().newCDPSession(page);
  const events: TraceEvent[] = [];
  client.on('Tracing.dataCollected', ({ value }) => events.push(...(value as unknown as TraceEvent[])));
  const complete = new Promise<void>((resolve) => client.on('Tracing.tracingComplete', () => resolve()));
  const includedCategories = ['toplevel', 'devtools.timeline', '__metadata'];
  await client.send('Tracing.start', { transferMode: 'ReportEvents', traceConfig: { includedCategories } });
  await page.waitForTimeout(seconds * 1000);
  await client.send('Tracing.end');
  await complete;
  const mains = new Set(
    events
      .filter(({ name, args }) => name === 'thread_name' && args?.name === 'CrRendererMain')
      .map(({ pid, tid }) => `${pid}.${tid}`),
  );
  const times = (pattern: RegExp, least: number): number[] =>
    events
      .filter(({ name, pid, tid, tdur = 0 }) => pattern.test(name) && mains.has(`${pid}.${tid}`) && tdur >= least)
      .map(({ tdur = 0 }) => tdur / 1000)
      .sort((a, b) => a - b);
  return { frames: times(/^FireAnimationFrame$/, 0), tasks: times(/RunTask$/, 500) };
}

/** A trace event of the browser; `tdur` is processor time of its thread, µs. */
interface TraceEvent {
  readonly name: string;
  readonly tdur?: number;
  readonly pid: number;
  readonly tid: number;
  readonly args?: { readonly name?: string };
}

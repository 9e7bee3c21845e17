import { pino } from 'pino';
import { afterEach, expect, test } from 'vitest';
import WebSocket from 'ws';
import { connect, type Options, type Rover } from '../../clients/typescript/src/client.js';
import { systemClock } from '../../src/core/clock.js';
import { Feed } from '../../src/messages/codec.js';
import { buildApp } from '../../src/server/app.js';
import { FakeFeeds } from '../support/fakeFeeds.js';
import { until } from '../support/feedsClient.js';

const ALL = Array.from({ length: 72 }, () => 1.5);
const CLEARANCE = {
  clearance: { state: ALL.map(() => 3), leewayM: ALL, nearestM: ALL, ageS: ALL, thinnestM: ALL, aheadM: 1.5 },
};

let cleanUp: Array<() => unknown> = [];
afterEach(async () => {
  for (const step of cleanUp.reverse()) await step();
  cleanUp = [];
});

async function serve(port = 0) {
  const feeds = new FakeFeeds();
  const setting = { tokens: [], names: [], clientsMax: 8 };
  const parts = { feeds, setting, state: () => ({ ready: true }), webRoot: '/nowhere', clock: systemClock() };
  const app = await buildApp({ ...parts, log: pino({ level: 'silent' }) });
  cleanUp.push(() => app.close());
  const url = await app.listen({ host: '127.0.0.1', port });
  return { app, feeds, url, port: Number(new URL(url).port) };
}

function follow(url: string, options: Options = {}): Rover {
  const rover = connect(url, options);
  cleanUp.push(() => rover.close());
  return rover;
}

test.each([
  ["the platform's own WebSocket", {}],
  ['the WebSocket of ws', { WebSocket }],
])('follows a daemon, with %s', async (_what, options) => {
  const { feeds, url } = await serve();
  const rover = follow(url, options);
  await until(() => rover.isConnected, 'connection');
  expect(rover.hello).toMatchObject({ rover: 'test cart', role: 'admin' });
  await until(() => {
    feeds.say(Feed.FEED_CLEARANCE, CLEARANCE);
    return rover.clearance !== undefined;
  }, 'clearance');
  expect(rover.leewayTowards(0.3)).toBe(1.5);
  expect(rover.send({ mark: { text: 'bench' } })).toBe(true);
  await until(() => feeds.acted.length === 1, 'mark');
});

test('the daemon ends and comes again: nothing is vouched for meanwhile, and it is found again', async () => {
  const first = await serve();
  const rover = follow(first.url);
  await until(() => rover.isConnected, 'connection');
  first.feeds.say(Feed.FEED_CLEARANCE, CLEARANCE);
  await until(() => rover.leewayTowards(0) > 0, 'leeway');
  await first.app.close();
  await until(() => !rover.isConnected, 'loss');
  expect(rover.leewayTowards(0)).toBe(0);
  const second = await serve(first.port);
  await until(() => rover.isConnected, 'return');
  second.feeds.say(Feed.FEED_CLEARANCE, CLEARANCE);
  await until(() => rover.leewayTowards(0) > 0, 'leeway again');
});

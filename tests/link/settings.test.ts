// What may be changed while the daemon runs: over HTTP, into the senses, into the configuration file.
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { LiveSettings } from '../../src/cli/liveSettings.js';
import { loadConfig } from '../../src/config/load.js';
import { systemClock } from '../../src/core/clock.js';
import { buildApp } from '../../src/server/app.js';
import type { ServerSetting } from '../../src/server/doors.js';
import { FakeFeeds } from '../support/fakeFeeds.js';

const hash = (text: string): string => createHash('sha256').update(text).digest('hex');
const TOKENS = [
  { role: 'drive', sha256: hash('driver') },
  { role: 'admin', sha256: hash('gardener') },
] as const;
const FILE = `# cart of house 3
rover:
  name: cart 2   # painted on its side
clearance:
  no_return: unknown # glass everywhere
`;

let folder: string;
let file: string;
let app: FastifyInstance;
let live: LiveSettings;

async function start(hasFile: boolean, tokens: ServerSetting['tokens'] = []): Promise<void> {
  live = new LiveSettings(loadConfig(hasFile ? file : undefined), hasFile ? file : undefined);
  app = await buildApp({
    ...{ feeds: new FakeFeeds(), clock: systemClock(), state: () => ({ ready: true }), webRoot: '/nowhere' },
    log: pino({ level: 'silent' }),
    settings: live,
    setting: { tokens, names: [], clientsMax: 8 },
  });
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'leeway-settings-'));
  file = join(folder, 'leeway.yaml');
  writeFileSync(file, FILE);
});
afterEach(async () => {
  await app?.close();
  rmSync(folder, { recursive: true, force: true });
});

const ask = (method: 'GET' | 'PUT', payload?: object, token?: string) =>
  app.inject({
    ...{ method, url: '/v1/settings', remoteAddress: '127.0.0.1' },
    headers: { host: 'localhost', ...(token === undefined ? {} : { authorization: `Bearer ${token}` }) },
    ...(payload === undefined ? {} : { payload }),
  });

test('what is in force can be read', async () => {
  await start(true);
  const answer = await ask('GET');
  expect(answer.json()).toEqual({
    ...{ noReturn: 'unknown', noReturnM: 3, masks: [], mount: { xM: 0, yM: 0 }, file: 'leeway.yaml' },
    noise: { constantM: 0.005, growthPerM: 0.000833 },
  });
  expect(answer.headers['cache-control']).toBe('no-store');
});

test('a change reaches the senses at once and the file with its comments', async () => {
  await start(true);
  const masks = [{ fromRad: -0.3, toRad: 0.25, upToM: 0.4 }];
  const answer = await ask('PUT', { noReturn: 'clear', noReturnM: 1.5, masks });
  expect(answer.statusCode).toBe(200);
  expect(answer.json()).toMatchObject({ noReturn: 'clear', noReturnM: 1.5, masks });
  expect(live.clearance.noReturn).toBe(1.5);
  expect(live.sensor.masks).toEqual([{ from: -0.3, to: 0.25, upTo: 0.4 }]);
  const text = readFileSync(file, 'utf8');
  expect(text).toContain('# painted on its side');
  expect(text).toContain('no_return: clear # glass everywhere');
  const again = loadConfig(file);
  expect([again.clearance.noReturn, again.clearance.noReturnReach, again.sensor.masks]).toEqual([
    ...['clear', 1.5, [{ from: -0.3, to: 0.25, upTo: 0.4 }]],
  ]);
  await ask('PUT', { noReturn: 'unknown' });
  expect(live.clearance.noReturn).toBeNaN();
});

test('without a file a change lasts until the daemon stops, and says so', async () => {
  await start(false);
  expect((await ask('PUT', { noReturn: 'clear' })).json()).toMatchObject({ noReturn: 'clear', file: null });
  expect(live.clearance.noReturn).toBe(3);
});

describe('refused, and nothing has changed', () => {
  test.each([
    ['an unknown setting', { speed: 3 }],
    ['nothing', {}],
    ['a list', []],
    ['a wrong word', { noReturn: 'maybe' }],
    ['a negative reach', { noReturnM: -1 }],
    ['masks that are none', { masks: 'all' }],
    ['a mask without an end', { masks: [{ fromRad: 0, upToM: 1 }] }],
    ['a mask that is too far', { masks: [{ fromRad: 0, toRad: 1, upToM: 1e9 }] }],
    ['one good and one bad', { noReturn: 'clear', masks: [{ fromRad: 0, toRad: 1, upToM: -1 }] }],
    ['too many masks', { masks: Array.from({ length: 65 }, () => ({ fromRad: 0, toRad: 1, upToM: 0.2 })) }],
  ])('%s', async (_, wish) => {
    await start(true);
    const answer = await ask('PUT', wish);
    expect(answer.statusCode).toBe(400);
    expect(answer.json()).toMatchObject({ code: expect.stringMatching(/^(CONFIG_VALUE_BAD|REQUEST_UNREADABLE)$/) });
    expect(live.clearance.noReturn).toBeNaN();
    expect(live.sensor.masks).toEqual([]);
    expect(readFileSync(file, 'utf8')).toBe(FILE);
  });

  test('by role: drive may read, only admin may change; a stranger may neither', async () => {
    await start(true, TOKENS);
    expect((await ask('GET')).statusCode).toBe(401);
    expect((await ask('GET', undefined, 'driver')).statusCode).toBe(200);
    const refused = await ask('PUT', { noReturn: 'clear' }, 'driver');
    expect([refused.statusCode, refused.json().code]).toEqual([403, 'ROLE_TOO_LOW']);
    expect((await ask('PUT', { noReturn: 'clear' }, 'gardener')).statusCode).toBe(200);
  });

  test('from a page of another site', async () => {
    await start(true);
    const answer = await app.inject({
      ...{ method: 'PUT', url: '/v1/settings', remoteAddress: '127.0.0.1', payload: { noReturn: 'clear' } },
      headers: { host: 'localhost', origin: 'http://elsewhere.example' },
    });
    expect(answer.statusCode).toBe(403);
    expect(live.clearance.noReturn).toBeNaN();
  });
});

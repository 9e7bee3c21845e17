import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { systemClock } from '../../src/core/clock.js';
import { type AppParts, buildApp } from '../../src/server/app.js';
import type { FakeFeeds } from './fakeFeeds.js';

/** The daemon's doors with the built page, and feeds that say what a test tells them to. @returns the server and its address. */
export async function servePage(
  feeds: FakeFeeds,
  webRoot: string,
  parts: Partial<AppParts> = {},
  port = 0,
): Promise<{ app: FastifyInstance; url: string }> {
  const app = await buildApp({
    ...{ feeds, webRoot, clock: systemClock(), state: () => ({ ready: true }), log: pino({ level: 'silent' }) },
    setting: { tokens: [], names: [], clientsMax: 64 },
    ...parts,
  });
  return { app, url: await app.listen({ host: '127.0.0.1', port }) };
}

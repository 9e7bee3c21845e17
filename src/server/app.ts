import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import websocket from '@fastify/websocket';
import Fastify, {
  type FastifyBaseLogger,
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
  LogController,
} from 'fastify';
import type { Clock } from '../core/clock.js';
import { explain, Fault, type FaultCode } from '../core/fault.js';
import { chooseFormat, Doors, type ServerSetting } from './doors.js';
import type { FeedSource, Role } from './feedSource.js';
import feedsPlugin from './feedsPlugin.js';
import runsPlugin from './runsPlugin.js';
import type { RunsSource } from './runsSource.js';
import settingsPlugin, { type SettingsSource } from './settingsPlugin.js';

const PAYLOAD_MAX = 256 * 1024; // bytes, where ws closes by itself, without a reason; the limit that is told is client.ts's

const STATUS: Partial<Record<FaultCode, number>> = {
  CONFIG_VALUE_BAD: 400,
  REQUEST_UNREADABLE: 400,
  SUBPROTOCOL_UNKNOWN: 400,
  TOKEN_WRONG: 401,
  HOST_FOREIGN: 403,
  ROLE_TOO_LOW: 403,
  ORIGIN_FOREIGN: 403,
  PATH_UNKNOWN: 404,
  RUN_NOT_FOUND: 404,
  RUN_DAMAGED: 422, // RFC 9110, 15.5.21: understood, but its contents do not let it
  RUN_EMPTY: 422,
  RUN_FOREIGN: 422,
  RUN_NEWER: 422,
  UPGRADE_NEEDED: 426,
  CLIENTS_FULL: 503,
  RUNS_PLAYING_FULL: 503,
};

/** The page needs nothing but its own origin (CSP Level 3; 'self' holds for WebSockets of the same host and port too). */
const HEADERS = {
  'content-security-policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
};

const NO_PAGE = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Leeway</title>
<p>The page is not built. Run <code>npm run build</code> in the project's folder and load this again. The feeds at <code>/v1/feeds</code> work without it.</p></html>`;

export interface AppParts {
  readonly feeds: FeedSource;
  /** Recorded runs; absent: there are none to be had. */
  readonly runs?: RunsSource;
  /** What may be changed while it runs; absent: nothing. */
  readonly settings?: SettingsSource;
  readonly setting: ServerSetting;
  /** Whether the senses vouch for anything; else the code of the first finding. */
  readonly state: () => Readonly<{ ready: boolean; code?: FaultCode }>;
  /** Folder of the built page. */
  readonly webRoot: string;
  readonly clock: Clock;
  readonly log: FastifyBaseLogger;
}

/** The daemon's doors: page, probes, feeds. Not listening yet. `close()` says goodbye to every client and takes milliseconds. */
export async function buildApp({
  feeds,
  runs,
  settings,
  setting,
  state,
  webRoot,
  clock,
  log,
}: AppParts): Promise<FastifyInstance> {
  const app: FastifyInstance = Fastify({
    loggerInstance: log.child({}, { level: 'warn' }), // one line a request or an address would be noise
    logController: new LogController({ disableRequestLogging: true }),
    trustProxy: false,
    forceCloseConnections: true,
    frameworkErrors: (error, _request, reply) => void answerError(error, reply),
  });
  const doors = new Doors(setting);
  app.setErrorHandler((error, _request, reply) => answerError(error, reply));
  app.setNotFoundHandler((_request, reply) => answerError(new Fault('PATH_UNKNOWN'), reply));
  app.addHook('onSend', async (_request, reply) => {
    reply.headers(HEADERS);
  });

  await app.register(websocket, {
    options: {
      maxPayload: PAYLOAD_MAX,
      perMessageDeflate: false, // it costs most of a core at 200 clients
      handleProtocols: (_offered, request) => chooseFormat(request.headers).name ?? false,
    },
    preClose: (done) => done(), // feedsPlugin says goodbye
    errorHandler: (error, _socket, request) => {
      if (!('code' in error)) return bug(error);
      request.log.debug({ err: error }, 'socket error'); // its close follows
    },
  });
  const enter = (request: FastifyRequest): void => {
    doors.checkHost(request.headers);
    doors.checkOrigin(request.headers);
  };
  await app.register(async (open) => {
    open.get('/healthz', async (_request, reply) => reply.header('cache-control', 'no-store').send({ serving: true }));
    open.get('/readyz', async (_request, reply) => {
      reply.header('cache-control', 'no-store');
      const { ready, code = 'SENSOR_STARTING' } = state();
      return ready ? { ready } : reply.code(503).send({ ready, ...telling(code) });
    });
  });
  await app.register(async (page) => {
    page.addHook('onRequest', async (request) => enter(request));
    if (existsSync(join(webRoot, 'index.html')))
      await page.register(fastifyStatic, { root: webRoot, cacheControl: false, setHeaders });
    else page.get('/', async (_request, reply) => reply.code(404).type('text/html; charset=utf-8').send(NO_PAGE));
  });
  await app.register(async (guarded) => {
    guarded.addHook('onRequest', (request, _reply, done) => {
      enter(request);
      doors.roleOf(request.headers, request.ip); // whatever its role, it may watch
      done();
    });
    await guarded.register(feedsPlugin, { feeds, doors, clientsMax: setting.clientsMax, clock, ...(runs && { runs }) });
    if (runs) await guarded.register(runsPlugin, { runs });
    const roleOf = (request: FastifyRequest): Role => doors.roleOf(request.headers, request.ip);
    if (settings) await guarded.register(settingsPlugin, { settings, roleOf });
  });
  return app;
}

/** Names of built assets change with what is in them; the page itself does not. */
function setHeaders(reply: FastifyReply, path: string): void {
  reply.header('cache-control', path.includes('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache');
}

function telling(code: FaultCode): Readonly<{ code: FaultCode; what: string; remedy: string }> {
  const { text, remedy } = explain(code);
  return { code, what: text, remedy };
}

function answerError(error: unknown, reply: FastifyReply): FastifyReply {
  if (error instanceof Fault) {
    if (error.code === 'TOKEN_WRONG') reply.header('www-authenticate', 'Bearer'); // RFC 9110, 11.6.1
    if (error.code === 'UPGRADE_NEEDED') reply.header('upgrade', 'websocket'); // RFC 9110, 15.5.22
    return reply.code(STATUS[error.code] ?? 500).send(telling(error.code));
  }
  const status = error instanceof Error && 'statusCode' in error ? Number(error.statusCode) : 500;
  if (status >= 400 && status < 500) return reply.code(status).send(telling('REQUEST_UNREADABLE'));
  if (error instanceof TypeError || error instanceof RangeError) bug(error);
  else reply.log.error({ err: error }, 'request not answered');
  return reply.code(500).send(telling('REQUEST_UNANSWERED'));
}

/** A bug ends the process: thrown where nobody catches it. */
function bug(error: unknown): void {
  queueMicrotask(() => {
    throw error;
  });
}

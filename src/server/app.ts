import { existsSync } from 'node:fs';
import fastifyStatic from '@fastify/static';
import websocket from '@fastify/websocket';
import Fastify, { type FastifyBaseLogger, type FastifyInstance, type FastifyRequest, LogController } from 'fastify';
import type { Clock } from '../core/clock.js';
import { Fault, type FaultCode } from '../core/fault.js';
import { checkOrigin, type DoorSetting, formatOf, roleOf } from './doors.js';
import type { FeedSource } from './feedSource.js';
import feedsPlugin from './feedsPlugin.js';

const MESSAGE_MAX = 64 * 1024; // bytes of one client message
const STATUS: Partial<Record<FaultCode, number>> = { SUBPROTOCOL_UNKNOWN: 400, TOKEN_WRONG: 401, ORIGIN_FOREIGN: 403, CLIENTS_FULL: 503 };
const PROBES: ReadonlySet<string> = new Set(['/healthz', '/readyz']);
const NO_PAGE = '<!doctype html><html lang="en"><title>Leeway</title><p>The page is not built. Run <code>npm run build</code> and start again.</p></html>';

export interface AppParts {
  readonly feeds: FeedSource;
  readonly setting: DoorSetting & Readonly<{ clientsMax: number }>;
  /** Whether the senses vouch for anything; else the code of the first finding. */
  readonly state: () => Readonly<{ ready: boolean; code?: FaultCode }>;
  /** Folder of the built page. */
  readonly webRoot: string;
  readonly clock: Clock;
  readonly log: FastifyBaseLogger;
}

/** The daemon's doors: page, probes, feeds. Not listening yet. */
export async function buildApp({ feeds, setting, state, webRoot, clock, log }: AppParts): Promise<FastifyInstance> {
  const app: FastifyInstance = Fastify({
    loggerInstance: log,
    logController: new LogController({ disableRequestLogging: true }),
    trustProxy: false,
    forceCloseConnections: true,
  });
  app.setErrorHandler((error, _request, reply) => {
    if (error instanceof Fault) {
      return reply.code(STATUS[error.code] ?? 500).send({ code: error.code, what: error.message, remedy: error.remedy });
    }
    return reply.send(error);
  });
  app.addHook('onRequest', async (request: FastifyRequest) => {
    if (PROBES.has(request.url)) return;
    checkOrigin(request.headers, setting.names);
    if (request.url.startsWith('/v1/')) roleOf(request.headers, request.ip, setting); // at least watch
  });
  app.addHook('onSend', async (_request, reply) => {
    reply.header('content-security-policy', "default-src 'self'; base-uri 'none'; frame-ancestors 'none'");
    reply.header('x-content-type-options', 'nosniff');
    reply.header('referrer-policy', 'no-referrer');
  });

  await app.register(websocket, {
    options: {
      maxPayload: MESSAGE_MAX,
      perMessageDeflate: false, // it costs most of a core at 200 clients
      handleProtocols: (protocols: Set<string>) => formatOf([...protocols]).name ?? false,
    },
    preClose: (done) => {
      for (const client of app.websocketServer.clients) client.terminate(); // one that hangs would hold the end up for 30 s
      app.websocketServer.close(done);
    },
    errorHandler: (error, socket) => {
      log.error({ err: error }, 'feeds failed');
      socket.terminate();
    },
  });
  await app.register(feedsPlugin, { feeds, setting, clock });

  app.get('/healthz', async () => ({ serving: true }));
  app.get('/readyz', async (_request, reply) => {
    const { ready, code } = state();
    if (ready) return { ready };
    const fault = new Fault(code ?? 'SENSOR_STARTING');
    return reply.code(503).send({ ready, code: fault.code, what: fault.message, remedy: fault.remedy });
  });
  if (existsSync(webRoot)) await app.register(fastifyStatic, { root: webRoot });
  else app.get('/', async (_request, reply) => reply.type('text/html').send(NO_PAGE));
  return app;
}

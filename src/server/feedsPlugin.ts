import type { FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import type { WebSocket } from 'ws';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { Client } from './client.js';
import { chooseFormat, type Doors } from './doors.js';
import type { FeedSource } from './feedSource.js';
import { Frames } from './frames.js';
import type { PlayedRun, RunsSource } from './runsSource.js';

const TICK = 1; // s
const GOODBYE = 0.2; // s that clients have to answer the goodbye; they take milliseconds, those that hang do not

export interface FeedsOptions {
  readonly feeds: FeedSource;
  readonly runs?: RunsSource;
  readonly doors: Doors;
  readonly clientsMax: number;
  readonly clock: Clock;
}

/** GET /v1/feeds and /v1/runs/NAME/feeds, WebSocket. Who may come in is decided before the upgrade; a slow client loses messages and slows nobody. */
export default fp<FeedsOptions>(
  async (app, { feeds, runs, doors, clientsMax, clock }) => {
    const clients = new Set<Client>();
    const frames = new Frames();
    let cancelTick = (): void => {};
    const tick = (): void => {
      for (const client of clients) client.tick();
      cancelTick = clock.after(TICK, tick);
    };
    tick();

    const enter = (request: FastifyRequest): void => {
      chooseFormat(request.headers);
      // sockets in their closing handshake count too: they are open files
      if (app.websocketServer.clients.size >= clientsMax) throw new Fault('CLIENTS_FULL', { clients_max: clientsMax });
      if (!request.ws) throw new Fault('UPGRADE_NEEDED'); // last: a page asks this way why it was refused
    };
    const welcome = (socket: WebSocket, request: FastifyRequest, source: FeedSource): void => {
      const { format } = chooseFormat(request.headers);
      const role = doors.roleOf(request.headers, request.ip);
      const client = new Client(socket, { feeds: source, frames, format, role, clock });
      clients.add(client);
      socket.on('close', (code) => {
        clients.delete(client);
        request.log.debug(
          { close_code: code, held_back: client.tally.heldBack, refused: client.tally.refused },
          'client left',
        );
      });
    };
    app.route({
      method: 'GET',
      url: '/v1/feeds',
      onRequest: (request: FastifyRequest, _reply, done) => {
        enter(request);
        done();
      },
      handler: (_request, reply) => reply.callNotFound(),
      wsHandler: (socket, request) => welcome(socket, request, feeds),
    });
    const opened = new WeakMap<object, PlayedRun>();
    if (runs)
      app.route<{ Params: { name: string } }>({
        method: 'GET',
        url: '/v1/runs/:name/feeds',
        onRequest: (request, _reply, done) => {
          enter(request);
          opened.set(request.raw, runs.play(request.params.name, chooseFormat(request.headers).format)); // here, where a Fault is still an answer
          done();
        },
        handler: (_request, reply) => reply.callNotFound(),
        wsHandler: (socket, request) => {
          const played = opened.get(request.raw);
          if (played === undefined) throw new TypeError('no run was opened for this socket');
          socket.on('close', () => void played.stop());
          welcome(socket, request, played);
        },
      });

    app.addHook('preClose', (done) => {
      cancelTick();
      for (const client of clients) client.end();
      const { websocketServer } = app;
      const finish = (): void => {
        cancelGoodbye();
        for (const socket of websocketServer.clients) socket.terminate(); // ws would wait for a hung one for long
        websocketServer.close();
        done();
      };
      const cancelGoodbye = clock.after(GOODBYE, finish);
      const isLast = (): void => {
        if (websocketServer.clients.size === 0) finish();
      };
      for (const socket of websocketServer.clients) socket.on('close', isLast);
      isLast();
    });
  },
  { name: 'feeds', fastify: '5.x' },
);

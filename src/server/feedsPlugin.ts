import type { FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { Client } from './client.js';
import { chooseFormat, type Doors } from './doors.js';
import type { FeedSource } from './feedSource.js';
import { Frames } from './frames.js';

const TICK = 1; // s
const GOODBYE = 0.2; // s that clients have to answer the goodbye; they take milliseconds, those that hang do not

export interface FeedsOptions {
  readonly feeds: FeedSource;
  readonly doors: Doors;
  readonly clientsMax: number;
  readonly clock: Clock;
}

/** GET /v1/feeds, WebSocket. Who may come in is decided before the upgrade; a slow client loses messages and slows nobody. */
export default fp<FeedsOptions>(
  async (app, { feeds, doors, clientsMax, clock }) => {
    const clients = new Set<Client>();
    const frames = new Frames();
    let cancelTick = (): void => {};
    const tick = (): void => {
      for (const client of clients) client.tick();
      cancelTick = clock.after(TICK, tick);
    };
    tick();

    app.route({
      method: 'GET',
      url: '/v1/feeds',
      onRequest: (request: FastifyRequest, _reply, done) => {
        chooseFormat(request.headers);
        // sockets in their closing handshake count too: they are open files
        if (app.websocketServer.clients.size >= clientsMax)
          throw new Fault('CLIENTS_FULL', { clients_max: clientsMax });
        if (!request.ws) throw new Fault('UPGRADE_NEEDED'); // last: a page asks this way why it was refused
        done();
      },
      handler: (_request, reply) => reply.callNotFound(),
      wsHandler: (socket, request) => {
        const { format } = chooseFormat(request.headers);
        const role = doors.roleOf(request.headers, request.ip);
        const client = new Client(socket, { feeds, frames, format, role, clock });
        clients.add(client);
        socket.on('close', (code) => {
          clients.delete(client);
          request.log.debug(
            { close_code: code, held_back: client.tally.heldBack, refused: client.tally.refused },
            'client left',
          );
        });
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

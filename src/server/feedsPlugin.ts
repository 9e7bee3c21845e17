import type { FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import { Client } from './client.js';
import { type DoorSetting, formatOf, offered, roleOf } from './doors.js';
import type { FeedSource } from './feedSource.js';

export interface FeedsOptions {
  readonly feeds: FeedSource;
  readonly setting: DoorSetting & Readonly<{ clientsMax: number }>;
  readonly clock: Clock;
}

/** GET /v1/feeds, WebSocket. Who may come in is decided before the upgrade; a slow client loses messages and slows nobody. */
export default fp<FeedsOptions>(
  async (app, { feeds, setting, clock }) => {
    let count = 0;
    const admit = async (request: FastifyRequest, _reply: FastifyReply): Promise<void> => {
      formatOf(offered(request.headers));
      if (count >= setting.clientsMax) throw new Fault('CLIENTS_FULL', { clients_max: setting.clientsMax });
    };
    app.get('/v1/feeds', { websocket: true, preValidation: admit }, (socket, request) => {
      count++;
      request.raw.socket.setNoDelay(true);
      const role = roleOf(request.headers, request.ip, setting);
      const client = new Client(socket, feeds, formatOf(offered(request.headers)).format, role, clock);
      socket.on('message', (data: Buffer, isBinary) => client.receive(data, isBinary));
      socket.on('error', (error) => request.log.debug({ err: error }, 'socket error')); // what follows is its close
      socket.on('close', () => {
        count--;
        client.closed();
        request.log.debug({ held_back: client.heldBack }, 'client left');
      });
    });
  },
  { name: 'feeds', fastify: '5.x' },
);

import type { FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { Fault } from '../core/fault.js';
import type { Role } from './feedSource.js';

const BODY_MAX = 16 * 1024; // bytes; 64 masks take 6 kB

/** Settings that may change while the daemon runs, as the server needs them. Values go out as JSON. */
export interface SettingsSource {
  read(): object;
  /** @param wish what a client sent: any JSON. @returns as {@link read}, after it. @throws {Fault} where it is refused; then nothing has changed. */
  change(wish: unknown): object;
}

/** GET /v1/settings for whoever may watch, PUT for an admin. */
export default fp<{ readonly settings: SettingsSource; readonly roleOf: (request: FastifyRequest) => Role }>(
  async (app, { settings, roleOf }) => {
    app.get('/v1/settings', async (_request, reply) => reply.header('cache-control', 'no-store').send(settings.read()));
    app.put('/v1/settings', {
      bodyLimit: BODY_MAX,
      onRequest: (request, _reply, done) => {
        const role = roleOf(request);
        if (role !== 'admin') throw new Fault('ROLE_TOO_LOW', { role, needed: 'admin' });
        done();
      },
      handler: async ({ body }) => settings.change(body),
    });
  },
  { name: 'settings', fastify: '5.x' },
);

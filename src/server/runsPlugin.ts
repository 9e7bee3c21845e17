import fp from 'fastify-plugin';
import type { RunsSource } from './runsSource.js';

/** GET /v1/runs and /v1/runs/NAME, JSON. The feeds of a run are the feeds plugin's. */
export default fp<{ readonly runs: RunsSource }>(
  async (app, { runs }) => {
    app.get('/v1/runs', async (_request, reply) => reply.header('cache-control', 'no-store').send(await runs.list()));
    app.get<{ Params: { name: string } }>('/v1/runs/:name', async ({ params }, reply) =>
      reply.header('cache-control', 'no-store').send(await runs.show(params.name)),
    );
  },
  { name: 'runs', fastify: '5.x' },
);

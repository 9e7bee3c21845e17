// Drive messages over the WebSocket of the built daemon: what the sensor sees shows that the simulated rover has moved.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { connect, type Rover } from '../../clients/typescript/src/client.js';
import { until } from '../support/feedsClient.js';
import { type Served, serve } from '../support/leeway.js';

const folder = mkdtempSync(join(tmpdir(), 'leeway-drive-'));
const world = join(folder, 'room.yaml');
writeFileSync(
  world,
  `start: { x_m: 2, y_m: 2, heading_rad: 0 }
walls: [{ name: wall, points_m: [[0, 0], [6, 0], [6, 4], [0, 4], [0, 0]] }]
`,
);

let daemon: Served | undefined;
let rover: Rover | undefined;
let timer: ReturnType<typeof setInterval> | undefined;
afterEach(async () => {
  clearInterval(timer);
  rover?.close();
  await daemon?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** @returns m, median of the ranges within 2 degrees of straight ahead. */
function ahead({ sweep }: Rover): number {
  const near = (sweep?.rangeMm ?? []).filter((range, i) => range > 0 && Math.abs(sweep?.bearingRad[i] ?? 9) < 0.035);
  return near.length === 0 ? NaN : near.sort((a, b) => a - b)[near.length >> 1] / 1000;
}

test('the simulated rover stands, goes while it is driven, and stands again when nobody does', async () => {
  daemon = await serve(['--set', `simulator.world=${world}`]);
  const client = connect(daemon.url, { wants: ['sweep', 'health'] });
  rover = client;
  await until(() => ahead(client) > 0, 'a sweep');
  expect(ahead(client)).toBeCloseTo(4, 1);
  timer = setInterval(() => client.send({ drive: { vxMps: 0.4, turnRadps: 0 } }), 50);
  await until(() => ahead(client) < 3.5, 'half a metre nearer', 10);
  clearInterval(timer);
  await new Promise((resolve) => setTimeout(resolve, 1500)); // 0.3 s without a command, and the way to stop
  const stood = ahead(client);
  expect(stood).toBeGreaterThan(2);
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect(Math.abs(ahead(client) - stood)).toBeLessThan(0.05);
  expect(client.health?.findings.map(({ code }) => code)).not.toContain('DRIVE_IGNORED');
});

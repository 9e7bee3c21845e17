// Real recordings and a simulated drive, as each layout's bytes, in real time through a pseudo-terminal into the built daemon and out to
// clients of both subprotocols. A bearing that a recording lacks is sent as a sample without echo.
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { TAU, turnAngle } from '../../src/core/angles.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { type Layout, usualPacket } from '../../src/device/layouts/layout.js';
import { Outline } from '../../src/geometry/outline.js';
import { Feed, type ServerMessage } from '../../src/messages/codec.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { join as connect, type FeedsClient, subscription } from '../support/feedsClient.js';
import { serve } from '../support/leeway.js';
import { hasPty } from '../support/ptyLine.js';
import { openPtySensor, type Timed } from '../support/ptySensor.js';
import { readRows, sharedPath } from '../support/sharedData.js';
import { type Row, revolution } from '../support/wire.js';

const folder = sharedPath('data');
const isRunnable = folder !== undefined && hasPty();
const SECONDS = 6;
const PERIOD = 0.1; // s a revolution at the most: slower recordings are played faster, for the start rules ask 4 revolutions/s
const BAUDS = [115200, 230400, 256000, 460800, 921600];
const OUTLINE = new Outline([
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
]);
const CHUNK = 5; // packets in a record

/** The recording's revolutions, each spread evenly over its time, as records of a few packets. */
function play(rows: readonly Row[], layout: Layout, period: number): Timed[] {
  const encoder = new WireEncoder(layout);
  const step = CHUNK * usualPacket(layout).samples;
  const out: Timed[] = [];
  for (let turn = 0; turn * period < SECONDS; turn++) {
    const { count, bearing, range, start } = revolution(rows[turn % rows.length], layout);
    for (let first = 0; first < count; first += step) {
      const last = Math.min(count, first + step);
      const cut = <T>(column: ArrayLike<T>): T[] => Array.from(column).slice(first, last);
      const samples = { count: last - first, bearing: cut(bearing), range: cut(range), start: cut(start ?? []) };
      const bytes = encoder.encode(samples, turn * period, 1 / period);
      if (bytes.length > 0) out.push({ at: (turn + last / count) * period, bytes });
    }
  }
  return out;
}

const bySequence = (client: FeedsClient, body: 'clearance' | 'sweep'): Map<number, ServerMessage> =>
  new Map(client.messages.filter((message) => message[body]).map((message) => [Number(message.sequence), message]));

/** ProtoJSON writes what is not finite as text. */
const number = (value: unknown): number => (typeof value === 'string' ? Number(value) : (value as number));

test.skipIf(!isRunnable).each([
  { file: 'data/fr079-part1.ndjson.gz', layout: 'sample5' },
  { file: 'data/fr079-part1.ndjson.gz', layout: 'packet12' },
  { file: 'data/lowcost360-a.ndjson.gz', layout: 'sample5' },
  { file: 'data/lowcost360-a.ndjson.gz', layout: 'packet12' },
  { file: 'worlds/room400.ndjson.gz', layout: 'sample5' },
  { file: 'worlds/workshop800.ndjson.gz', layout: 'packet12' },
])('$file as $layout', { timeout: 60_000 }, async ({ file, layout: name }) => {
  const layout = findLayout(name);
  const rows = readRows<Row>(sharedPath(file) as string).slice(0, 60);
  const samples = Math.max(...rows.slice(0, 60).map((row) => revolution(row, layout).count));
  const recorded = ((rows.at(-1)?.t ?? 0) - (rows[0].t ?? 0)) / (rows.length - 1);
  const period = Math.min(PERIOD * 1.6, Math.max(PERIOD, recorded));
  const usual = usualPacket(layout);
  const bytesPerSecond = (samples / period) * (usual.bytes / usual.samples);
  const baud = BAUDS.find((rate) => rate / 10 > 1.05 * bytesPerSecond) as number;
  const link = join(mkdtempSync(join(tmpdir(), 'leeway-')), 'tty');
  const sensor = await openPtySensor(link);
  const settings = { source: 'serial', port: link, baud, layout: name, reach_m: '[0.15, 40]' };
  const served = await serve(Object.entries(settings).flatMap(([key, value]) => ['--set', `sensor.${key}=${value}`]));
  const port = Number(new URL(served.url).port);
  const proto = await connect(port, { protocols: ['leeway.v1.proto'] });
  const json = await connect(port, { protocols: ['leeway.v1.json'] });
  proto.socket.send(subscription(Feed.FEED_CLEARANCE, Feed.FEED_SWEEP, Feed.FEED_HEALTH));
  json.socket.send(JSON.stringify({ subscribe: { wants: [{ feed: 'FEED_CLEARANCE' }, { feed: 'FEED_SWEEP' }] } }));
  sensor.play(play(rows, layout, period));
  await new Promise((resolve) => setTimeout(resolve, (SECONDS + 0.5) * 1000));
  proto.socket.close();
  json.socket.close();
  expect((await served.stop()).code).toBe(0);
  await sensor.pull();

  // both subprotocols say the same
  const [a, b] = [bySequence(proto, 'clearance'), bySequence(json, 'clearance')];
  const both = [...a.keys()].filter((sequence) => b.has(sequence));
  expect(both.length).toBeGreaterThan(0.9 * Math.min(a.size, b.size));
  const states = ['SECTOR_STATE_UNSPECIFIED', 'SECTOR_STATE_UNKNOWN', 'SECTOR_STATE_CLEAR', 'SECTOR_STATE_OBSTACLE'];
  for (const sequence of both) {
    const [p, j] = [a.get(sequence), b.get(sequence)];
    if (p?.sentS !== j?.sentS) continue; // one was held back and made anew
    expect(j?.clearance?.state).toEqual(p?.clearance?.state?.map((state) => states[state]));
    expect(j?.clearance?.leewayM?.map((leeway) => Math.fround(number(leeway)))).toEqual(p?.clearance?.leewayM);
  }

  // each sweep is one of the recording's, to the layout's own resolution
  const sweeps = [...bySequence(proto, 'sweep').values()];
  expect(sweeps.length).toBeGreaterThan((0.8 * SECONDS) / period);
  const inRow = rows.map((row) =>
    Array.from(revolution(row, layout).range, (range) => (range > 0 && range < 16.38 ? Math.round(range * 1000) : 0)),
  );
  let found = 0;
  for (const { sweep } of sweeps) {
    const got = sweep?.rangeMm ?? [];
    if (inRow.some((row) => row.length === got.length && row.every((range, i) => Math.abs(range - got[i]) <= 1)))
      found++;
  }
  // a sensor without a mark wraps somewhere within its revolution: then every range must be found, in order, over two rows
  const text = inRow.flat();
  if (layout.packet.startMark === undefined)
    expect(sweeps.every(({ sweep }) => isPart(sweep?.rangeMm ?? [], text))).toBe(true);
  else expect(found / sweeps.length).toBeGreaterThan(0.7); // sample5 holds up to 0.05 % of the samples back: one in some sweeps of 400

  // and leeway is nowhere beyond the nearest echo of the sector's newest sweep
  const last = sweeps.at(-2);
  const after = [...a.values()].find(({ timeS }) => (timeS ?? 0) >= (last?.timeS ?? Infinity));
  expect(after).toBeDefined();
  const bearingRad = last?.sweep?.bearingRad ?? [];
  const rangeMm = last?.sweep?.rangeMm ?? [];
  const passed = ((after?.timeS ?? 0) - (last?.timeS ?? 0)) / period + 0.1; // share of a revolution since the sweep's end
  for (const [i, bearing] of bearingRad.entries()) {
    if (!(rangeMm[i] >= 150) || i < passed * bearingRad.length) continue; // the beam has looked at the first ones again since
    const k = Math.floor((turnAngle(bearing) / TAU) * 72);
    const gap = OUTLINE.distance((rangeMm[i] / 1000) * Math.cos(bearing), (rangeMm[i] / 1000) * Math.sin(bearing));
    expect(after?.clearance?.leewayM?.[k] ?? 0).toBeLessThanOrEqual(gap + 0.002);
  }
  const seen = [...a.values()]
    .slice(20)
    .map(({ clearance }) => clearance?.state?.filter((state) => state > 1).length ?? 0);
  console.log(
    `${file} as ${name}: ${samples} samples, ${(1 / period).toFixed(1)} revolutions/s, ${baud} baud; ${a.size} Clearance, ` +
      `${sweeps.length} sweeps, vouched for ${((100 * seen.reduce((x, y) => x + y, 0)) / seen.length / 72).toFixed(0)} % of the sectors`,
  );
});

/** @returns whether `part` occurs in `whole` in order, to 1 mm; bearings doubled at a seam may be left out. */
function isPart(part: readonly number[], whole: readonly number[]): boolean {
  for (let start = 0; start + part.length <= whole.length; start++) {
    let at = start;
    let skipped = 0;
    let i = 0;
    while (i < part.length && at < whole.length && skipped <= 24) {
      if (Math.abs(whole[at] - part[i]) <= 1) i++;
      else skipped++;
      at++;
    }
    if (i === part.length) return true;
  }
  return false;
}

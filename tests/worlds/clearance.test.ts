// Simulated drives with truth, through each layout's bytes and the decoder: leeway against the exact hit points, each at its own
// time and pose.
// Tolerance: 5 cm + 3 sigma(range), sigma(r) = sqrt(0.005^2 + (0.005/6 r^2)^2) m as the worlds are made with.
import { describe, expect, test } from 'vitest';
import { TAU, turnAngle } from '../../src/core/angles.js';
import { type DecodedSamples, Decoder } from '../../src/device/decoder.js';
import { Echoes } from '../../src/device/echoes.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { type Layout, usualPacket } from '../../src/device/layouts/layout.js';
import type { SensorSetting } from '../../src/device/setting.js';
import { DEFAULT_NOISE, rangeSigma } from '../../src/estimate/noise.js';
import { Clearance, SECTOR } from '../../src/perception/clearance/clearance.js';
import type { KnownMotion } from '../../src/perception/clearance/setting.js';
import { WireEncoder } from '../../src/simulator/encode.js';
import { SAMPLE_KIND } from '../../src/sweep/echoBatch.js';
import { clearanceSetting } from '../support/clearanceRig.js';
import { sharedPath } from '../support/sharedData.js';
import { readWorld, type TrueHit, WORLDS, type World } from '../support/worlds.js';

const folder = sharedPath('worlds');
const NEAR = 4; // m, within which nothing that gave an echo may be promised away
const CHUNK = 36;
const SENSOR: SensorSetting = {
  mount: { x: 0, y: 0, z: 0, yaw: 0, pitch: 0, roll: 0, upsideDown: false },
  reach: [0.15, 12],
  range: { offset: 0, scale: 1 },
  masks: [],
};

interface Outcome {
  echoes: number; // checked at their own time
  lies: number; // promised farther than truth and tolerance
  worst: number; // m, largest excess
  later: number; // points on walls checked again later, within the revolution
  laterLies: number;
  sectors: number;
  seen: number;
  invented: number; // seen though nothing was seen there
  ahead: number; // m, summed
  reads: number;
}

function drive(world: World, layout: Layout, isMotionKnown: boolean): Outcome {
  const setting = clearanceSetting({ speedMax: world.speedMax, turnMax: world.turnMax });
  const machine = new Clearance(setting);
  if (isMotionKnown) machine.knowMotion(truthOf(world));
  const out: Outcome = {
    echoes: 0,
    lies: 0,
    worst: -Infinity,
    later: 0,
    laterLies: 0,
    sectors: 0,
    seen: 0,
    invented: 0,
    ahead: 0,
    reads: 0,
  };
  const lastSeen = new Float64Array(72).fill(-Infinity);
  let recent: TrueHit[] = []; // of the last revolution
  const encoder = new WireEncoder(layout);
  const decoder = new Decoder(layout);
  // a clockwise layout in a counter-clockwise world: the drive is played mirrored by hanging the sensor upside down
  const isFlipped = (layout.sense === 'clockwise') !== (world.sense === -1);
  const echoes = new Echoes(layout.sense, { ...SENSOR, mount: { ...SENSOR.mount, upsideDown: isFlipped } });
  const n = world.samples;
  const hitsOf = new Map<number, TrueHit[]>();
  for (const [number, sweep] of world.sweeps.entries()) {
    hitsOf.set(number, world.hits(sweep));
    hitsOf.delete(number - 2);
    for (let first = 0; first < n; first += CHUNK) {
      const last = Math.min(n, first + CHUNK);
      const bearing = sweep.bearings.slice(first, last).map((b) => (isFlipped ? -b : b));
      const start = bearing.map((_, i) => (first + i === 0 ? 1 : 0));
      const count = last - first;
      const bytes = encoder.encode(
        { count, bearing, range: sweep.ranges.slice(first, last), start },
        sweep.t + first * sweep.dt,
        1 / (n * sweep.dt),
      );
      const decoded = decoder.push(bytes);
      if (decoded.count === 0) continue;
      const index = sampleNumbers(decoded, layout);
      const batch = echoes.convert(
        decoded,
        Float64Array.from(index, (i) => world.sweeps[0].t + i * sweep.dt),
      );
      for (let i = 0; i < batch.count; i++)
        if (batch.kind[i] === SAMPLE_KIND.echo) lastSeen[sectorOf(batch.bearing[i])] = batch.time[i];
      machine.push(batch);
      const now = batch.time[batch.count - 1];
      const given = [...index].flatMap((i, row) => {
        const hit = hitsOf.get(Math.floor(i / n))?.[i % n];
        return hit !== undefined && batch.kind[row] === SAMPLE_KIND.echo && !hit.isMixed && hit.range <= NEAR
          ? [hit]
          : [];
      });
      const newest = index[index.length - 1];
      const pose = world.pose(world.sweeps[Math.floor(newest / n)], newest % n);
      recent = [...recent, ...given].slice(-n);
      if (!machine.isStarted) continue;
      const values = machine.read(now);
      const excess = (hit: TrueHit): number => {
        const [x, y] = toRover(pose, hit);
        return (
          values.leeway[sectorOf(Math.atan2(y, x))] -
          setting.outline.distance(x, y) -
          0.05 -
          3 * rangeSigma(DEFAULT_NOISE, hit.range)
        );
      };
      for (const hit of given) {
        out.echoes++;
        out.worst = Math.max(out.worst, excess(hit));
        if (excess(hit) > 0) out.lies++;
      }
      if ((first / CHUNK) % 4 === 0) {
        for (const hit of recent) {
          if (hit.id > 1000) continue; // what walks is not the rover's motion; what is thinner than a beam apart may be looked past
          out.later++;
          if (excess(hit) > 0) out.laterLies++;
        }
      }
      for (let k = 0; k < 72; k++) {
        const isSeen = values.state[k] !== SECTOR.unknown;
        const around = isMotionKnown
          ? Math.max(lastSeen[(k + 71) % 72], lastSeen[k], lastSeen[(k + 1) % 72])
          : lastSeen[k]; // a turn moves bearings
        out.sectors++;
        if (isSeen) out.seen++;
        if (isSeen && now - around > 0.31) out.invented++;
      }
      out.ahead += values.ahead;
      out.reads++;
    }
  }
  return out;
}

/** @returns the number of each sample in the stream, from the place of its packet: nothing is lost on the way here. */
function sampleNumbers({ count, begin }: DecodedSamples, layout: Layout): number[] {
  const { bytes, samples } = usualPacket(layout);
  return Array.from({ length: count }, (_, i) => {
    let within = 0;
    while (i - within > 0 && begin[i - within - 1] === begin[i]) within++;
    return (begin[i] / bytes) * samples + within;
  });
}

const sectorOf = (bearing: number): number => Math.min(71, Math.floor((turnAngle(bearing) / TAU) * 72));

function toRover([px, py, heading]: readonly [number, number, number], hit: TrueHit): [number, number] {
  const [c, s] = [Math.cos(heading), Math.sin(heading)];
  return [c * (hit.x - px) + s * (hit.y - py), -s * (hit.x - px) + c * (hit.y - py)];
}

function truthOf(world: World): KnownMotion {
  return {
    poseAt: (time, out) => {
      let index = Math.min(
        world.sweeps.length - 1,
        Math.max(0, Math.floor(time / (world.sweeps[0].dt * world.samples) + 1e-9)),
      );
      if (world.sweeps[index].t > time && index > 0) index--;
      const sweep = world.sweeps[index];
      [out.x, out.y, out.heading] = world.pose(sweep, (time - sweep.t) / sweep.dt);
    },
    travelDoubt: () => 0,
    turnDoubt: () => 0,
  };
}

describe.skipIf(folder === undefined)('leeway in simulated drives', () => {
  for (const isMotionKnown of [false, true]) {
    test.each(WORLDS.map((name, i) => ({ name, layout: i % 2 === 0 ? 'sample5' : 'packet12' })))(
      `$name as $layout, motion ${isMotionKnown ? 'known' : 'not known'}`,
      { timeout: 60_000 },
      ({ name, layout }) => {
        const world = readWorld(folder as string, name);
        const out = drive(world, findLayout(layout), isMotionKnown);
        console.log(
          `${name} as ${layout}: ${out.echoes} echoes, ${out.lies} too far (worst ${(out.worst * 1000).toFixed(0)} mm); again later ${out.laterLies} of ${out.later}; ` +
            `vouched for: ${((100 * out.seen) / out.sectors).toFixed(1)} % of sectors, ahead ${(out.ahead / out.reads).toFixed(2)} m on average`,
        );
        expect(out.echoes).toBeGreaterThan(10_000);
        expect(out.lies).toBe(0);
        expect(out.laterLies).toBeLessThan(1e-4 * out.later); // slivers of walls a beam wide that the next beam looks past
        expect(out.invented).toBe(0);
        expect(out.seen / out.sectors).toBeGreaterThan(0.5);
      },
    );
  }
});

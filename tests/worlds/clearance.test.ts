// Simulated drives with truth: leeway against the exact hit points, each at its own time and pose.
// Tolerance: 5 cm + 3 sigma(range), sigma(r) = sqrt(0.005^2 + (0.005/6 r^2)^2) m as the worlds are made with.
import { describe, expect, test } from 'vitest';
import { DEFAULT_NOISE, rangeSigma } from '../../src/estimate/noise.js';
import { Clearance, SECTOR } from '../../src/perception/clearance/clearance.js';
import type { KnownMotion } from '../../src/perception/clearance/setting.js';
import { TAU, turnAngle } from '../../src/core/angles.js';
import { batchOf, clearanceSetting, type Sample } from '../support/clearanceRig.js';
import { sharedPath } from '../support/sharedData.js';
import { readWorld, type TrueHit, WORLDS, type World } from '../support/worlds.js';

const folder = sharedPath('worlds');
const NEAR = 4; // m, within which nothing that gave an echo may be promised away
const CHUNK = 32;

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

function drive(world: World, isMotionKnown: boolean): Outcome {
  const setting = clearanceSetting({ speedMax: world.speedMax, turnMax: world.turnMax });
  const machine = new Clearance(setting);
  if (isMotionKnown) machine.knowMotion(truthOf(world));
  const out: Outcome = { echoes: 0, lies: 0, worst: -Infinity, later: 0, laterLies: 0, sectors: 0, seen: 0, invented: 0, ahead: 0, reads: 0 };
  const lastSeen = new Float64Array(72).fill(-Infinity);
  let recent: TrueHit[] = []; // of the last revolution
  for (const sweep of world.sweeps) {
    const hits = world.hits(sweep);
    const n = sweep.ranges.length;
    for (let first = 0; first < n; first += CHUNK) {
      const last = Math.min(n, first + CHUNK);
      const samples: Sample[] = [];
      for (let i = first; i < last; i++) {
        const isEcho = sweep.ranges[i] > 0;
        samples.push({ time: sweep.t + i * sweep.dt, bearing: sweep.bearings[i], range: isEcho ? sweep.ranges[i] : Infinity });
        if (isEcho) lastSeen[sectorOf(sweep.bearings[i])] = sweep.t + i * sweep.dt;
      }
      machine.push(batchOf(samples, world.sense));
      const now = samples[samples.length - 1].time;
      const given = hits.slice(first, last).filter((hit, i) => sweep.ranges[first + i] > 0 && !hit.isMixed && hit.range <= NEAR);
      recent = [...recent, ...given].slice(-n);
      if (!machine.isStarted) continue;
      const values = machine.read(now);
      const excess = (hit: TrueHit): number => {
        const [x, y] = toRover(world.pose(sweep, last - 1), hit);
        return values.leeway[sectorOf(Math.atan2(y, x))] - setting.outline.distance(x, y) - 0.05 - 3 * rangeSigma(DEFAULT_NOISE, hit.range);
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
        const around = isMotionKnown ? Math.max(lastSeen[(k + 71) % 72], lastSeen[k], lastSeen[(k + 1) % 72]) : lastSeen[k]; // a turn moves bearings
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

const sectorOf = (bearing: number): number => Math.min(71, Math.floor((turnAngle(bearing) / TAU) * 72));

function toRover([px, py, heading]: readonly [number, number, number], hit: TrueHit): [number, number] {
  const [c, s] = [Math.cos(heading), Math.sin(heading)];
  return [c * (hit.x - px) + s * (hit.y - py), -s * (hit.x - px) + c * (hit.y - py)];
}

function truthOf(world: World): KnownMotion {
  return {
    poseAt: (time, out) => {
      let index = Math.min(world.sweeps.length - 1, Math.max(0, Math.floor(time / (world.sweeps[0].dt * world.samples) + 1e-9)));
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
    test.each([...WORLDS])(`%s, motion ${isMotionKnown ? 'known' : 'not known'}`, { timeout: 60_000 }, (name) => {
      const world = readWorld(folder as string, name);
      const out = drive(world, isMotionKnown);
      console.log(
        `${name}: ${out.echoes} echoes, ${out.lies} too far (worst ${(out.worst * 1000).toFixed(0)} mm); again later ${out.laterLies} of ${out.later}; ` +
          `vouched for: ${((100 * out.seen) / out.sectors).toFixed(1)} % of sectors, ahead ${(out.ahead / out.reads).toFixed(2)} m on average`,
      );
      expect(out.echoes).toBeGreaterThan(10_000);
      expect(out.lies).toBe(0);
      expect(out.laterLies).toBeLessThan(1e-4 * out.later); // slivers of walls a beam wide that the next beam looks past
      expect(out.invented).toBe(0);
      expect(out.seen / out.sectors).toBeGreaterThan(0.5);
    });
  }
});

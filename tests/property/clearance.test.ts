// What stays true of leeway for every scene: against a slow reference that reads the contract literally from the list of samples.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { TAU, turnAngle, wrapAngle } from '../../src/core/angles.js';
import { Clearance, type ClearanceValues, SECTOR } from '../../src/perception/clearance/clearance.js';
import type { ClearanceSetting } from '../../src/perception/clearance/setting.js';
import { SAMPLE_KIND } from '../../src/sweep/echoBatch.js';
import { batchOf, clearanceSetting, type Sample } from '../support/clearanceRig.js';

const PERIOD = 0.1;

interface Case {
  samples: number;
  sense: 1 | -1;
  phase: number;
  ranges: number[];
  kinds: number[];
  lost: boolean[];
  extra: number;
}

/** Four revolutions of a scene of plateaus, with samples empty, masked, too near or lost, and a part of a fifth. */
const scene = (isLossy: boolean): fc.Arbitrary<Case> =>
  fc.integer({ min: 90, max: 500 }).chain((samples) =>
    fc.record({
      samples: fc.constant(samples),
      sense: fc.constantFrom<1 | -1>(1, -1),
      phase: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
      ranges: fc.array(fc.double({ min: 0.2, max: 15, noNaN: true }), { minLength: 3, maxLength: 24 }),
      kinds: fc.array(
        fc.constantFrom(
          0,
          0,
          0,
          0,
          0,
          0,
          0,
          0,
          isLossy ? SAMPLE_KIND.empty : 0,
          isLossy ? SAMPLE_KIND.tooNear : 0,
          isLossy ? SAMPLE_KIND.masked : 0,
        ),
        { minLength: 1, maxLength: 60 },
      ),
      lost: fc.array(
        fc.boolean().map((yes) => yes && isLossy),
        { minLength: 1, maxLength: 7 },
      ),
      extra: fc.integer({ min: 1, max: samples }),
    }),
  );

function samplesOf({ samples, sense, phase, ranges, kinds, lost, extra }: Case): Sample[] {
  const out: Sample[] = [];
  for (let i = 0; i < 4 * samples + extra; i++) {
    const at = i % samples;
    if (lost[(at >> 3) % lost.length] && at % 8 < 3 && Math.floor(i / samples) > 1) continue;
    const kind = Math.floor(i / samples) > 1 ? kinds[(i >> 1) % kinds.length] : SAMPLE_KIND.echo;
    const range = ranges[Math.floor((at / samples) * ranges.length)];
    out.push({
      time: (i / samples) * PERIOD,
      bearing: wrapAngle(sense * ((i + phase) / samples) * TAU),
      range: kind === SAMPLE_KIND.echo ? range : kind === SAMPLE_KIND.tooNear ? 0.1 : Infinity,
      kind,
    });
  }
  return out;
}

function run(
  setting: ClearanceSetting,
  all: readonly Sample[],
  sense: 1 | -1,
  sizes: readonly number[],
): ClearanceValues {
  const machine = new Clearance(setting);
  for (let first = 0, turn = 0; first < all.length; turn++) {
    const last = Math.min(all.length, first + sizes[turn % sizes.length]);
    machine.push(batchOf(all.slice(first, last), sense));
    first = last;
  }
  return machine.read(all[all.length - 1].time);
}

const still = clearanceSetting({ speedMax: 0, turnMax: 0 });
const sectorOf = (bearing: number): number => Math.min(71, Math.floor((turnAngle(bearing) / TAU) * 72));

test('no leeway reaches beyond the nearest of the newest echoes in its sector', () => {
  fc.assert(
    fc.property(scene(true), (found) => {
      const all = samplesOf(found);
      const values = run(still, all, found.sense, [7]);
      const newest = all.slice(-Math.floor(found.samples * 0.9)); // fewer than a revolution: none of them replaced
      for (const { bearing, range, kind } of newest) {
        if (kind !== SAMPLE_KIND.echo) continue;
        const gap = still.outline.distance(range * Math.cos(bearing), range * Math.sin(bearing));
        expect(values.leeway[sectorOf(bearing)]).toBeLessThanOrEqual(gap + 1e-5);
      }
    }),
    { numRuns: 200 },
  );
});

test('a sector with a bearing that nothing vouches for is unknown, with leeway 0', () => {
  fc.assert(
    fc.property(scene(true), (found) => {
      const all = samplesOf(found);
      const values = run(still, all, found.sense, [11]);
      const step = TAU / found.samples;
      // newest sample of each bearing: walk back from the end over one revolution
      const echoes = all.filter(
        ({ time, kind }) => kind === SAMPLE_KIND.echo && time > all[all.length - 1].time - PERIOD + 1e-9,
      );
      const tooNear = all.filter(
        ({ time, kind }) => kind === SAMPLE_KIND.tooNear && time > all[all.length - 1].time - PERIOD + 1e-9,
      );
      for (let k = 0; k < 72; k++) {
        if (values.state[k] === SECTOR.unknown) {
          expect(values.leeway[k]).toBe(0);
          expect(values.thinnest[k]).toBe(Infinity);
          continue;
        }
        expect(values.leeway[k]).toBeGreaterThanOrEqual(0);
        expect(values.age[k]).toBeLessThan(1.5 * PERIOD);
        for (let u = 0.02; u < 1; u += 0.12) {
          const bearing = ((k + u) / 72) * TAU;
          const apart = echoes.map((echo) => Math.abs(wrapAngle(echo.bearing - bearing)));
          expect(Math.min(...apart)).toBeLessThan(2 * step); // half of four degrees or of three and a half steps, the least of these
          for (const near of tooNear) expect(Math.abs(wrapAngle(near.bearing - bearing))).toBeGreaterThan(0.4 * step);
        }
      }
    }),
    { numRuns: 60 },
  );
});

test('where every sample is an echo, every sector is seen and leeway is the reference value', () => {
  fc.assert(
    fc.property(scene(false), (found) => {
      const all = samplesOf(found);
      const values = run(still, all, found.sense, [5]);
      const half = TAU / found.samples / 2;
      const margin = Math.max(half, (0.5 * Math.PI) / 180);
      const last = all.slice(-found.samples);
      for (let k = 0; k < 72; k++) {
        expect(values.state[k]).not.toBe(SECTOR.unknown);
        let least = 12; // the nearest echo that can count for the sector at all
        for (const { bearing, range } of all) {
          const apart = Math.abs(wrapAngle(bearing - ((k + 0.5) / 72) * TAU)) - Math.PI / 72;
          if (apart <= margin + 1e-6)
            least = Math.min(least, still.outline.distance(range * Math.cos(bearing), range * Math.sin(bearing)));
        }
        expect(values.leeway[k]).toBeGreaterThanOrEqual(least - 15 * half * 15 * half - 1e-4); // half a step either side may lie nearer
      }
      expect(last.length).toBe(found.samples);
    }),
    { numRuns: 60 },
  );
});

test('cutting the stream elsewhere gives the same clearance', () => {
  fc.assert(
    fc.property(
      scene(true),
      fc.array(fc.integer({ min: 1, max: 120 }), { minLength: 1, maxLength: 6 }),
      (found, sizes) => {
        const all = samplesOf(found);
        const setting = clearanceSetting({ noReturn: 3 });
        expect(run(setting, all, found.sense, sizes)).toEqual(run(setting, all, found.sense, [all.length]));
      },
    ),
    { numRuns: 100 },
  );
});

test('a mirrored scene gives mirrored leeway', () => {
  fc.assert(
    fc.property(scene(true), (found) => {
      const all = samplesOf(found);
      const mirrored = all.map((sample) => ({ ...sample, bearing: wrapAngle(-sample.bearing) }));
      const a = run(still, all, found.sense, [9]);
      const b = run(still, mirrored, found.sense === 1 ? -1 : 1, [9]);
      let odd = 0; // a bearing that rounds to the other side of an edge
      for (let k = 0; k < 72; k++)
        if (a.state[k] !== b.state[71 - k] || Math.abs(a.leeway[k] - b.leeway[71 - k]) > 1e-4) odd++;
      expect(odd).toBeLessThanOrEqual(2);
    }),
    { numRuns: 60 },
  );
});

test('any numbers at all: no throw, and what is vouched for lies between 0 and reach', () => {
  const any = fc.record({
    time: fc.double({ min: 0, max: 10, noNaN: true }),
    bearing: fc.double({ min: -7, max: 7, noNaN: true }),
    range: fc.oneof(fc.double({ min: 0, max: 100, noNaN: true }), fc.constant(Infinity)),
    kind: fc.constantFrom(0, 0, 0, 1, 2, 3),
  });
  fc.assert(
    fc.property(
      fc.array(any, { maxLength: 600 }),
      fc.constantFrom<1 | -1>(1, -1),
      fc.boolean(),
      (samples, sense, isLocked) => {
        const machine = new Clearance(clearanceSetting({ sensor: [0.1, 0.05], noReturn: 3 }), isLocked);
        const sorted = samples
          .map((s) => (s.kind === 0 && s.range === Infinity ? { ...s, kind: 1 } : s))
          .sort((a, b) => a.time - b.time);
        machine.push(batchOf(sorted, sense));
        const values = machine.read(10);
        for (let k = 0; k < 72; k++) {
          expect(values.leeway[k]).toBeGreaterThanOrEqual(0);
          expect(values.leeway[k]).toBeLessThanOrEqual(12);
          if (values.state[k] === SECTOR.unknown) expect(values.leeway[k]).toBe(0);
        }
        expect(values.ahead).toBeGreaterThanOrEqual(0);
      },
    ),
    { numRuns: 200 },
  );
});

// A sensor off the origin: each sector against the nearest point that no beam has passed, found by a slow walk along the rays.
test('a sensor off the origin is told no more than the beams have passed', () => {
  const disc = fc.record({
    at: fc.double({ min: 0, max: TAU, noNaN: true }),
    far: fc.double({ min: 0.45, max: 1.6, noNaN: true }),
    radius: fc.double({ min: 0.03, max: 0.12, noNaN: true }),
  });
  const mount = fc.tuple(
    fc.double({ min: -0.12, max: 0.12, noNaN: true }),
    fc.double({ min: -0.1, max: 0.1, noNaN: true }),
  );
  fc.assert(
    fc.property(
      fc.array(disc, { minLength: 1, maxLength: 4 }),
      mount,
      fc.constantFrom(100, 200, 400),
      fc.constantFrom(36, 72),
      (discs, sensor, samples, count) => {
        const rangeAt = (bearing: number): number => {
          const [c, s] = [Math.cos(bearing), Math.sin(bearing)];
          let range = Math.min(
            (c > 0 ? 3 - sensor[0] : 3 + sensor[0]) / Math.abs(c),
            (s > 0 ? 3 - sensor[1] : 3 + sensor[1]) / Math.abs(s),
          );
          for (const { at, far, radius } of discs) {
            const qx = far * Math.cos(at) - sensor[0];
            const qy = far * Math.sin(at) - sensor[1];
            const along = qx * c + qy * s;
            const inside = radius * radius - (qx * qx + qy * qy - along * along);
            if (along > 0 && inside >= 0) range = Math.min(range, along - Math.sqrt(inside));
          }
          return range;
        };
        const setting = clearanceSetting({ speedMax: 0, turnMax: 0, sensor, sectors: count });
        const machine = new Clearance(setting);
        const ranges = Array.from({ length: samples }, (_, i) => rangeAt(((i + 0.5) / samples) * TAU));
        for (let i = 0; i < 4 * samples; i++) {
          machine.push(
            batchOf([
              {
                time: (i / samples) * PERIOD,
                bearing: wrapAngle(((i + 0.5) / samples) * TAU),
                range: ranges[i % samples],
              },
            ]),
          );
        }
        const values = machine.read(4 * PERIOD);
        for (let k = 0; k < count; k++) {
          if (values.state[k] === SECTOR.unknown) continue;
          for (let u = 0.05; u < 1; u += 0.3) {
            const bearing = ((k + u) / count) * TAU;
            for (let r = 0.16; r < 3; r += 0.04) {
              const [x, y] = [r * Math.cos(bearing), r * Math.sin(bearing)];
              const gap = setting.outline.distance(x, y);
              if (gap === 0) continue;
              if (gap >= values.leeway[k] - 0.03) break;
              const seenFrom = turnAngle(Math.atan2(y - sensor[1], x - sensor[0]));
              const cell = Math.min(samples - 1, Math.floor((seenFrom / TAU) * samples));
              expect(Math.hypot(x - sensor[0], y - sensor[1])).toBeLessThan(ranges[cell] + 0.02); // passed by a beam
            }
          }
        }
      },
    ),
    { numRuns: 12 },
  );
});

test('what was near stays unseen over a break in the stream, and at the finest steps', () => {
  for (const samples of [400, 800, 1600]) {
    const machine = new Clearance(clearanceSetting({ noReturn: 3, speedMax: 0, turnMax: 0 }));
    const near = Math.round(samples * 0.3);
    let time = 0;
    const turn = (isNear: boolean, turns: number): void => {
      for (let i = 0; i < turns * samples; i++, time += PERIOD / samples) {
        const isThing = Math.abs((i % samples) - near) <= 1;
        machine.push(
          batchOf([
            { time, bearing: wrapAngle(((i + 0.3) / samples) * TAU), range: isThing ? (isNear ? 0.3 : Infinity) : 4 },
          ]),
        );
      }
    };
    turn(true, 4);
    turn(false, 4);
    const sector = Math.floor(((near + 0.3) / samples) * 72);
    expect(machine.read(time).state[sector]).toBe(SECTOR.unknown);
    machine.reset();
    turn(false, 5);
    expect(machine.read(time).state[sector]).toBe(SECTOR.unknown);
  }
});

test('lines that run either way by turns vouch for nothing that neither has seen', () => {
  const machine = new Clearance(clearanceSetting({ speedMax: 0, turnMax: 0 }), true);
  for (let line = 0; line < 4; line++) {
    const sense = line % 2 === 0 ? 1 : -1;
    const samples = Array.from({ length: 181 }, (_, i) => ({
      time: line * 0.1 + (i / 181) * 0.1,
      bearing: ((sense === 1 ? i : 180 - i) * Math.PI) / 180,
      range: 3,
    }));
    machine.push(batchOf(samples, sense), 0.1);
    const values = machine.read(line * 0.1 + 0.0999);
    for (let k = 37; k < 71; k++) expect(values.state[k]).toBe(SECTOR.unknown);
    expect(values.ahead).toBe(0);
  }
});

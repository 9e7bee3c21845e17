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

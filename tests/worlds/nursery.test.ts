// The drive example in the simulated nursery, through the real bytes, senses, messages and client. What is true is what the
// simulation says. Long runs: npm run --silent drive-nursery -- --seed N --minutes 30 [--faults]
import { describe, expect, test } from 'vitest';
import { driveNursery } from '../support/nurseryDrive.js';

const STOP = 0.225; // m: 0.5 m/s for 0.2 s, then 1 m/s²; v t + v² / (2 a)

describe('the aisle example', () => {
  test.each([11, 12])(
    'seed %i: no contact, no standstill, at least 60 %% of the speed limit in the free aisle',
    async (seed) => {
      const { report } = await driveNursery({ seed, minutes: 3 });
      console.log(JSON.stringify(report));
      expect(report.contacts).toBe(0);
      expect(report.standstills_over_20s).toBe(0);
      expect(report.mean_speed_share).toBeGreaterThan(0.6);
      expect(report.distance_m).toBeGreaterThan(30);
    },
    120_000,
  );

  test('one seed gives one drive', async () => {
    const first = await driveNursery({ seed: 13, minutes: 0.5 });
    expect((await driveNursery({ seed: 13, minutes: 0.5 })).report).toEqual(first.report);
    expect((await driveNursery({ seed: 14, minutes: 0.5 })).report).not.toEqual(first.report);
  }, 120_000);

  test('a fault of the sensor at a random moment: it stands within its stopping distance', async () => {
    const { report, details } = await driveNursery({ seed: 15, minutes: 3, faults: true });
    expect(details.faults.length).toBeGreaterThan(3);
    for (const { kind, at, speed, stopped, gone } of details.faults) {
      console.log(
        `${kind} at ${at.toFixed(0)} s with ${speed.toFixed(2)} m/s: stood after ${stopped.toFixed(3)} m, ${gone.toFixed(3)} m in all`,
      );
      expect(stopped).toBeLessThan(STOP);
    }
    expect(report.contacts).toBe(0);
  }, 120_000);

  test('a driver that looks at nothing touches something, so contacts are seen', async () => {
    const { report } = await driveNursery({
      seed: 11,
      minutes: 0.5,
      driver: { next: () => ({ speed: 0.3, turn: 0.05 }) },
    });
    expect(report.contacts).toBeGreaterThan(0);
  }, 120_000);

  test('a driver that does nothing stands too long, so standstills are seen', async () => {
    const { report } = await driveNursery({ seed: 11, minutes: 1.5, driver: { next: () => ({ speed: 0, turn: 0 }) } });
    expect(report.standstills_over_20s).toBeGreaterThan(0);
    expect(report.mean_speed_share).toBe(0);
  }, 120_000);
});

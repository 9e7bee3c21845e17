// Recordings of people who walk past a standing robot: 180 degrees, 512 rays, 10 Hz, 5.6 m (../shared/data/README.md). How many different
// people pass is counted by those who recorded them. Nothing of the recordings is copied here.
import { existsSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { MotionEstimator } from '../../src/perception/motion/motionEstimator.js';
import { MoverTracker } from '../../src/perception/movers/moverTracker.js';
import { toSweep } from '../support/sweeps.js';

const DATA = '../shared/data';
const sensor = { x: 0, y: 0, reach: [0.05, 5.6], noise: { constant: 0.01, growth: 0 } } as const;
const outline = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
] as const;

describe('people who walk past', () => {
  for (const name of ['people-1', 'people-2', 'people-6'])
    test(`${name}: as many movers reach confidence 0.5 as people were counted`, (context) => {
      const file = `${DATA}/${name}.ndjson.gz`;
      if (!existsSync(file)) {
        console.log(`skipped: ${file} is not here`);
        context.skip();
        return;
      }
      const counted = JSON.parse(readFileSync(`${DATA}/people-counts.json`, 'utf8'))[name];
      const motion = new MotionEstimator({ sensor });
      const tracker = new MoverTracker({ sensor, outline });
      const confident = new Set<number>();
      let number = 0;
      for (const line of gunzipSync(readFileSync(file)).toString('utf8').trim().split('\n')) {
        const result = motion.update(toSweep(JSON.parse(line), ++number, sensor.reach[0]));
        for (const mover of tracker.update(motion, result)) if (mover.confidence >= 0.5) confident.add(mover.id);
      }
      expect(confident.size).toBe(counted);
    });
});

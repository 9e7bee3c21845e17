// Any built-in layout at any usual rate, whatever the configuration says: recognised within 5 s of opening the port.
import { afterAll, describe, expect, test } from 'vitest';
import { builtInLayouts, findLayout } from '../../../src/device/layouts/builtIn.js';
import { probeLine } from '../../../src/device/probe.js';
import { fakeClock } from '../../support/fakeClock.js';
import { MisreadPort, MisreadSensor } from '../../support/misreadLine.js';

const RATES = [9600, 19200, 38400, 57600, 115200, 128000, 230400, 256000, 460800, 921600];
/** s, the longest that `check` waits by itself before it tries rates: a second of silence and a look or two. */
const BEFORE = 1.1;
let slowest = 0;
afterAll(() => console.log(`slowest recognition: ${slowest.toFixed(2)} s after opening`));

describe.each(builtInLayouts.map(({ name }) => name))('%s', (name) => {
  test.each(RATES)('at %d baud, waiting to be started and streaming already', async (baud) => {
    for (const isStreaming of [false, true]) {
      const clock = fakeClock();
      const began = clock.now();
      const sensor = new MisreadSensor(findLayout(name), baud, isStreaming);
      // configured as something else, the worst case: each rate is tried in turn
      const first = name === 'sample5' ? 230400 : 115200;
      const probing = probeLine((rate) => new MisreadPort(sensor, rate, clock), builtInLayouts, first, clock);
      let took = NaN;
      const done = probing.then((found) => {
        took = clock.now() - began;
        return found;
      });
      for (let i = 0; i < 800 && Number.isNaN(took); i++) await clock.advanceAsync(0.01);
      const found = await done;
      expect({ baud: found.baud, layout: found.recognition.layout }, `streaming: ${isStreaming}`).toEqual({
        baud,
        layout: name,
      });
      slowest = Math.max(slowest, took + BEFORE);
      expect(took + BEFORE).toBeLessThan(5);
    }
  });
});

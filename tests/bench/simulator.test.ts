// What the simulated rover costs at 8000 echoes/s, in the nursery with its people: share of one core.
import { cpus } from 'node:os';
import { expect, test } from 'vitest';
import { loadWorld } from '../../src/cli/simulation.js';
import { fakeClock } from '../support/fakeClock.js';
import { simulatedLine } from '../support/simulatedLine.js';

test('under 15 % of a core at 8000 echoes/s', async () => {
  const clock = fakeClock();
  let bytes = 0;
  const { port, simulation } = simulatedLine({ world: loadWorld('nursery'), baud: 460_800 }, clock);
  const bytesCame = (chunk: Readonly<Uint8Array>): void => {
    bytes += chunk.length;
  };
  await port.open({ bytes: bytesCame, closed: () => {} });
  await port.setLines({ dtr: false, rts: false });
  const written = port.write(Uint8Array.of(0xa5, 0x20));
  await clock.advanceAsync(0.01);
  await written;
  clock.advance(5); // warm up
  bytes = 0;
  const before = process.cpuUsage();
  const seconds = 30;
  clock.advance(seconds);
  const used = process.cpuUsage(before);
  const share = (used.user + used.system) / 1e6 / seconds;
  console.log(
    `${cpus()[0]?.model}, Node ${process.version}, seed 1, ${simulation.scene.names.length} things: ${(100 * share).toFixed(1)} % of a core at ${(bytes / 5 / seconds).toFixed(0)} echoes/s`,
  );
  expect(bytes / 5 / seconds).toBeGreaterThan(7900);
  expect(share).toBeLessThan(0.15);
  await port.close();
});

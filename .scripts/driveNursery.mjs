// `npm run --silent drive-nursery -- --seed N --minutes M [--world NAME] [--faults]`: the aisle example drives the simulated
// nursery without a screen, as fast as this machine allows. One JSON line on standard output; what a person wants to know
// beside it goes to standard error.
import { cpSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { bundle } from './bundle.mjs';

const ROOT = resolve(import.meta.dirname, '..');
let values;
try {
  ({ values } = parseArgs({
    options: {
      seed: { type: 'string', default: '1' },
      minutes: { type: 'string', default: '5' },
      world: { type: 'string', default: 'nursery' },
      faults: { type: 'boolean', default: false },
    },
  }));
} catch (error) {
  console.error(`drive-nursery: ${error.message}`);
  process.exit(2);
}
const seed = Number(values.seed);
const minutes = Number(values.minutes);
if (!Number.isInteger(seed) || seed < 0 || !(minutes > 0 && minutes <= 1440)) {
  console.error('drive-nursery: --seed is a whole number, --minutes more than 0 and at most 1440');
  process.exit(2);
}
const made = await bundle('tests/support/nurseryDrive.ts', 'drive/made');
cpSync(join(ROOT, 'src/simulator/worlds'), join(ROOT, 'dist/drive/simulator/worlds'), { recursive: true });
const { driveNursery } = await import(made);
const began = performance.now();
const { report, details } = await driveNursery({ seed, minutes, world: values.world, faults: values.faults }).catch(
  (error) => {
    if (error.name !== 'Fault') throw error; // a bug
    console.error(`drive-nursery: ${error.message} ${JSON.stringify(error.facts)}`);
    process.exit(1);
  },
);
console.log(JSON.stringify(report));
for (const { time, thing, speed } of details.contacts)
  console.error(`contact at ${time.toFixed(1)} s with ${thing}, ${speed.toFixed(2)} m/s`);
for (const { at, x, y } of details.standstills)
  console.error(`stood without cause until ${at.toFixed(0)} s at ${x.toFixed(2)}, ${y.toFixed(2)}`);
for (const [pane, { looks, gap }] of details.lies) {
  const share = (100 * looks) / details.looks;
  console.error(
    `no_return: clear lied about ${pane} for ${share.toFixed(2)} % of the time, with ${gap.toFixed(2)} m left at least`,
  );
}
if (values.faults) {
  const most = (key) => Math.max(0, ...details.faults.map((fault) => fault[key])).toFixed(3);
  console.error(
    `${details.faults.length} faults; from onset to standstill at most ${most('stopped')} m, to its end ${most('gone')} m`,
  );
}
console.error(`longest time within 10 cm, with or without a cause: ${details.longestStill.toFixed(1)} s`);
console.error(
  `free aisle ${(100 * details.freeShare).toFixed(0)} % of the time; ${((minutes * 60) / ((performance.now() - began) / 1000)).toFixed(0)} times real time`,
);

// Whatever a decoder can release, in whatever order: the assembler's sweeps go through perception without a throw, and nothing that
// comes out is anything but a number. LEEWAY_FUZZ_MB lengthens it.
import { expect, test } from 'vitest';
import { toProtoJson } from '../../src/messages/protoJson.js';
import { motionMessage, moversMessage, shapesMessage } from '../../src/messages/toMessage.js';
import { Perception } from '../../src/perception/perceive.js';
import { Assembler } from '../../src/sweep/assembler.js';
import { SAMPLE_KIND } from '../../src/sweep/echoBatch.js';
import { batchOf, perceptionSetting, type Sample } from '../support/clearanceRig.js';
import { seededRandom } from '../support/random.js';

const TAU = 2 * Math.PI;
const SWEEPS = process.env.LEEWAY_FUZZ_MB === undefined ? 400 : 100 * Number(process.env.LEEWAY_FUZZ_MB);
const NAN = /NaN|Infinity/;

test.each([1, 2, 3, 4, 5, 6])('seed %d', { timeout: 3_600_000 }, (seed) => {
  const random = seededRandom(seed);
  const pick = (...values: readonly number[]): number => values[Math.floor(random() * values.length)];
  const assembler = new Assembler();
  const perception = new Perception(perceptionSetting({ sensor: [random() * 0.4 - 0.2, random() * 0.2 - 0.1] }));
  let time = 1_767_225_600;
  let count = 0;
  for (let turn = 0; turn < SWEEPS; turn++) {
    const sense = seed % 2 === 0 ? 1 : -1;
    const samples = pick(1, 2, 3, 10, 90, 200, 400, 400, 800);
    const kind = pick(0, 1, 2, 3, 4);
    const echoes = pick(0, 0.02, 0.5, 0.98, 1);
    const plateaus = Array.from({ length: pick(1, 3, 17, 200) }, () => 0.1 + random() * pick(0.2, 3, 14));
    const column: Sample[] = [];
    for (let i = 0; i < samples; i++) {
      const loose = kind === 4 ? random() : i / samples; // any order at all
      const bearing = sense * (kind === 3 ? 0.5 : loose * TAU) + (kind === 2 ? 0.02 * (random() - 0.5) : 0);
      const isEcho = random() < echoes;
      const flat = plateaus[Math.floor((i / samples) * plateaus.length)];
      const range = kind === 1 ? flat : flat * (1 + 0.01 * (random() - 0.5));
      column.push({
        time: time + (i / samples) * 0.1,
        bearing,
        range: isEcho ? range : Infinity,
        kind: isEcho
          ? range < 0.15
            ? SAMPLE_KIND.tooNear
            : SAMPLE_KIND.echo
          : pick(SAMPLE_KIND.empty, SAMPLE_KIND.masked),
      });
    }
    time += pick(0.1, 0.1, 0.1, 0.25, 5);
    for (const sweep of assembler.push(batchOf(column, sense))) {
      const percept = perception.perceive(sweep);
      count++;
      expect(toProtoJson('Shapes', shapesMessage(percept))).not.toMatch(NAN);
      expect(toProtoJson('Movers', moversMessage(percept))).not.toMatch(NAN);
      expect(toProtoJson('Motion', motionMessage(percept))).not.toMatch(NAN);
    }
  }
  console.log(`seed ${seed}: ${count} sweeps`);
  expect(count).toBeGreaterThan(SWEEPS / 10);
});

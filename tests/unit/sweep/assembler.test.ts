// Revolutions from batches: by mark and by wrap, however the batches are cut.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TAU, wrapAngle } from '../../../src/core/angles.js';
import { Assembler } from '../../../src/sweep/assembler.js';
import type { EchoBatch } from '../../../src/sweep/echoBatch.js';
import type { Sweep } from '../../../src/sweep/sweep.js';

/** A beam of `samples` a revolution, 10 revolutions/s; `marks`: whether each revolution's first sample is marked. */
function stream(samples: number, revolutions: number, sense: 1 | -1, marks: boolean, phase: number): EchoBatch {
  const count = Math.round(samples * revolutions);
  const index = Array.from({ length: count }, (_, i) => i);
  return {
    count,
    time: Float64Array.from(index, (i) => i / (10 * samples)),
    bearing: Float32Array.from(index, (i) => wrapAngle(sense * ((i / samples) * TAU + phase))),
    range: Float32Array.from(index, (i) => 1 + (i % samples) / 1000),
    strength: Uint16Array.from(index, (i) => i % 64),
    kind: new Uint8Array(count),
    start: Uint8Array.from(index, (i) => (marks && i % samples === 0 ? 1 : 0)),
    sense,
  };
}

function cut(whole: EchoBatch, sizes: readonly number[]): EchoBatch[] {
  const parts: EchoBatch[] = [];
  for (let first = 0, turn = 0; first < whole.count; turn++) {
    const last = Math.min(whole.count, first + sizes[turn % sizes.length]);
    const { time, bearing, range, strength, kind, start, sense } = whole;
    parts.push({
      count: last - first,
      time: time.slice(first, last),
      bearing: bearing.slice(first, last),
      range: range.slice(first, last),
      strength: strength.slice(first, last),
      kind: kind.slice(first, last),
      start: start.slice(first, last),
      sense,
    });
    first = last;
  }
  return parts;
}

const assemble = (parts: readonly EchoBatch[]): Sweep[] => {
  const assembler = new Assembler();
  return parts.flatMap((part) => assembler.push(part));
};

describe('assembler', () => {
  test.each([
    { marks: true, sense: 1 as const },
    { marks: true, sense: -1 as const },
    { marks: false, sense: 1 as const },
    { marks: false, sense: -1 as const },
  ])('whole revolutions, marks $marks, sense $sense', ({ marks, sense }) => {
    const sweeps = assemble([stream(200, 5.5, sense, marks, 0.4)]);
    expect(sweeps.map(({ count }) => count)).toEqual([200, 200, 200, 200, 200]);
    expect(sweeps.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5]);
    for (const sweep of sweeps) {
      expect(sweep.period).toBeCloseTo(0.1, 6);
      expect(sweep.range[7]).toBeCloseTo(1.007, 5);
      expect(sweep.sense).toBe(sense);
    }
    expect(sweeps[2].firstTime).toBeCloseTo(0.2, 9);
  });

  test('cutting the batches elsewhere gives the same revolutions', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 8 }),
        fc.boolean(),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (sizes, marks, phase) => {
          const whole = stream(97, 4.3, 1, marks, phase);
          expect(assemble(cut(whole, sizes))).toEqual(assemble([whole]));
        },
      ),
    );
  });

  test('after a reset nothing of the broken revolution is left', () => {
    const assembler = new Assembler();
    const [first, second] = cut(stream(100, 3, 1, true, 0), [150, 150]);
    expect(assembler.push(first)).toHaveLength(1);
    assembler.reset();
    const after = assembler.push(second);
    expect(after).toHaveLength(0); // from the mark at 200 to the end: not whole yet
    expect(assembler.tally.droppedSamples).toBe(50 + 50);
  });
});

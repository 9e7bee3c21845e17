import { describe, expect, test } from 'vitest';
import { ArrivalClock } from '../../../src/device/arrivalClock.js';
import { Random } from '../../../src/simulator/random.js';

/**
 * A line of known truth: sample n is measured at `truth[n]`, its packet leaves at once (or after the one before) at the baud rate,
 * and reaches the host as `deliver` says. All errors are against `truth`.
 */
interface Line {
  readonly baud: number;
  readonly packetBytes: number;
  readonly samples: number;
  readonly truth: readonly number[];
  /** s: when the host gets the byte of packet `packet` that had come in at `time`; never earlier, in order. */
  deliver(time: number, packet: number): number;
  /** Packets whose bytes are lost: counted by the decoder, or known by it to be lost, or not noticed at all. */
  isLost?(packet: number): boolean;
  readonly restartAfterLoss?: boolean;
  readonly isUncounted?: boolean;
}

/** @returns rms and largest error (s) from `from` s on, and whether times were ordered and never later than arrival less transmission. */
function run(line: Line, from: number): { rms: number; most: number; isOrdered: boolean; isCausal: boolean } {
  const { baud, packetBytes, samples } = line;
  const clock = new ArrivalClock(baud, packetBytes, samples);
  const packetTime = (packetBytes * 10) / baud;
  let lineFree = 0;
  let received = 0;
  let counted = 0;
  let squares = 0;
  let n = 0;
  let most = 0;
  let last = -Infinity;
  let isOrdered = true;
  let isCausal = true;
  let chunk: { index: number[]; begin: number[]; truth: number[] } = { index: [], begin: [], truth: [] };
  let chunkAt = 0;
  const flush = (): void => {
    const { index, begin, truth } = chunk;
    if (index.length === 0) return;
    const arrival = { received, at: chunkAt, seenIndex: index[index.length - 1], seenBegin: begin[begin.length - 1] };
    const time = clock.stamp(arrival, Float64Array.from(index), Float64Array.from(begin), index.length);
    for (let i = 0; i < time.length; i++) {
      if (time[i] < last) isOrdered = false;
      last = time[i];
      if (time[i] > chunkAt - packetTime + 1e-9) isCausal = false;
      if (truth[i] < from) continue;
      const error = time[i] - truth[i];
      squares += error * error;
      n++;
      most = Math.max(most, Math.abs(error));
    }
    chunk = { index: [], begin: [], truth: [] };
  };
  const packets = Math.floor(line.truth.length / samples);
  for (let p = 0; p < packets; p++) {
    const begin = Math.max(lineFree, line.truth[(p + 1) * samples - 1]);
    lineFree = begin + packetTime;
    if (line.isLost?.(p)) {
      if (line.restartAfterLoss) {
        flush();
        clock.restart();
      } else if (!line.isUncounted) counted += samples;
      continue;
    }
    for (let byte = 1; byte <= packetBytes; byte++) {
      const at = line.deliver(begin + (byte * 10) / baud, p);
      if (at > chunkAt) {
        flush();
        chunkAt = at;
      }
      received++;
    }
    for (let k = 0; k < samples; k++) {
      chunk.index.push(counted++);
      chunk.begin.push(received - packetBytes);
      chunk.truth.push(line.truth[p * samples + k]);
    }
  }
  flush();
  return { rms: Math.sqrt(squares / n), most, isOrdered, isCausal };
}

const SEED = 20260;
const steady = (rate: number, seconds: number): number[] =>
  Array.from({ length: rate * seconds }, (_, n) => 1000 + n / rate);
/** Sample times of a rate that wobbles: phase = rate t + the integral of the wobble, closed form, inverted by Newton's method. */
function wobbling(rate: number, seconds: number, share: number, period: number): number[] {
  const omega = (2 * Math.PI) / period;
  return Array.from({ length: rate * seconds }, (_, n) => {
    let t = n / rate;
    for (let i = 0; i < 4; i++) {
      const phase = rate * (t + (share / omega) * (1 - Math.cos(omega * t)));
      t -= (phase - n) / (rate * (1 + share * Math.sin(omega * t)));
    }
    return 1000 + t;
  });
}
/** 5 ms uniform jitter of every chunk of 5 ms, in order. */
function jitter(): (time: number) => number {
  const random = new Random(SEED);
  let part = -1;
  let last = 0;
  return (time) => {
    const now = Math.ceil(time / 0.005);
    if (now !== part) {
      part = now;
      last = Math.max(last, now * 0.005 + 0.005 * random.uniform());
    }
    return last;
  };
}
/** Jitter of single packets, in order. */
function jitterEach(): (time: number, packet: number) => number {
  const random = new Random(SEED);
  let last = 0;
  let current = -1;
  let delay = 0;
  return (time, packet) => {
    if (packet !== current) {
      current = packet;
      delay = 0.005 * random.uniform();
    }
    last = Math.max(last, time + delay);
    return last;
  };
}
const batches = (time: number): number => Math.ceil(time / 0.016) * 0.016;
/** 16 ms batches, each up to 5 ms late, in order. */
function lateBatches(): (time: number) => number {
  const random = new Random(SEED);
  let batch = 0;
  let last = 0;
  return (time) => {
    const now = batches(time);
    if (now !== batch) {
      batch = now;
      last = Math.max(last, now + 0.005 * random.uniform());
    }
    return last;
  };
}
/** The host sleeps for 0.5 s every 3.1 s; all that came in meanwhile is read when it wakes. */
const stalls = (time: number): number => {
  const phase = time % 3.1;
  return phase < 0.5 ? time - phase + 0.5 : batches(time);
};
/** A hundred packets or so go missing every 3 s or so. */
const losses =
  (perSecond: number) =>
  (packet: number): boolean =>
    packet % (3 * perSecond) < 100;

const sample5 = { baud: 115200, packetBytes: 5, samples: 1 };
const packet12 = { baud: 230400, packetBytes: 47, samples: 12 };

describe(`times of samples on simulated lines of known truth, seed ${SEED}`, () => {
  // the first six are demanded to 1 ms; the bounds of the others are what this fit reaches, rounded up
  test.each<{ name: string; line: Line; rms: number }>([
    {
      name: 'sample5 2000/s, 5 ms jitter of each',
      line: { ...sample5, truth: steady(2000, 20), deliver: jitterEach() },
      rms: 1e-3,
    },
    {
      name: 'sample5 2300/s, 5 ms jitter of each',
      line: { ...sample5, truth: steady(2300, 20), deliver: jitterEach() },
      rms: 1e-3,
    },
    {
      name: 'sample5 2000/s, 5 ms jitter of chunks',
      line: { ...sample5, truth: steady(2000, 20), deliver: jitter() },
      rms: 1e-3,
    },
    {
      name: 'packet12 4487/s, 5 ms jitter of chunks',
      line: { ...packet12, truth: steady(4487, 20), deliver: jitter() },
      rms: 1e-3,
    },
    {
      name: 'sample5 2017/s, 16 ms batches',
      line: { ...sample5, truth: steady(2017, 20), deliver: batches },
      rms: 1e-3,
    },
    {
      name: 'packet12 4487/s, 16 ms batches',
      line: { ...packet12, truth: steady(4487, 20), deliver: batches },
      rms: 1e-3,
    },
    // 6 packets a batch exactly: the batches always fall into the same place of a packet
    {
      name: 'packet12 4500/s, 16 ms batches',
      line: { ...packet12, truth: steady(4500, 20), deliver: batches },
      rms: 1e-3,
    },
    {
      name: 'sample5 2017/s, late batches',
      line: { ...sample5, truth: steady(2017, 20), deliver: lateBatches() },
      rms: 1e-3,
    },
    {
      name: 'packet12 4487/s, late batches',
      line: { ...packet12, truth: steady(4487, 20), deliver: lateBatches() },
      rms: 1.5e-3,
    },
    {
      name: 'packet12, batches, wobble 1 % in 10 s',
      line: { ...packet12, truth: wobbling(4487, 30, 0.01, 10), deliver: batches },
      rms: 1e-3,
    },
    {
      name: 'packet12, batches, wobble 1 % in 1 s',
      line: { ...packet12, truth: wobbling(4487, 20, 0.01, 1), deliver: batches },
      rms: 2.5e-3,
    },
    {
      name: 'packet12, jitter, wobble 1 % in 10 s',
      line: { ...packet12, truth: wobbling(4487, 30, 0.01, 10), deliver: jitterEach() },
      rms: 1e-3,
    },
    {
      name: 'packet12, jitter, wobble 1 % in 1 s',
      line: { ...packet12, truth: wobbling(4487, 20, 0.01, 1), deliver: jitterEach() },
      rms: 2.5e-3,
    },
    {
      name: 'sample5, batches, losses that are counted',
      line: { ...sample5, truth: steady(2017, 20), deliver: batches, isLost: losses(2017) },
      rms: 1e-3,
    },
    {
      name: 'sample5, batches, losses that start it again',
      line: { ...sample5, truth: steady(2017, 20), deliver: batches, isLost: losses(2017), restartAfterLoss: true },
      rms: 1e-3,
    },
    {
      name: 'sample5, batches, losses nobody noticed',
      line: { ...sample5, truth: steady(2017, 20), deliver: batches, isLost: losses(2017), isUncounted: true },
      rms: 10e-3,
    },
    {
      name: 'sample5, host stalls of 500 ms',
      line: { ...sample5, truth: steady(2017, 20), deliver: stalls },
      rms: 1e-3,
    },
    {
      name: 'packet12, host stalls of 500 ms',
      line: { ...packet12, truth: steady(4487, 20), deliver: stalls },
      rms: 1e-3,
    },
  ])('$name', ({ name, line, rms }) => {
    const result = run(line, 1010);
    console.log(`${name}: rms ${(result.rms * 1e3).toFixed(3)} ms, most ${(result.most * 1e3).toFixed(3)} ms`);
    expect(result.isOrdered).toBe(true);
    expect(result.isCausal).toBe(true);
    expect(result.rms).toBeLessThanOrEqual(rms);
  });
});

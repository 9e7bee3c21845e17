import type { Layout } from './layout.js';

/**
 * Five bytes a sample with three check bits. Facts of hardware from memory; check them against the datasheet of the sensor in hand.
 *
 *     byte 0   strength (bits 2-7), not S (bit 1), S (bit 0): S is 1 on the first sample of a revolution
 *     byte 1   low 7 bits of the angle (bits 1-7), always 1 (bit 0)
 *     byte 2   high 8 bits of the angle, 1/64 degree
 *     byte 3-4 range, 1/4 mm
 */
export const sample5: Layout = {
  name: 'sample5',
  baud: 115200,
  samplesPerSecond: 2000,
  sense: 'clockwise',
  lines: { running: { dtr: false, rts: false }, stopped: { dtr: true, rts: false } },
  start: 'A5 20',
  stop: 'A5 25',
  answer: 'A5 5A 05 00 00 40 81',
  packet: {
    bytes: 5,
    fixed: [
      { offset: 0, width: 2, values: [0b01, 0b10] },
      { offset: 8, width: 1, values: [1] },
    ],
    samples: { count: 1, first: 0, stride: 5 },
    angle: { kind: 'each', field: { offset: 9, width: 15, per: 360 * 64 } },
    range: { offset: 24, width: 16, per: 4000 },
    strength: { offset: 2, width: 6, per: 1 },
    startMark: { offset: 0, width: 1 },
  },
};

import type { Layout } from './layout.js';

/**
 * Counted samples with a check of sixteen bits. Facts of hardware from memory; check them against the datasheet of the sensor in hand.
 *
 *     byte 0-1  AA 55
 *     byte 2    bit 0: 1 on the packet that begins a revolution, which holds one sample
 *     byte 3    samples in this packet
 *     byte 4-5  first angle, 1/64 degree (bits 1-15), always 1 (bit 0)
 *     byte 6-7  last angle, the same
 *     byte 8-9  exclusive or of all 16-bit words but itself
 *     byte 10.. ranges, 1/4 mm
 *
 * Sensors of this kind triangulate: the angles hold for the lens, and the bearing of an echo depends on its range.
 */
export const packetN: Layout = {
  name: 'packetN',
  baud: 128000,
  samplesPerSecond: 5000,
  sense: 'clockwise',
  start: 'A5 60',
  stop: 'A5 65',
  answer: 'A5 5A 05 00 00 40 81',
  packet: {
    bytes: 10,
    fixed: [
      { offset: 0, width: 8, values: [0xaa] },
      { offset: 8, width: 8, values: [0x55] },
      { offset: 32, width: 1, values: [1] },
      { offset: 48, width: 1, values: [1] },
    ],
    check: { kind: 'xor16', first: 0, field: { offset: 64, width: 16 } },
    samples: { count: { offset: 24, width: 8, least: 1, most: 255, usual: 40 }, first: 10, stride: 2 },
    angle: {
      kind: 'ends',
      first: { offset: 33, width: 15, per: 360 * 64 },
      last: { offset: 49, width: 15, per: 360 * 64 },
    },
    range: { offset: 0, width: 16, per: 4000 },
    startMark: { offset: 16, width: 1, isAlone: true },
  },
  triangulation: { offset: 0.0218, at: 0.1553, isDone: false, empty: 'beam' },
  options: {
    bearings_corrected: {
      why: 'whether the sensor has corrected the bearings for triangulation already',
      sets: ['triangulation.isDone'],
      preset: false,
      values: [false, true],
      isSeenOnWall: true,
    },
    beam_offset_m: {
      why: 'how far beside the axis the beam leaves',
      sets: ['triangulation.offset'],
      preset: 0.0218,
      least: -0.1,
      most: 0.1,
    },
    beam_meets_m: {
      why: 'the range at which beam and angle agree',
      sets: ['triangulation.at'],
      preset: 0.1553,
      least: 0.01,
      most: 100,
    },
    empty_bearing: {
      why: 'bearing of a sample without echo: where the beam looks, or the angle as it came',
      sets: ['triangulation.empty'],
      preset: 'beam',
      values: ['beam', 'angle'],
    },
  },
};

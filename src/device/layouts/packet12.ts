import type { Layout } from './layout.js';

/**
 * Twelve samples a packet with a CRC-8; sends by itself. Facts of hardware from memory; check them against the datasheet of the sensor in hand.
 *
 *     byte 0-1   54 2C
 *     byte 2-3   speed, degrees a second
 *     byte 4-5   first angle, 1/100 degree
 *     byte 6-41  12 x (range u16 mm, strength u8)
 *     byte 42-43 last angle, 1/100 degree
 *     byte 44-45 time, ms, wraps at 30000
 *     byte 46    CRC-8 of the bytes before, polynomial 0x4D, initial 0
 */
export const packet12: Layout = {
  name: 'packet12',
  baud: 230400,
  samplesPerSecond: 4500,
  sense: 'clockwise',
  packet: {
    bytes: 47,
    fixed: [
      { offset: 0, width: 8, values: [0x54] },
      { offset: 8, width: 8, values: [0x2c] },
    ],
    check: { kind: 'crc8', polynomial: 0x4d, initial: 0, first: 0, last: 46, field: { offset: 46 * 8, width: 8 } },
    samples: { count: 12, first: 6, stride: 3 },
    angle: {
      kind: 'ends',
      first: { offset: 4 * 8, width: 16, per: 36000 },
      last: { offset: 42 * 8, width: 16, per: 36000 },
    },
    range: { offset: 0, width: 16, per: 1000 },
    strength: { offset: 16, width: 8, per: 1 },
    speed: { offset: 2 * 8, width: 16, per: 360 },
    time: { offset: 44 * 8, width: 16, per: 1000, wraps: 30000 },
  },
};

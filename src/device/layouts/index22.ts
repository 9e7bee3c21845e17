import type { Layout } from './layout.js';

/**
 * Four samples a packet, one degree each; sends by itself. Facts of hardware from memory; check them against the datasheet of the sensor in hand.
 *
 *     byte 0     FA
 *     byte 1     A0 to F9: packet 0 to 89 of the revolution
 *     byte 2-3   speed, 1/64 turn a minute
 *     byte 4-19  4 x (u16 with range in mm (bits 0-13), weak echo (bit 14), invalid (bit 15); strength u16)
 *     byte 20-21 check over the ten words before
 *
 * The motor has no speed control of its own: the host holds it near 5 turns a second, or a board does.
 */
export const index22: Layout = {
  name: 'index22',
  baud: 115200,
  samplesPerSecond: 1800,
  sense: 'counterclockwise',
  packet: {
    bytes: 22,
    fixed: [
      { offset: 0, width: 8, values: [0xfa] },
      { offset: 8, width: 8, least: 0xa0, most: 0xf9 },
    ],
    check: { kind: 'folded15', first: 0, last: 20, field: { offset: 160, width: 16 } },
    samples: { count: 4, first: 4, stride: 4 },
    angle: { kind: 'index', field: { offset: 8, width: 8, per: 90 }, zero: 0xa0 },
    range: { offset: 0, width: 14, per: 1000 },
    strength: { offset: 16, width: 16, per: 1 },
    noEcho: { offset: 15, width: 1 },
    weak: { bits: { offset: 14, width: 1 }, isEcho: true },
    speed: { offset: 16, width: 16, per: 64 * 60 },
  },
  options: {
    sense: {
      why: 'which way its angles run; a box to the left (check --aim) tells',
      sets: ['sense'],
      preset: 'counterclockwise',
      values: ['counterclockwise', 'clockwise'],
    },
    weak_is_echo: {
      why: 'whether an echo that the sensor marks as weak is believed',
      sets: ['packet.weak.isEcho'],
      preset: true,
      values: [true, false],
    },
  },
};

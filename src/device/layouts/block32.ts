import type { Field, Layout } from './layout.js';

/** Of a sample that shares its five bytes with another: `k` 0 or 1. */
const range = (k: number): Field => ({ offset: 16 * k + 2, width: 14, per: 1000 });
const correction = (k: number): Field => ({
  offset: 32 + 4 * k,
  width: 4,
  more: { offset: 16 * k, width: 2 },
  per: 360 * 8,
  signed: false,
});

/**
 * Thirty-two samples a packet with a check of eight bits. Facts of hardware from memory; check them against the datasheet of the sensor in hand.
 *
 *     byte 0    low half: low half of the check; high half: A
 *     byte 1    low half: high half of the check; high half: 5. The check is the exclusive or of bytes 2 to 83
 *     byte 2-3  first angle, 1/64 degree (bits 0-14), first packet after a start (bit 15)
 *     byte 4-83 16 x 5 bytes: u16 with range of one sample in mm (bits 2-15) and the upper bits of its correction (bits 0-1),
 *               u16 the same of the next sample, u8 with the lower four bits of both corrections. Corrections in 1/8 degree
 *
 * The angles of a packet lead up to the first angle of the next one, less the corrections.
 */
export const block32: Layout = {
  name: 'block32',
  baud: 115200,
  otherBauds: [256000],
  samplesPerSecond: 4300,
  sense: 'clockwise',
  lines: { running: { dtr: false, rts: false }, stopped: { dtr: true, rts: false } },
  start: 'A5 82 05 00 00 00 00 00 22',
  stop: 'A5 25',
  answer: 'A5 5A 54 00 00 40 82',
  packet: {
    bytes: 84,
    fixed: [
      { offset: 4, width: 4, values: [0xa] },
      { offset: 12, width: 4, values: [0x5] },
    ],
    check: { kind: 'xor8', first: 2, last: 84, field: { offset: 0, width: 4, more: { offset: 8, width: 4 } } },
    samples: { count: 32, first: 4, stride: 5 },
    angle: { kind: 'next', first: { offset: 16, width: 15, per: 360 * 64 } },
    range: [range(0), range(1)],
    correction: [correction(0), correction(1)],
    freshMark: { offset: 31, width: 1 },
  },
  options: {
    correction_signed: {
      why: "whether the angle corrections are two's complement; sensors differ",
      sets: ['packet.correction.0.signed', 'packet.correction.1.signed'],
      preset: false,
      values: [false, true],
      isSeenOnWall: true,
    },
  },
};

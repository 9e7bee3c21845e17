import { describe, expect, test } from 'vitest';
import { builtInLayouts, findLayout } from '../../../src/device/layouts/builtIn.js';
import { type Layout, usualPacket } from '../../../src/device/layouts/layout.js';
import { likelyBauds, recognise } from '../../../src/device/recognise.js';
import { Random } from '../../../src/simulator/random.js';
import { handStanding, handStream, LAYOUT_NAMES } from '../../support/handStreams.js';
import { readAt } from '../../support/uart.js';
import { damage, recordedRows, soundStream } from '../../support/wire.js';

const RATES = [9600, 19200, 38400, 57600, 115200, 128000, 230400, 256000, 460800, 921600];
const SEED = 3;
const look = (bytes: Iterable<number>) => recognise(Uint8Array.from(bytes), builtInLayouts);
const room = recordedRows('worlds/room400.ndjson.gz').rows;
/** @returns so many seconds of a sensor that was streaming before: the first packet is cut. */
const streaming = (layout: Layout, baud: number, seconds: number): Uint8Array => {
  const bytes = soundStream(room, layout, (seconds * baud) / 10 + 100);
  return bytes.subarray(7, 7 + (seconds * baud) / 10);
};

describe.each(builtInLayouts)('$name', (layout) => {
  test('is recognised from 0.3 s, already streaming, and nothing else fits', () => {
    for (const seconds of [0.3, 1, 2]) {
      const {
        verdict,
        layout: name,
        confidence,
        evidence,
      } = recognise(streaming(layout, layout.baud, seconds), builtInLayouts);
      expect([verdict, name]).toEqual(['layout', layout.name]);
      expect(confidence).toBeGreaterThan(0.9);
      expect(evidence.fits.filter(({ share }) => share > 0.01)).toHaveLength(1);
    }
  });

  test('read at any other usual rate it is noise that is likely at a wrong rate; at its own it is recognised', () => {
    const bauds = [layout.baud, ...(layout.otherBauds ?? [])];
    let worst = 0;
    for (const sent of bauds) {
      for (const read of RATES) {
        for (const onError of ['zero', 'drop', 'keep'] as const) {
          // never less than 1 s at the lowest rate: a check listens that long at each of the likely rates within 5 s
          for (const idle of [0, 0.0002]) {
            const got = readAt(streaming(layout, sent, 1), { sent, read, onError, idle });
            const { verdict, layout: name, evidence } = recognise(got, builtInLayouts);
            const what = `${sent} read at ${read}, errors ${onError}, idle ${idle}, ${got.length} bytes`;
            if (sent === read) expect([what, verdict, name]).toEqual([what, 'layout', layout.name]);
            else {
              expect([what, verdict, evidence.isWrongBaudLikely]).toEqual([what, 'noise', true]);
              worst = Math.max(worst, evidence.fits[0].share);
            }
          }
        }
      }
    }
    console.log(`${layout.name}: at a wrong rate at most ${(100 * worst).toFixed(2)} % of the bytes fit any layout`);
    expect(worst).toBeLessThan(0.05);
  });

  test('is recognised on a line that damages a byte in each 200', () => {
    const { bytes } = damage(streaming(layout, layout.baud, 1), 'flip', SEED, 200);
    const { verdict, layout: name } = recognise(bytes, builtInLayouts);
    expect([verdict, name]).toEqual(['layout', layout.name]);
  });

  test('the rates to listen at hold its own', () => {
    expect(likelyBauds(builtInLayouts)).toEqual(expect.arrayContaining([layout.baud, ...(layout.otherBauds ?? [])]));
  });
});

test.each(LAYOUT_NAMES)('%s of a motor that stands: recognised, and told', (name) => {
  const packets = Math.ceil(2000 / usualPacket(findLayout(name)).bytes);
  const { verdict, layout, evidence } = look(handStanding(name, packets));
  expect([verdict, layout, evidence.fits[0].isStalled]).toEqual(['layout', name, true]);
});

test.each(LAYOUT_NAMES)('%s after a text of the sensor: recognised', (name) => {
  const bytes = [...Buffer.from('starting, firmware 1.29, hardware 3\r\n'.repeat(5)), ...handStream(name, 30, 360)];
  expect(look(bytes)).toMatchObject({ verdict: 'layout', layout: name });
});

describe('what is none', () => {
  const noise = new Random(SEED);
  test('silence', () => {
    expect(look([])).toMatchObject({ verdict: 'silence', confidence: 1 });
    expect(look([0, 0, 0])).toMatchObject({ verdict: 'silence' });
  });
  test('an answer and nothing after it: silence, but of a sensor at the right rate', () => {
    const { verdict, evidence } = look([0xa5, 0x5a, 0x54, 0x00, 0x00, 0x40, 0x82]);
    expect(verdict).toBe('silence');
    expect(evidence.fits.filter(({ hasAnswered }) => hasAnswered).map(({ layout }) => layout)).toEqual(['block32']);
  });
  test.each([300, 1000, 20_000])('%i random bytes: noise, not a wrong rate', (n) => {
    for (let i = 0; i < 20; i++) {
      const { verdict, evidence } = look(Array.from({ length: n }, () => Math.floor(noise.uniform() * 256)));
      expect([verdict, evidence.isWrongBaudLikely]).toEqual(['noise', false]);
    }
  });
  test.each([0x00, 0xff, 0x55, 0xaa])('a line that sends %i only: noise', (value) => {
    expect(look(new Array<number>(5000).fill(value))).toMatchObject({ verdict: value === 0x55 ? 'text' : 'noise' });
  });
  const console_ =
    '[    1.204711] usbcore: registered new interface driver\r\n\x1b[32mlogin:\x1b[0m \r\nPassword:\t\r\nWelcome. Last login: today\r\n';
  test('a text console: text; at a wrong rate: noise that is likely at a wrong rate', () => {
    const bytes = Buffer.from(console_.repeat(20));
    expect(look(bytes)).toMatchObject({ verdict: 'text' });
    for (const read of RATES.filter((rate) => rate !== 115200)) {
      const { verdict, evidence } = look(readAt(bytes, { sent: 115200, read, onError: 'zero', idle: 0.0001 }));
      expect([read, verdict, evidence.isWrongBaudLikely]).toEqual([read, 'noise', true]);
    }
  });
});

test('the line itself: read at its own rate nothing changes, whatever is between the bytes', () => {
  const bytes = Uint8Array.from({ length: 256 }, (_, i) => i);
  for (const idle of [0, 0.00013]) {
    const read = readAt(bytes, { sent: 115200, read: 115200, onError: 'drop', idle });
    // without a pause the first edge may be any: the first start bit falls before the line was looked at
    expect([...read.subarray(-200)]).toEqual([...bytes.subarray(-200)]);
  }
  // twice as fast: 0xff after its start bit is one byte 0b1111_1110 and no more
  expect([...readAt(Uint8Array.of(0xff), { sent: 9600, read: 19200, onError: 'zero', idle: 0.01 })]).toEqual([]);
});

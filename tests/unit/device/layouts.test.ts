import { describe, expect, test } from 'vitest';
import { Fault } from '../../../src/core/fault.js';
import { Decoder } from '../../../src/device/decoder.js';
import { builtInLayouts, findLayout } from '../../../src/device/layouts/builtIn.js';
import { hexBytes, type Layout, usualPacket } from '../../../src/device/layouts/layout.js';
import { handSample5 } from '../../support/handEncoder.js';

describe.each(builtInLayouts)('$name', (layout) => {
  test('is plain data: JSON there and back changes nothing', () => {
    expect(JSON.parse(JSON.stringify(layout))).toEqual(layout);
    expect(() => new Decoder(JSON.parse(JSON.stringify(layout)) as Layout)).not.toThrow();
  });
  test('its line carries what it sends', () => {
    const { bytes, samples } = usualPacket(layout);
    expect((layout.samplesPerSecond / samples) * bytes * 10).toBeLessThanOrEqual(layout.baud);
  });
});

test('an unknown name is a fault that lists the known ones', () => {
  let fault: unknown;
  try {
    findLayout('sample6');
  } catch (error) {
    fault = error;
  }
  expect(fault).toBeInstanceOf(Fault);
  expect(fault).toMatchObject({
    code: 'LAYOUT_NOT_FOUND',
    facts: { layout: 'sample6', known: 'block32, index22, packet12, packetN, sample5' },
  });
});

test('a command is hexadecimal bytes', () => {
  expect([...hexBytes('A5 20')]).toEqual([0xa5, 0x20]);
  expect([...hexBytes('')]).toEqual([]);
  expect(() => hexBytes('A5 2')).toThrow(RangeError);
  expect(() => hexBytes('start')).toThrow(RangeError);
});

test('a layout that contradicts itself is refused', () => {
  const { packet, ...rest } = findLayout('sample5');
  const broken =
    (change: Partial<Layout['packet']>): (() => Decoder) =>
    () =>
      new Decoder({ ...rest, packet: { ...packet, ...change } });
  expect(broken({ bytes: 4 })).toThrow(RangeError);
  expect(broken({ samples: { count: 2, first: 0, stride: 5 } })).toThrow(RangeError);
  expect(broken({ range: { offset: 24, width: 17, per: 4000 } })).toThrow(RangeError);
  expect(broken({ range: { offset: 25, width: 16, per: 4000 } })).toThrow(RangeError);
});

test('a flag for no echo and a signed field are read as declared', () => {
  // sample5 with the top bit of the strength as flag, and a range in two's complement: 0x8000 = -32768/4000 m
  const { packet, ...rest } = findLayout('sample5');
  const changed: Layout = {
    ...rest,
    packet: { ...packet, range: { offset: 24, width: 16, per: 4000, signed: true }, noEcho: { offset: 7, width: 1 } },
  };
  const bytes = Array.from({ length: 20 }, (_, i) => {
    const sample = handSample5(10 + i, 8.192, i === 5 ? 32 : 1, false); // 8.192 m = 32768/4 mm = 0x8000
    return sample;
  }).flat();
  const found = new Decoder(changed).push(Uint8Array.from(bytes));
  expect(found.count).toBe(16);
  expect([...found.range.subarray(0, 16)]).toEqual(
    Array.from({ length: 16 }, (_, i) => (i === 3 ? 0 : Math.fround(-8.192))),
  );
});
